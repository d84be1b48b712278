"""Animals that were not seen: which are open, and which of them may have turned up."""

from __future__ import annotations

from rounds.bench.folding.lots import matching, put, turned_up
from rounds.bench.kinds import Counted
from rounds.bench.kinds.base import Entry, Stage
from rounds.bench.state import Bench, Container, Lot, Shortfall, hungriest, members

WALKS = ("larva", "adult")  # what may turn up in another container than it was missed from


def open_here(bench: Bench, container: str, brood: str, stage: Stage | None) -> list[Shortfall]:
    """What is not seen in a container, of that brood and stage where they are said."""
    return [one for one in bench.shortfalls if _is_of(one, container, brood, stage)]


def escaped_here(bench: Bench, container: str, brood: str, stage: Stage | None) -> list[Shortfall]:
    """What escaped from a container, of that brood and stage where they are said, the newest first."""
    return [one for one in reversed(bench.escaped) if _is_of(one, container, brood, stage)]


def _is_of(one: Shortfall, container: str, brood: str, stage: Stage | None) -> bool:
    is_meant = not brood or brood in (one.brood, *members(one.brood))
    return one.container == container and is_meant and (stage is None or one.stage == stage)


def counted_lots(container: Container, entry: Counted) -> list[Lot]:
    """The lots that a count is of."""
    return matching(container, brood=entry.brood, stage=entry.stage, instar=entry.instar)


def may_be(bench: Bench, entry: Counted, container: Container, lots: list[Lot]) -> list[Shortfall]:
    """Which missing ones those may be that a count has more than is on record, the likeliest first.

    First those missed here, then those that left for here and were not found on arrival, then those that escaped from
    here, then of the same brood those that walk and were missed elsewhere.
    """
    here = open_here(bench, container.code, entry.brood, entry.stage)
    counted = {(lot.brood, lot.stage) for lot in lots}
    if entry.brood and entry.stage:
        counted.add((entry.brood, entry.stage))
    alike = [one for one in bench.shortfalls if one.container != container.code and (one.brood, one.stage) in counted]
    on_the_way = [one for one in alike if one.to == container.code]
    elsewhere = [one for one in alike if one.to != container.code and one.stage in WALKS]
    out = [one for one in escaped_here(bench, container.code, entry.brood, entry.stage) if (one.brood, one.stage) in counted]
    return [*here, *on_the_way, *out, *elsewhere]


def close(bench: Bench, entry: Entry, container: Container, number: int, missed: list[Shortfall]) -> int:
    """Put animals that turned up back into the stock; returns how many more turned up than were missing."""
    for one in missed:
        share = min(one.number, number)
        one.number -= share
        number -= share
        if share and any(one is out for out in bench.escaped):
            turned_up(bench, one, share)
        put(
            container,
            brood=one.brood,
            stage=one.stage,
            number=share,
            at=entry.at,
            instar=one.instar,
            sex=one.sex,
            hunger=hungriest(one.hunger, share),
            unfed=one.at if one.stage == "larva" else None,
        )
    bench.shortfalls = [one for one in bench.shortfalls if one.number > 0]
    bench.escaped = [one for one in bench.escaped if one.number > 0]
    return number


def _taken_for(lots: list[Lot], number: int) -> str:
    """Which of several instars or sexes a count takes for those that are not there: the last, as the fold does."""
    if len({(lot.instar, lot.sex) for lot in lots}) < 2:
        return ""
    parts = []
    for lot in reversed(lots):
        share = min(lot.number, number)
        number -= share
        if share:
            parts.append(f"{share} {f'L{lot.instar}' if lot.instar else lot.sex or lot.stage}")
    return f", taken for {' and '.join(parts)}"


def count_words(bench: Bench, entry: Counted) -> str:
    """How a count stands to the record: what is missing, what turned up again, how many more there are."""
    container = bench.containers.get(entry.container)
    if container is None:
        return ""
    lots = counted_lots(container, entry)
    more = entry.number - sum(lot.number for lot in lots)
    if more == 0:
        return ""
    if more < 0:
        short = f"{-more} fewer than on record{_taken_for(lots, -more)}"
        return f"{short}, missing until it is known what became of them" if entry.method == "exact" else short
    parts = []
    left = more
    for one in may_be(bench, entry, container, lots):
        share = min(one.number, left)
        left -= share
        if share:
            how = "escaped" if any(one is out for out in bench.escaped) else "missing"
            parts.append(f"{share} {how} from {one.container} found")
    if left:
        parts.append(f"{left} MORE THAN ON RECORD")
    return ", ".join(parts)
