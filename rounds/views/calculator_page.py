"""The calculator as a page: the list of calculations, or one asked."""

from __future__ import annotations

import io
from collections.abc import Sequence

from rounds.bench.measures import METRIC, Measures
from rounds.forecasts.foresight import Forecasts
from rounds.views.calculations import all_calculations
from rounds.views.calculations.report import calc
from rounds.views.cells import Cell, Line, aside, line
from rounds.views.words import literal


def calculator_lines() -> tuple[Line, ...]:
    """Every calculation with what it is about and a run that works."""
    lines: list[Line] = []
    for calculation in all_calculations():
        lines += [
            line(""),
            line(Cell(f"{calculation.name:<18} ", "due"), calculation.about),
            aside("as", f"{calculation.name} {calculation.example}"),
        ]
    return tuple(lines)


def asked_lines(
    words: Sequence[str], measures: Measures = METRIC, foresight: Forecasts | None = None
) -> tuple[Line, ...]:
    """What one calculation says, in the keeper's units and beside what the bench knows, or the one
    line that refuses it; a name alone shows its inputs."""
    out, err = io.StringIO(), io.StringIO()
    asked = list(words) if len(words) > 1 else [*words, "--help"]
    calc(asked, out=out, err=err, measures=measures, foresight=foresight)
    refused = err.getvalue().strip().removeprefix("rounds: ")
    if refused:
        return (line(""), line(literal(refused), tone="late"))
    return (line(""), *(line(literal(text)) for text in out.getvalue().splitlines()))
