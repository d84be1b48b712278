"""Animals that were not seen: which are open, and which of them may have turned up."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from msgspec.structs import replace

from rounds.bench.codes import members, one_of
from rounds.bench.folding.lots import matching, move, new_lot
from rounds.bench.folding.unsure import may_be_of, maybe_of
from rounds.bench.movements import BACK, RENAMED, SEEN_AGAIN, Movement, shares
from rounds.bench.state import Bench, Container, Lot, Shortfall, hungriest
from rounds.entries.base import Entry, Stage
from rounds.grouping import grouped

if TYPE_CHECKING:
    from rounds.entries.stock import Counted

WALKS = ("larva", "adult")  # what may turn up in another container than it was missed from


def open_here(bench: Bench, container: str, brood: str, stage: Stage | None) -> list[Shortfall]:
    """What is not seen in a container, of that brood and stage where they are said."""
    return [
        shortfall for shortfall in bench.shortfalls if _is_of(shortfall, container, brood, stage)
    ]


def escaped_here(bench: Bench, container: str, brood: str, stage: Stage | None) -> list[Shortfall]:
    """What escaped from a container, of that brood and stage where they are said, the newest
    first."""
    return [
        shortfall
        for shortfall in reversed(bench.escaped)
        if _is_of(shortfall, container, brood, stage)
    ]


def of_one_of(
    bench: Bench, entry: Entry, missed: list[Shortfall], among: tuple[str, ...]
) -> list[Movement]:
    """Throw missing ones of several broods together, where nobody knows of which those were that it
    is known of now."""
    code = one_of(shortfall.brood for shortfall in missed)
    movements = []
    for one in missed:
        if among and one.brood != code:
            lot, at, line = lot_of(one, entry.at), one.at, one.entry
            lot.hunger = one.hunger
            movements.append(
                move(
                    bench,
                    entry,
                    RENAMED,
                    lot,
                    one.number,
                    source=one,
                    missing_to=one.to,
                    brood=code,
                )
            )
            bench.shortfalls[-1] = replace(bench.shortfalls[-1], at=at, entry=line)
    return movements


def _is_of(shortfall: Shortfall, container: str, brood: str, stage: Stage | None) -> bool:
    is_meant = not brood or brood in (shortfall.brood, *members(shortfall.brood))
    return (
        shortfall.container == container
        and is_meant
        and (stage is None or shortfall.stage == stage)
    )


def counted_lots(container: Container, entry: Counted) -> list[Lot]:
    """The lots that a count is of."""
    lots = matching(container, brood=entry.brood, stage=entry.stage, instar=entry.instar)
    return [lot for lot in lots if not entry.among or set(entry.among) & set(lot.codes)]


def told_by_count(container: Container, entry: Counted) -> list[Lot]:
    """Those that a count of a brood or instar may be of, beside those on record: of one of several
    broods, or of no known instar."""
    unknown = [
        lot
        for lot in matching(container, brood=entry.brood, stage="larva")
        if lot.instar == 0 and entry.instar
    ]
    return [*maybe_of(container, entry), *(unknown if entry.stage in (None, "larva") else ())]


def _may_be_counted(bench: Bench, container: Container, entry: Counted) -> int:
    """How many beside those on record a count of a brood or instar may be of: no more of a brood
    than can be of it."""
    of_several = sum(lot.number for lot in maybe_of(container, entry))
    others = sum(lot.number for lot in told_by_count(container, entry)) - of_several
    return min(of_several, may_be_of(bench, entry.brood)) + others


def may_be(bench: Bench, entry: Counted, container: Container, lots: list[Lot]) -> list[Shortfall]:
    """Which missing ones those may be that a count has more than is on record, the likeliest first.

    First those missed here, then those that left for here and were not found on arrival, then those
    that escaped from here, then of the same brood those that walk and were missed elsewhere.
    """
    shortfalls = open_here(bench, container.code, entry.brood, entry.stage)
    counted = {(lot.brood, lot.stage) for lot in lots}
    if entry.brood and entry.stage:
        counted.add((entry.brood, entry.stage))
    alike = [
        shortfall
        for shortfall in bench.shortfalls
        if shortfall.container != container.code and (shortfall.brood, shortfall.stage) in counted
    ]
    on_the_way = [one for one in alike if one.to == container.code]
    elsewhere = [one for one in alike if one.to != container.code and one.stage in WALKS]
    out = [
        one
        for one in escaped_here(bench, container.code, entry.brood, entry.stage)
        if (one.brood, one.stage) in counted
    ]
    return [*shortfalls, *on_the_way, *out, *elsewhere]


def may_hide(bench: Bench) -> dict[str, list[Shortfall]]:
    """By container, those not seen that may sit in its plant or paper still: all but adults, which
    no plant hides."""
    return grouped((one.container, one) for one in bench.shortfalls if one.stage != "adult")


def as_if_seen(container: Container, hidden: list[Shortfall]) -> Container | None:
    """A container as it is if those that were not seen are in it; None where others of their stages
    are there anyway."""
    unseen = [shortfall for shortfall in hidden if not container.count(shortfall.stage)]
    lots = []
    for one in unseen:
        lot = replace(lot_of(one, one.at), number=one.number)
        lot.unfed, lot.fed = one.unfed, one.fed or one.at
        lots.append(lot)
    return replace(container, lots=[*container.lots, *lots]) if lots else None


def lot_of(missed: Shortfall, at: datetime) -> Lot:
    """Animals that were missed, as they are where they turn up at a time: in their stage since when
    they were before."""
    lot = new_lot(
        missed.brood,
        missed.stage,
        missed.since or at,
        instar=missed.instar,
        sex=missed.sex,
        latest=missed.latest,
        began_before=missed.began_before,
        begun_after=missed.begun_after,
    )
    lot.came, lot.stays, lot.rested = at, missed.stays, missed.rested
    lot.crippled, lot.of_instars = missed.crippled, missed.of_instars
    lot.unfed = lot.fed = missed.at if missed.stage == "larva" else None
    return lot


def turn_up(
    bench: Bench, entry: Entry, container: Container, number: int, missed: list[Shortfall]
) -> list[Movement]:
    """Put animals that turned up back into the stock, as many as were missing."""
    movements = []
    for shortfall, share in shares(missed, number):
        lot = lot_of(shortfall, entry.at)
        lot.hunger = hungriest(shortfall.hunger, share)
        how = BACK if is_escaped(bench, shortfall) else SEEN_AGAIN
        movements.append(move(bench, entry, how, lot, share, source=shortfall, to=container))
    return movements


def is_escaped(bench: Bench, shortfall: Shortfall) -> bool:
    """Whether these escaped, which others that are not seen may have too, but nobody says so."""
    return any(shortfall is out for out in bench.escaped)


def _taken_for(lots: list[Lot], number: int) -> str:
    """That nobody knows of which instar those are that are not there; of both sexes which a count
    takes them for, as the fold."""
    if len({(lot.instar, lot.sex, lot.crippled) for lot in lots}) < 2:
        return ""
    if len(
        {lot.instar for lot in lots if lot.stage == "larva" and lot.instar}
    ) > 1 and number < sum(lot.number for lot in lots):
        return ", not known which instar"
    taken = [
        f"{share} {'crippled ' * lot.crippled}"
        f"{f'L{lot.instar}' if lot.instar else lot.sex or lot.stage}"
        for lot, share in shares(reversed(lots), number)
    ]
    return f", taken for {' and '.join(taken)}"


def count_words(bench: Bench, entry: Counted) -> str:
    """How a count stands to the record: what is missing, what turned up again, how many more there
    are."""
    container = bench.containers.get(entry.container)
    if container is None:
        return ""
    lots = counted_lots(container, entry)
    more = entry.number - sum(lot.number for lot in lots)
    more = more if more < 0 else max(0, more - _may_be_counted(bench, container, entry))
    if more == 0:
        return ""
    if more < 0:
        short = f"{-more} fewer than on record{_taken_for(lots, -more)}"
        return (
            f"{short}, missing until it is known what became of them"
            if entry.method == "exact"
            else short
        )
    found = shares(may_be(bench, entry, container, lots), more)
    parts = [
        f"{share} {'escaped' if is_escaped(bench, shortfall) else 'missing'} from"
        f" {shortfall.container} found"
        for shortfall, share in found
    ]
    left = more - sum(share for _, share in found)
    if left:
        parts.append(f"{left} MORE THAN ON RECORD")
    return ", ".join(parts)
