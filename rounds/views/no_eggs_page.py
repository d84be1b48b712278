"""Why no eggs: the verdict, what may be missing, what is on record of it, and how likely that is."""

from __future__ import annotations

from rounds.checks.time_format import chance_words
from rounds.forecasts.no_eggs import NoEggs
from rounds.views.cells import Cell, Line, line
from rounds.views.words import literal

LEAST_DAYS = 1.0  # warm, fed female-days from which it is told


def no_eggs_lines(found: list[NoEggs]) -> tuple[Line, ...]:
    """Each container whose females lay nothing, the longest wait first."""
    lines: list[Line] = []
    for one in sorted(found, key=lambda known: -known.waited.female_days):
        lines += _of(one)
    return tuple(lines)


def _of(one: NoEggs) -> list[Line]:
    lines = [
        line(Cell("why no eggs?", "strong"), f"   {literal(one.container)}, {literal(one.plant)}"),
        *([line(Cell(f"  {literal(one.heading)}", "strong"))] if one.before.eggs else []),
        line(Cell(f"  {literal(one.verdict)}", "strong")),
        line(Cell(f"  {'what may be missing':<21}{'on record':<44}how likely", "quiet")),
    ]
    for point in one.points:
        name = f"  {point.what:<21}"
        lines.append(Line((Cell(name), Cell(f"{literal(point.record)}: {point.weighs}")), hang=len(name)))
    if one.best is not None and one.chance is not None:
        told = f"If they laid here as others do on {literal(one.best.plant)}, none found by now would be {chance_words(one.chance)}."
        lines.append(line(f"  {told}"))
    lines.append(line(Cell("  One change at a time; it is yours to decide.", "quiet")))
    return [*lines, line("")]
