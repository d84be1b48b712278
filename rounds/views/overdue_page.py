"""Every late check, the one with the least time left until harm first."""

from __future__ import annotations

from datetime import timedelta

from rounds.bench.state import Bench
from rounds.checks.due import Due, time_left
from rounds.checks.due_state import place_name
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.views.bench_page import stock_words
from rounds.views.cells import Cell, Column, Line, Row, line
from rounds.views.states import STATES, TONES, WORSE_THAN_DUE, state_of
from rounds.views.words import age, clock, literal

COLUMNS = (
    Column("where", 12),
    Column("check", 9),
    Column("holds", 18, grows=3),
    Column("late by", 8, right=True),
    Column("until harm", 12, right=True),
    Column("last", 12, grows=1),
)


def key_of(due: Due) -> str:
    """Names one check of one place."""
    return f"{due.place_kind}|{due.where}|{due.check}|{due.subject}"


def late_ones(dues: list[Due], moment: Moment) -> list[Due]:
    """What is late, the least time left until harm first; what can do no harm comes last."""
    late = [due for due in dues if state_of(due, moment.now) in WORSE_THAN_DUE]
    far = timedelta(days=3650)
    return sorted(late, key=lambda due: (time_left(due, moment.now) or far, due.due, key_of(due)))


def overdue_rows(bench: Bench, late: list[Due], moment: Moment) -> tuple[Row, ...]:
    """A line for each late check."""
    return tuple(_row(bench, due, moment) for due in late)


def _row(bench: Bench, due: Due, moment: Moment) -> Row:
    tone = TONES[state_of(due, moment.now)]
    container = bench.at(due.where) if due.place_kind == "container" else None
    left = time_left(due, moment.now)
    if left is None:
        harm = Cell("-", "quiet")
    elif left <= timedelta(0):
        harm = Cell("in danger", "danger")
    else:
        harm = Cell(age(left), tone)
    return Row(
        key_of(due),
        (
            Cell(place_words(due), "strong"),
            Cell(CHECKS[due.check].label, tone),
            Cell(stock_words(bench, container) if container else literal(due.subject)),
            Cell(age(moment.now - due.due), tone),
            harm,
            Cell(clock(due.last.at, moment.now, moment.zone) if due.last else "not yet", "quiet"),
        ),
    )


def place_words(due: Due) -> str:
    """Where a check is: the container's code, the shelf, the room, the book."""
    return literal(place_name(due)).removeprefix("the ")


def overdue_head(late: list[Due], moment: Moment) -> tuple[Line, ...]:
    """The words above the list."""
    states = [state_of(due, moment.now) for due in late]
    if not late:
        return (line(Cell("Nothing is late.", "strong")),)
    return (
        line(
            Cell("what is late", "strong"),
            f"   {', '.join(f'{states.count(state)} {state}' for state in STATES if state in states)}",  # noqa: E501
            Cell("   least time left until harm first", "quiet"),
        ),
    )
