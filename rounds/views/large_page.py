"""The round in large letters: one check fills the screen, to be read with a butterfly in hand."""

from __future__ import annotations

from rounds.bench.state import Bench
from rounds.checks.due_state import place_name
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.checks.walk import Stop
from rounds.views.block_letters import block_letters
from rounds.views.cells import Cell, Line, line
from rounds.views.round_page import RoundPage, before_words, pressing_words
from rounds.views.states import TONES, WORSE_THAN_DUE, state_of
from rounds.views.words import literal


def large_lines(bench: Bench, page: RoundPage, stop: Stop | None, moment: Moment, width: int) -> tuple[Line, ...]:
    """The place and the check large, how long ago it was done, then the card as usual; where nothing is asked, the card alone."""
    if page.asked is None or stop is None:
        large = _either("wash" if page.wash else ("the end" if page.done else "all done"), width)
        return (*large, *(spaced for one in page.card for spaced in (one, line(""))))
    due = page.asked
    name = literal(place_name(stop)).removeprefix("the ")
    label = CHECKS[due.check].label
    words = name if name == label else f"{name}  {label}"
    heading = _large(words, width) or (*_either(name, width), line(""), *_either(label, width))
    since = before_words(due, bench, moment)
    worse = pressing_words(due, moment)
    state = state_of(due, moment.now)
    pressed = [Cell("   "), Cell(worse, TONES[state] if state in WORSE_THAN_DUE else "strong")] if worse else []
    more = len(stop.open_checks) - 1
    then = f"   then {more} more here" if more else ""
    return (
        line(""),
        *heading,
        line(""),
        line(Cell(since, "strong"), *pressed, Cell(then, "quiet")),
        line(""),
        *page.care,
        *page.card,
    )


def _large(text: str, width: int) -> tuple[Line, ...]:
    return tuple(line(Cell(row, "strong")) for row in block_letters(text, width))


def _either(text: str, width: int) -> tuple[Line, ...]:
    """Large where it fits, else capitals."""
    return _large(text, width) or (line(Cell(text.upper(), "strong")),)
