"""A container's card on a screen of its own: its state, what is drawn of it, then all that the card
says."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import cycle, islice

from msgspec import Struct

from rounds.bench.measures import measures_of
from rounds.bench.state import Bench
from rounds.checks.due_state import Due, urgency
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.entries.base import Entry
from rounds.entries.searching import Searched
from rounds.entries.wording import comma_joined, saying
from rounds.forecasts.foresight import Forecasts
from rounds.views.card import card
from rounds.views.card_drawings import NOT_READ, Paper, drawings
from rounds.views.cells import Cell, Line, labelled, line
from rounds.views.states import SIGNS, TONES, harm_words, state_of, when_words
from rounds.views.words import literal

MAX_LAST = 3  # entries of before
MAX_STATES = 4  # checks that are told above the drawing
LEAST_ROWS, MAX_ROWS = 4, 10  # of a drawing
BESIDE_DRAWING = 16  # rows of the screen that are left for the rest
TWO_DRAWINGS = 36  # rows of a screen that has room for two


class CardPage(Struct, frozen=True):
    """The page of a container, its title first, and how many drawings there are of it."""

    lines: tuple[Line, ...] = ()
    drawn: int = 0


def card_page(
    bench: Bench,
    dues: Sequence[Due],
    moment: Moment,
    foresight: Forecasts,
    code: str,
    entries: Sequence[Entry],
    width: int,
    height: int,
    *,
    as_table: bool,
    turn: int = 0,
) -> CardPage:
    """The page of a container; without a line where it does not stand here any more.

    Args:
        entries: those of the container that count, the oldest first.
        as_table: whether what is drawn is told as a table of numbers.
        turn: which drawing stands first; they go round.
    """
    container = bench.at(code)
    if container is None:
        return CardPage()
    title, *rest = card(bench, list(dues), moment, code, foresight)
    lines = [title, *_states(dues, moment, code)]
    paper = Paper(width, max(LEAST_ROWS, min(MAX_ROWS, height - BESIDE_DRAWING)))
    shown = 2 if height >= TWO_DRAWINGS else 1
    searches = [entry for entry in entries if isinstance(entry, Searched)]
    drawn = list(drawings(bench, dues, moment, foresight, container, searches, paper))
    for drawing in islice(
        cycle(drawn), turn % len(drawn), turn % len(drawn) + min(shown, len(drawn))
    ):
        lines += [line(""), *(drawing.table if as_table else drawing.lines)]
    told = (*lines, line(""), *_last(bench, entries, moment), *rest)
    return CardPage(told, sum(1 for drawing in drawn if NOT_READ not in drawing.lines))


def _last(bench: Bench, entries: Sequence[Entry], moment: Moment) -> list[Line]:
    """The last entries, the newest first."""
    measures = measures_of(bench.settings)
    newest = sorted(entries, key=lambda one: one.order)[: -MAX_LAST - 1 : -1]
    texts = [
        f"{moment.clock(entry.at)} {literal(comma_joined(saying(entry, measures), entry.by))}"
        for entry in newest
    ]
    return [labelled("last" if not position else "", words) for position, words in enumerate(texts)]


def _states(dues: Sequence[Due], moment: Moment, code: str) -> list[Line]:
    """What is asked here now, the worst first."""
    own = [due for due in dues if due.place_kind == "container" and due.where == code]
    asked = [
        due
        for due in sorted(own, key=lambda due: urgency(due, moment.now))
        if state_of(due, moment.now) != "in order"
    ]
    lines = []
    for due in asked[:MAX_STATES]:
        state = state_of(due, moment.now)
        harm = harm_words(due, moment)
        lines.append(
            line(
                f"{SIGNS[state]} ",
                Cell(f"{CHECKS[due.check].label} {when_words(due, moment)}", TONES[state]),
                f"   {harm}" if harm else "",
            )
        )
    return lines or [line("nothing is asked here now", tone="quiet")]
