"""Why no eggs: the verdict, what may be missing, what is on record of it, and how likely that
is."""

from __future__ import annotations

from rounds.bench.measures import Measures
from rounds.checks.time_format import chance_words
from rounds.forecasts.no_eggs import NoEggs
from rounds.views.cells import Cell, Line, line
from rounds.views.words import literal

TOLD_FROM = 1.0  # female-days from which it is told


def no_eggs_lines(found: list[NoEggs], measures: Measures) -> tuple[Line, ...]:
    """Each container whose females lay nothing, the longest wait first."""
    lines: list[Line] = []
    for no_eggs in sorted(found, key=lambda known: -known.waited.female_days):
        lines += _of(no_eggs, measures)
    return tuple(lines)


def _of(no_eggs: NoEggs, measures: Measures) -> list[Line]:
    lines = [
        line(
            Cell("why no eggs?", "strong"),
            f"   {literal(no_eggs.container)}, {literal(no_eggs.plant)}",
        ),
        *([line(f"  {literal(no_eggs.heading)}", tone="strong")] if no_eggs.before.eggs else []),
        line(f"  {literal(no_eggs.verdict)}", tone="strong"),
        line(f"  {'what may be missing':<21}{'the reason?':<13}on record", tone="quiet"),
    ]
    for point in no_eggs.points:
        name = f"  {point.what:<21}{point.weighs:<13}"
        record = measures.in_words(literal(point.record))
        lines.append(line(name, record, hang=len(name)))
    if no_eggs.best is not None and no_eggs.chance is not None:
        text = (
            f"If they laid here as others do on {literal(no_eggs.best.plant)}, the chance of none"
            f" found in what was searched would be {chance_words(no_eggs.chance)}."
        )
        lines.append(line(f"  {text}"))
    lines.append(line("  One change at a time; it is yours to decide.", tone="quiet"))
    return [*lines, line("")]
