"""Which animals a line saw alive, all of them that are alike: until then they are known to have
lived, should they not be seen again."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from rounds.bench.folding.hunger import fed_lots, females_first
from rounds.bench.folding.lots import group_of, matching
from rounds.bench.folding.not_seen import counted_lots
from rounds.bench.folding.signs import SHOWN_BY
from rounds.bench.folding.stage_completions import is_written_up
from rounds.bench.state import Bench, Container, Lot
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.tallies.cohorts import SeenAlive


def seen_alive(bench: Bench, entry: Any) -> Iterator[SeenAlive]:
    """Those that a line told of, where it told of as many as there are; none of whom only a share
    was seen, for nobody knows which these were.

    Args:
        bench: as it stands after the entry.
    """
    container = bench.at(entry.container)
    lots, number = _SEEN[type(entry)](bench, container, entry) if container else ([], 0)
    if container and lots and number >= sum(lot.number for lot in lots):
        yield _seen(container, entry, lots)


def last_written_up(bench: Bench, entry: k.Missing) -> Iterator[SeenAlive]:
    """In old records whose end is not known, the day that is written is the last on which they were
    known.

    Args:
        bench: as it stood before the entry.
    """
    container = bench.at(entry.container)
    if container and is_written_up(entry):
        lots = matching(container, brood=entry.brood, stage=entry.stage, instar=entry.instar)
        yield _seen(container, entry, lots)


def _seen(container: Container, entry: Entry, lots: list[Lot]) -> SeenAlive:
    return SeenAlive(
        entry.at,
        tuple(group_of(container.code, lot) for lot in lots),
    )


def _counted(bench: Bench, container: Container, entry: k.Counted) -> tuple[list[Lot], int]:
    return counted_lots(container, entry), entry.number if entry.method == "exact" else 0


def _fed(
    bench: Bench, container: Container, entry: k.Drank | k.FoodRefused
) -> tuple[list[Lot], int]:
    if entry.female:
        lots = matching(container, brood=entry.female, stage="adult")
        return [lot for lot in lots if lot.codes == (entry.female,)], 1
    lots = fed_lots(bench, container)
    if not entry.number:  # all females, for whom the males with them go along unseen
        lots = females_first(lots)
    return lots, entry.number or sum(lot.number for lot in lots)


def _looked(bench: Bench, container: Container, entry: k.Looked) -> tuple[list[Lot], int]:
    stage = SHOWN_BY.get(entry.sign)
    return (matching(container, stage=stage), entry.number) if stage else ([], 0)


_SEEN: dict[type[Entry], Callable[[Bench, Container, Any], tuple[list[Lot], int]]] = {
    k.Counted: _counted,
    k.Drank: _fed,
    k.FoodRefused: _fed,
    k.Looked: _looked,
}
