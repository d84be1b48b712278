"""Under which line's id a record leaves, so that it stays the same record when its line is written
anew.

A line that betters another has an id that begins with the other's. A founder whose line was crossed
out and typed again by hand is taken for the same animal only where the book tells it: a brood goes
by the code that was begun under the first line, or place, day of the catch and sex are the same.
"""

from __future__ import annotations

from collections.abc import Sequence

from rounds.bench.entry_ids import first_id
from rounds.entries.base import Entry
from rounds.entries.registry import BroodBegun, FounderIntake


def lines_of_records(entries: Sequence[Entry], counting: Sequence[Entry]) -> dict[str, str]:
    """By id of a line that counts and was written anew, the id of the line that first told the
    same; no two have the same."""
    known: dict[str, str] = {}
    taken = {entry.id for entry in counting}
    counts = set(taken)
    crossed_out = [
        one for one in entries if isinstance(one, FounderIntake) and one.id not in counts
    ]
    broods = [one for one in counting if isinstance(one, BroodBegun)]
    for entry in counting:
        before = (
            _retyped_from(entry, crossed_out, broods) if isinstance(entry, FounderIntake) else None
        )
        first = first_id((before or entry).id)
        if first not in taken:
            known[entry.id] = first
            taken.add(first)
    return known


def _retyped_from(
    entry: FounderIntake, crossed_out: Sequence[FounderIntake], broods: Sequence[BroodBegun]
) -> FounderIntake | None:
    """The line of the same animal that was crossed out, the first that is known to be of it; None
    where it was typed but once."""
    before = [one for one in crossed_out if one.code == entry.code and one.id < entry.id]
    begun = min(
        (
            brood_begun.id
            for brood_begun in broods
            if entry.code in (*brood_begun.mothers, *brood_begun.fathers)
            and brood_begun.id < entry.id
        ),
        default="",
    )
    under = max((one for one in before if one.id < begun), key=lambda one: one.id, default=None)
    return under or min(
        (intake for intake in before if _same_catch(intake, entry)),
        key=lambda one: one.id,
        default=None,
    )


def _same_catch(intake: FounderIntake, other: FounderIntake) -> bool:
    catches = {(known.place, known.caught, known.sex, known.stage) for known in (intake, other)}
    return intake.caught is not None and bool(intake.place) and len(catches) == 1
