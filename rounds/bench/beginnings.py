"""Animals of one lot that began their stage at different times: nobody knows one from another, so
that those that began it first are taken to end it first, and those that die or are moved evenly."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rounds.bench.state import Begun, Lot
from rounds.grouping import summed


def beginnings(lot: Lot) -> tuple[Begun, ...]:
    """So many of a lot as began their stage together, those that began it first in front."""
    return lot.began or (Begun(lot.number, lot.begun_after, lot.since, lot.latest),)


def brought_together(lot: Lot, more: Lot) -> tuple[Begun, ...]:
    """The beginnings of two lots that become one."""
    numbers = summed(
        ((one.after, one.since, one.latest), one.number)
        for one in (*beginnings(lot), *beginnings(more))
    )
    found = [Begun(number, *key) for key, number in numbers.items()]
    return tuple(sorted(found, key=_order)) if len(found) > 1 else ()


def _order(one: Begun) -> tuple[bool, float, float]:
    known = [at.timestamp() for at in (one.since, one.latest) if at is not None]
    return bool(known), min(known, default=0.0), max(known, default=0.0)


def first_of(lot: Lot, number: int) -> list[Begun]:
    """So many of a lot, those that began their stage first."""
    found = []
    for one in beginnings(lot):
        share = min(one.number, number)
        number -= share
        if share > 0:
            found.append(Begun(share, one.after, one.since, one.latest))
    return found


def any_of(lot: Lot, number: int) -> list[Begun]:
    """So many of a lot, nobody knows which: of each beginning by its number, the larger remainders
    and then the younger first."""
    known = beginnings(lot)
    parts = even_parts([one.number for one in known], number)
    return [
        Begun(share, one.after, one.since, one.latest)
        for one, share in zip(known, parts, strict=True)
        if share
    ]


def even_parts(numbers: Sequence[int], number: int) -> list[int]:
    """So many out of several groups by their size, the larger remainders and then the later groups
    first."""
    total = sum(numbers)
    number = min(number, total)
    parts = [one * number // total for one in numbers] if total else []
    remainders = [one * number % total for one in numbers] if total else []
    places = sorted(range(len(numbers)), key=lambda place: (remainders[place], place), reverse=True)
    for position in places[: number - sum(parts)]:
        parts[position] += 1
    return parts


def without(lot: Lot, gone: Iterable[Begun]) -> list[Begun]:
    """The beginnings of those that stay."""
    left = {(one.after, one.since, one.latest): one.number for one in beginnings(lot)}
    for one in gone:
        left[one.after, one.since, one.latest] -= one.number
    return [Begun(number, *key) for key, number in left.items() if number > 0]


def begin(lot: Lot, found: Sequence[Begun]) -> None:
    """Set when the animals of a lot began their stage."""
    if not found:
        return
    afters = [one.after for one in found]
    known = [after for after in afters if after is not None]
    lot.begun_after = min(known) if len(known) == len(afters) else None
    lot.since = min((one.since for one in found if one.since), default=None)
    lot.latest = max((one.latest for one in found if one.latest), default=None)
    lot.began = tuple(found) if len(found) > 1 else ()
