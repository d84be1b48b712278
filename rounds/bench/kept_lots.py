"""Lots of kept stems: how each is named in the book, and which of them a keeper means by digits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from rounds import late
from rounds.bench.state import Bench, Container, Host, KeptLot, Lot

if TYPE_CHECKING:
    from rounds.entries.hosts import HostOut

ALL = "all"
KEPT = "kept"  # the kept stems, said without a number; 'kept violet' are those of one plant
MAX_AT_ONCE = 100
_RANGE = late.pattern(r"^(\d{1,3})[-\u2013](\d{1,3})$")
KEPT_WORDS = ("old", "kept", "held")
_STEMS = ("stem", "stems", "sprig", "sprigs", "cutting", "cuttings", "shoot", "shoots")
_ARTICLES = ("the", "her", "its", "their", "all")
# A search belongs to the stems that come out, or came out, this near to it; our estimate.
SAME_STOP = timedelta(minutes=30)


def kept_lots(bench: Bench) -> Iterator[tuple[Container, KeptLot]]:
    """Every kept lot on the bench, with the container that it is in."""
    for container in bench.containers.values():
        for held in container.held:
            yield container, held


def new_name(bench: Bench, source: str, batch: str, taken_out: datetime) -> str:
    """A name that no kept lot has: where the stems stood, their batch, and when they came out, by
    the keeper's clock."""
    return unused(
        bench, " ".join(part for part in (source, batch, f"{taken_out:%m-%d %H:%M}") if part)
    )


def unused(bench: Bench, name: str) -> str:
    """That name, or with a number behind it if a kept lot has it already."""
    known = {held.lot for _, held in kept_lots(bench)}
    number, text = 2, name
    while text in known:
        text, number = f"{name} ({number})", number + 1
    return text


def named(
    bench: Bench, container: Container, names: Sequence[str]
) -> list[tuple[Container, KeptLot]]:
    """The kept lots of those names, each with where it is: in this container first, else wherever
    it was moved to."""
    found = []
    for name in dict.fromkeys(names):
        here = next(((container, held) for held in container.held if held.lot == name), None)
        there = here or next((lot for lot in kept_lots(bench) if lot[1].lot == name), None)
        if there:
            found.append(there)
    return found


def keep(container: Container, held: KeptLot) -> None:
    """Put a lot into a container, under the next number there; lots stand by when they were taken
    out."""
    held.number = container.lots_numbered = next_number(container)
    container.held.append(held)
    container.held.sort(key=lambda lot: (lot.taken_out, lot.lot))


def next_number(container: Container) -> int:
    """The number of the next lot that comes to be kept in a container."""
    return container.lots_numbered + 1 if container.held else 1


def names_meant(container: Container, said: Sequence[str]) -> tuple[str, ...]:
    """The names of the lots meant by digits, names or 'all'; what fits none stays as it was
    typed."""
    if container.held and any(one.casefold() == ALL for one in said):
        return tuple(held.lot for held in container.held)
    numbered = {str(held.number): held.lot for held in container.held}
    return tuple(numbered.get(number, number) for word in said for number in _numbers(word))


def kept_by_words(text: str, plants: Iterable[str] = ()) -> str:
    """Kept stems in a keeper's own words, as a lot is named: ``kept`` for ``the old stems``, ``kept
    gorse`` for ``old gorse`` where that is one of the plants; empty where none are meant."""
    words = text.casefold().rstrip(",.").split()
    if words and words[0] in _ARTICLES:
        del words[0]
    if words and words[-1] == "of":  # 'old stems of lot 2'
        del words[-1]
    if len(words) < 2 or words[0] not in KEPT_WORDS:
        return ""
    rest = " ".join(words[1:])
    if rest in _STEMS:
        return KEPT
    plant = next((one for one in plants if one.casefold() == rest.removesuffix(" stems")), "")
    return f"{KEPT} {plant}" if plant else ""


def called_kept(
    bench: Bench, container: Container, names: Sequence[str]
) -> tuple[Container, list[KeptLot]] | None:
    """The lots that are meant by ``kept`` or ``kept PLANT``: those kept in a container, else those
    that came out of it, where they are all kept in one place.

    Returns:
        Where they are, and which; None where lots were named otherwise.
    """
    first, _, plant = names[0].partition(" ") if len(names) == 1 else ("", "", "")
    if first != KEPT:
        return None
    lots = [held for held in container.held if plant in ("", held.plant)]
    if lots:
        return container, lots
    elsewhere = [
        (keeper, held)
        for keeper, held in kept_lots(bench)
        if held.source == container.code and plant in ("", held.plant)
    ]
    keeper = elsewhere[0][0] if len({keeper.code for keeper, _ in elsewhere}) == 1 else container
    return keeper, [held for place, held in elsewhere if place is keeper]


def _numbers(word: str) -> list[str]:
    """The numbers of a range as ``1-3``; any other word stays as it is."""
    span = _RANGE.match(word)
    first, last = map(int, span.groups()) if span else (1, 0)
    return (
        [str(number) for number in range(first, last + 1)]
        if first <= last <= first + MAX_AT_ONCE
        else [word]
    )


def fits(one: Host | KeptLot, plant: str, batch: str) -> bool:
    """Whether a plant or lot is of that plant and batch, as far as they are said."""
    return batch in ("", one.batch) and plant in ("", one.plant)


def either(container: Container, plant: str, batch: str, fate: str, held_in: str) -> str:
    """What to ask if a line may mean the plant that stands here or the stems that are kept here;
    empty if it is plain."""
    standing = [host for host in container.hosts if fits(host, plant, batch)]
    lots = [held for held in container.held if fits(held, plant, batch)]
    stays = fate not in ("binned", "hatched") and held_in in ("", container.code)
    if not standing or not lots or batch or stays or (plant and not standing[0].batch):
        return ""
    there = ", ".join(f"{host.plant} {host.batch}".strip() for host in standing)
    how = f"to {held_in}" if held_in else fate
    first = f"{standing[0].plant} {standing[0].batch}".strip()
    out = f"kept_in={held_in}" if held_in else fate
    return (
        f"{container.code} has {there} standing in it and kept stems; say which: "
        f"{container.code} host out {first} {out}, or {container.code} kept stems {how}"
    )


def lots_that_go(bench: Bench, entry: HostOut) -> str:
    """Which kept lots a line is about, by the number that they have from then on, plant and stems,
    and which eggs stay behind."""
    container = bench.at(entry.container)
    if container is None:
        return ""
    there = named(bench, container, entry.lots) if entry.lots else []
    keeper = bench.at(entry.held_in) if entry.held_in not in ("", container.code) else None
    numbers = [held.number for _, held in there]
    if keeper is not None:
        numbers = [next_number(keeper) + place for place in range(len(there))]
    shares = shared(entry.sprigs, [held.sprigs for _, held in there])
    lots = [
        f"lot {number}, {told(held)}{_stems_words(held, share)}"
        for number, (_, held), share in zip(numbers, there, shares, strict=True)
        if share != 0
    ]
    if entry.sprigs and len(lots) > 1:
        lots[0] = f"oldest first: {lots[0]}"
    return "; ".join(one for one in (*lots, eggs_that_stay(bench, entry)) if one)


def _stems_words(held: KeptLot, share: int | None) -> str:
    if not held.sprigs:
        return ""
    part = f"{share} of " if share and share < held.sprigs else ""
    return f", {part}{held.sprigs} stems"


def shared(stems: int | None, there: list[int | None]) -> list[int | None]:
    """How many stems leave of each, the first ones first; None is all of it."""
    if not stems:
        return [None] * len(there)
    found: list[int | None] = []
    for number in there:
        share = stems if number is None else min(stems, number)
        stems -= share
        found.append(None if share == number else share)
    return found


def eggs_that_stay(bench: Bench, entry: HostOut) -> str:
    """Eggs on stems that now go elsewhere stay where they are on record, until they are moved
    too."""
    container = bench.at(entry.container)
    if (
        container is None
        or entry.held_in == container.code
        or (entry.fate == "held" and not entry.held_in)
    ):
        return ""
    leave = (
        [held for place, held in named(bench, container, entry.lots) if place is container]
        if entry.lots
        else [host for host in container.hosts if fits(host, entry.plant, entry.batch)]
    )
    if not leave:
        return ""
    there = container.count("egg")
    lots = [held for held in leave if isinstance(held, KeptLot)]
    if eggs_along(bench, container, entry.held_in, entry.lots, entry.sprigs):
        return ""
    bore = [held for held in lots if found_at(held, container.code)]
    if not bore:
        number = there - sum(
            found_at(held, container.code) for held in container.held if held not in lots
        )
        if not lots:
            number = min(number, _may_bear(bench, container, leave, there))
        return (
            _eggs_stay(container, entry, number, "", "if they are on these stems, type")
            if number > 0
            else ""
        )
    result = sum(found_at(held, container.code) for held in bore)
    eggs = eggs_of_lots(bench, container, bore)
    number = min(result, sum(lot.number for lot in eggs))
    which = f" found on {'them' if len(bore) > 1 else 'it'}"
    return _eggs_stay(container, entry, number, which, "to move them too, type") if number else ""


def eggs_along(
    bench: Bench, container: Container, to: str, names: Sequence[str], stems: int | None
) -> tuple[str, int] | None:
    """The brood and number of the eggs found on whole kept lots that go elsewhere, which go with
    them; None where some of those on record went before, for nobody knows which."""
    target = bench.at(to) if to else None
    lots = [held for held in container.held if held.lot in names]
    if target is None or target is container or not lots:
        return None
    if stems and stems != sum(held.sprigs or 0 for held in lots):
        return None
    eggs = eggs_of_lots(bench, container, lots)
    if len(eggs) != 1:
        return None
    for found_on in (_came_along, found_at):
        number = sum(found_on(held, container.code) for held in lots)
        all_found = sum(found_on(held, container.code) for held in container.held)
        if number and eggs[0].number >= all_found:
            return eggs[0].brood, number
    return None


def _came_along(held: KeptLot, code: str) -> int:
    """How many eggs were found on a lot that came from elsewhere, as far as they came with it."""
    return found_at(held, code) if held.source == code else held.eggs


def eggs_of_lots(bench: Bench, container: Container, lots: Sequence[KeptLot]) -> list[Lot]:
    """The eggs on record in a container that the females of some kept lots may have laid."""
    mothers = {mother for held in lots for mother in held.mothers}
    return [lot for lot in container.lots_of("egg") if mothers & set(_mothers(bench, lot))]


def _may_bear(
    bench: Bench, container: Container, leave: Sequence[Host | KeptLot], there: int
) -> int:
    """How many of the eggs on record may be on stems that leave: those found on them, else those
    that were not found on others."""
    found = sum(one.eggs for one in leave)
    others = sum(host.eggs for host in container.hosts if host not in leave)
    others += sum(held.eggs for _, held in kept_lots(bench) if held.source == container.code)
    return found or there - others


def found_at(held: KeptLot, code: str) -> int:
    """How many eggs searches found on a lot that came on record in a container."""
    return sum(search.found for search in held.searches if search.place == code)


def _eggs_stay(container: Container, entry: HostOut, number: int, found: str, when: str) -> str:
    eggs = "1 egg" if number == 1 else f"{number} eggs"
    words = f"{eggs}{found} stay{'s' if number == 1 else ''} on record in {container.code}"
    return (
        f"{words}; {when}: {container.code} moved {eggs} to {entry.held_in}"
        if entry.held_in
        else words
    )


def _mothers(bench: Bench, lot: Lot) -> Iterator[str]:
    for code in lot.codes:
        yield code
        if code in bench.broods:
            yield from bench.broods[code].mothers


def digits(container: Container) -> str:
    """The lots of a container by digit, in words: ``lot=1 (violet A from K3), lot=2 ...``."""
    return ", ".join(f"lot={held.number} ({told(held)})" for held in container.held)


def told(held: KeptLot) -> str:
    """A lot in a few words: ``violet A from K3``."""
    return f"{held.plant} {held.batch}".strip() + f" from {held.source}"


def came_out_just_now(
    bench: Bench, container: Container, at: datetime, plant: str = ""
) -> tuple[Container, list[KeptLot]] | None:
    """The stems that came out of a container at this stop, while all that stands in it was put in
    since; those of one plant, where all of that was.

    Returns:
        Where they are kept, and which; None if nothing came out, or not all of it went to one
        place.
    """
    lots = [
        (keeper, held)
        for keeper, held in kept_lots(bench)
        if held.source == container.code
        and plant in ("", held.plant)
        and timedelta(0) <= at - held.taken_out <= SAME_STOP
    ]
    if not lots or len({keeper.code for keeper, _ in lots}) > 1:
        return None
    newest = max(held.taken_out for _, held in lots)
    if any(host.put_in < newest for host in container.hosts if plant in ("", host.plant)):
        return None
    return lots[0][0], [held for _, held in lots]
