"""A container's card on a screen of its own: its state, how warm it was, then all that the card says."""

from __future__ import annotations

from collections.abc import Sequence

from rounds.bench.state import Bench
from rounds.checks.due import Due
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.forecasts.foresight import Foresight
from rounds.views.bench_page import urgency
from rounds.views.card import card
from rounds.views.cells import Cell, Line, line
from rounds.views.states import SIGNS, TONES, harm_words, state_of, when_words
from rounds.views.warmth_curve import curve_aloud, curve_lines, curve_of, curve_table

MOST_STATES = 4  # checks that are told above the drawing
LEAST_CURVE, MOST_CURVE = 4, 12  # rows of the drawing
BESIDE_CURVE = 16  # rows of the screen that are left for the rest


def card_page(
    bench: Bench, dues: Sequence[Due], moment: Moment, foresight: Foresight, code: str, width: int, height: int, *, as_table: bool
) -> tuple[Line, ...]:
    """The page of a container, its title first; empty where it does not stand here any more.

    Args:
        as_table: whether the drawing is told as a table of numbers.
    """
    container = bench.at(code)
    if container is None:
        return ()
    title, *rest = card(bench, list(dues), moment, code, foresight)
    lines = [title, *_states(dues, moment, code)]
    curve = curve_of(bench, moment, foresight, container)
    if curve is None:
        lines += [line(""), line(Cell("Nothing was read of how warm it is here in the last days.", "quiet"))]
    elif as_table:
        lines += [line(""), line(curve_aloud(curve, moment)), *curve_table(curve, moment)]
    else:
        rows = max(LEAST_CURVE, min(MOST_CURVE, height - BESIDE_CURVE))
        lines += [line(""), *curve_lines(curve, moment, width, rows)]
    return (*lines, line(""), *rest)


def _states(dues: Sequence[Due], moment: Moment, code: str) -> list[Line]:
    """What is asked here now, the worst first."""
    own = [due for due in dues if due.place_kind == "container" and due.where == code]
    asked = [due for due in sorted(own, key=lambda due: urgency(due, moment.now)) if state_of(due, moment.now) != "in order"]
    lines = []
    for due in asked[:MOST_STATES]:
        state = state_of(due, moment.now)
        harm = harm_words(due, moment)
        lines.append(
            line(
                Cell(f"{SIGNS[state]} "),
                Cell(f"{CHECKS[due.check].verb} {when_words(due, moment)}", TONES[state]),
                Cell(f"   {harm}" if harm else ""),
            )
        )
    return lines or [line(Cell("nothing is asked here now", "quiet"))]
