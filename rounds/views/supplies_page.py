"""Supplies: what to cut, mix and have ready, each with its arithmetic."""

from __future__ import annotations

from collections.abc import Iterable

from rounds.bench.measures import Measures, measures_of
from rounds.bench.state import Bench
from rounds.checks.due_state import Due
from rounds.checks.round_clock import Moment
from rounds.checks.supplies import SupplyNeed, supplies
from rounds.surroundings.solution import weighing
from rounds.views.cells import Cell, Line, aside, headed, labelled, line, section
from rounds.views.words import literal, number

# within the strengths in use, 10 to 20 %; common practice, no source
DEFAULT_STRENGTH_PERCENT = 15.0


def need_words(need: SupplyNeed, measures: Measures) -> str:
    """How much of what: ``9 sprigs strobilanthes``, ``10 ml sugar solution``."""
    if need.what == "solution":
        return f"{measures.bulk(need.number)} sugar solution"
    unit = need.unit.removesuffix("s") if need.number == 1 else need.unit
    return " ".join(part for part in (number(need.number), unit, literal(need.of)) if part)


def arithmetic_words(need: SupplyNeed, measures: Measures) -> str:
    """What it was reckoned from; a solution in the keeper's unit."""
    text = literal(need.arithmetic)
    return measures.in_words(text) if need.what == "solution" else text


def supplies_lines(bench: Bench, moment: Moment, dues: Iterable[Due]) -> tuple[Line, ...]:
    """The page: for the coming round, then for tomorrow; a guess, and shown as one."""
    result = supplies(bench, moment, dues)
    measures = measures_of(bench.settings)
    when = moment.clock(result.round_begins)
    begun = result.round_begins <= moment.now
    lines = [headed("supplies", "an estimate, with the sums")]
    for heading, needs in (
        (f"for this round, {when}" if begun else f"for the round at {when}", result.coming),
        ("for tomorrow", result.tomorrow),
    ):
        lines += section(heading)
        lines += [_amount_and_sum(need, measures) for need in needs] or [line("      nothing")]
        lines += [_weighing_line(bench, one) for one in needs if one.what == "solution"]
    return tuple(lines)


def _amount_and_sum(need: SupplyNeed, measures: Measures) -> Line:
    """What to have ready, and quieter what it was reckoned from."""
    indent, sums = "      ", arithmetic_words(need, measures)
    amount = Cell(need_words(need, measures), "strong")
    return line(indent, amount, Cell(f": {sums}", "quiet"), hang=len(indent))


def _weighing_line(bench: Bench, need: SupplyNeed) -> Line:
    try:
        strength = float(bench.settings.get("strength", "") or DEFAULT_STRENGTH_PERCENT)
        weighed = weighing(strength_percent=strength, volume_ml=max(1.0, need.number))
    except ValueError as trouble:
        return labelled("", f"the setting 'strength' cannot be used: {trouble}", "late")
    text = (
        f"weigh {weighed.sugar_g:.1f} g sugar and {weighed.water_g:.1f} g water for {strength:g} %"
        " by weight"
    )
    return aside(
        "", f"{text} (volume x density {weighed.density_g_ml:.4f} g/ml x strength; CRC Handbook)"
    )
