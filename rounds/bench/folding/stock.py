"""Animals that leave a container: what several kinds of entry share."""

from __future__ import annotations

from rounds.bench.folding.lots import move, note_inconsistency
from rounds.bench.mates import WILD
from rounds.bench.movements import LOST, Movement
from rounds.bench.state import Bench, Container, Lot
from rounds.entries.base import Entry

Moves = list[Movement]


def came_in(bench: Bench, entry: Entry, parent: str) -> None:
    """Tell of a parent that nobody brought in, or whose coming in was crossed out."""
    if parent != WILD and parent not in bench.founders and parent not in bench.broods:
        note_inconsistency(bench, entry, f"its parent {parent} never came in", rests_on=parent)


def lose(
    bench: Bench,
    entry: Entry,
    source: Container,
    lots: list[tuple[Lot, int]],
    to: str = "",
    *,
    how: str = LOST,
) -> Moves:
    """They were not seen; ``to`` is where they should have arrived."""
    return [
        move(bench, entry, how, lot, number, source=source, missing_to=to) for lot, number in lots
    ]


def emptied(container: Container, entry: Entry) -> None:
    if not container.lots:
        container.emptied = entry.at
