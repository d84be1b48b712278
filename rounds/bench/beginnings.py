"""Animals of one lot that began their stage at different times: nobody knows one from another, so
that those that began it first are taken to end it first, and those that die or are moved evenly."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from rounds.bench.codes import OR
from rounds.bench.state import BegunTogether, Lot
from rounds.grouping import summed


def beginnings(lot: Lot) -> tuple[BegunTogether, ...]:
    """So many of a lot as began their stage together, those that began it first in front."""
    return lot.began or (BegunTogether(lot.number, lot.begun_after, lot.since, lot.latest),)


def brought_together(lot: Lot, more: Lot) -> tuple[BegunTogether, ...]:
    """The beginnings of two lots that become one."""
    return _kept(_joined([*beginnings(lot), *beginnings(more)]))


def _joined(several: Iterable[BegunTogether]) -> list[BegunTogether]:
    """Those that began together as one, the first in front."""
    numbers = summed((replace(one, number=0), one.number) for one in several)
    return sorted((replace(one, number=number) for one, number in numbers.items()), key=_order)


def _kept(found: Sequence[BegunTogether]) -> tuple[BegunTogether, ...]:
    """What a lot keeps of its beginnings beside its own hours: nothing where these say it all."""
    return tuple(found) if len(found) > 1 or any(one.brood for one in found) else ()


def _order(one: BegunTogether) -> tuple[bool, float, float]:
    known = [at.timestamp() for at in (one.since, one.latest) if at is not None]
    return bool(known), min(known, default=0.0), max(known, default=0.0)


def first_of(lot: Lot, number: int, brood: str = "") -> list[BegunTogether]:
    """So many of a lot, those that began their stage first; of those that nobody could tell apart
    first the ones that were known as of a brood."""
    found = []
    for one in sorted(beginnings(lot), key=lambda one: bool(brood) and one.brood != brood):
        share = min(one.number, number)
        number -= share
        if share > 0:
            found.append(replace(one, number=share))
    return found


def known_as(lot: Lot, brood: str, number: int) -> None:
    """So many of those that nobody could tell apart are of a brood after all: where fewer of them
    are left that were known as such, those that went were others."""
    own = [one for one in lot.began if one.brood == brood]
    others = [one for one in lot.began if one.brood not in ("", brood)]
    parts = even_parts([one.number for one in others], number - sum(one.number for one in own))
    if own and sum(parts) > 0:
        stay = [one for one in lot.began if one.brood in ("", brood)]
        stay += [
            replace(one, number=one.number - part)
            for one, part in zip(others, parts, strict=True)
            if part < one.number
        ]
        begin(lot, _joined([*stay, replace(own[-1], number=sum(parts))]))


def renamed(lot: Lot, former: str) -> None:
    """Animals of a lot that went by another brood: once nobody can tell them from others it is
    remembered which, and no more once they are told apart."""
    known = "" if OR in former else former
    begin(
        lot,
        _joined(
            replace(one, brood=(one.brood or known) if OR in lot.brood else "")
            for one in beginnings(lot)
        ),
    )


def any_of(lot: Lot, number: int) -> list[BegunTogether]:
    """So many of a lot, nobody knows which: of each beginning by its number, the larger remainders
    and then the younger first."""
    known = beginnings(lot)
    parts = even_parts([one.number for one in known], number)
    return [replace(one, number=share) for one, share in zip(known, parts, strict=True) if share]


def even_parts(numbers: Sequence[int], number: int) -> list[int]:
    """So many out of several groups by their size, the larger remainders and then the later groups
    first."""
    total = sum(numbers)
    number = max(0, min(number, total))
    parts = [one * number // total for one in numbers] if total else []
    remainders = [one * number % total for one in numbers] if total else []
    places = sorted(range(len(numbers)), key=lambda place: (remainders[place], place), reverse=True)
    for position in places[: number - sum(parts)]:
        parts[position] += 1
    return parts


def without(lot: Lot, gone: Iterable[BegunTogether]) -> list[BegunTogether]:
    """The beginnings of those that stay."""
    left = {replace(one, number=0): one.number for one in beginnings(lot)}
    for one in gone:
        left[replace(one, number=0)] -= one.number
    return [replace(one, number=number) for one, number in left.items() if number > 0]


def begin(lot: Lot, found: Sequence[BegunTogether]) -> None:
    """Set when the animals of a lot began their stage."""
    if not found:
        return
    afters = [one.after for one in found]
    known = [after for after in afters if after is not None]
    lot.begun_after = min(known) if len(known) == len(afters) else None
    lot.since = min((one.since for one in found if one.since), default=None)
    lot.latest = max((one.latest for one in found if one.latest), default=None)
    lot.began = _kept(found)
