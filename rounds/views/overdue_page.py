"""Every late check, the worst first: in danger, urgent, late; in each the least time left first."""

from __future__ import annotations

from rounds.bench.state import Bench
from rounds.checks.due_state import Due, container_of, how_bad, time_left
from rounds.checks.round_clock import Moment
from rounds.views.bench_page import stock_words
from rounds.views.cells import Cell, Column, Line, Row, line, row_of
from rounds.views.states import (
    SIGNS,
    STATES,
    TONES,
    WORSE_THAN_DUE,
    left_words,
    place_words,
    read_there,
    state_of,
)
from rounds.views.words import age, literal, of_what_is_read

COLUMNS = (
    Column("where", 12),
    Column("check", 11),
    Column("state", 9),
    Column("holds", 16, grows=1),
    Column("overdue", 8, right=True),
    Column("left", 5, right=True),
    Column("last done", 9, right=True),
)


def key_of(due: Due) -> str:
    """Names one check of one place."""
    return f"{due.place_kind}|{due.where}|{due.check}|{due.subject}"


def late_ones(dues: list[Due], moment: Moment) -> list[Due]:
    """What is late, the worst first."""
    late = [due for due in dues if state_of(due, moment.now) in WORSE_THAN_DUE]
    return sorted(late, key=lambda due: how_bad(due, moment.now))


def overdue_rows(bench: Bench, late: list[Due], moment: Moment) -> tuple[Row, ...]:
    """A line for each late check."""
    return tuple(_row(bench, due, moment) for due in late)


def _row(bench: Bench, due: Due, moment: Moment) -> Row:
    state = state_of(due, moment.now)
    container = container_of(bench, due)
    left = time_left(due, moment.now)
    harm = left_words(left) or (age(left) if left else "")
    return row_of(
        key_of(due),
        Cell(place_words(due), "strong"),
        read_there(due),
        Cell(state, TONES[state], stressed=state),
        Cell(stock_words(bench, container), short=stock_words(bench, container, names=False))
        if container
        else Cell(literal(due.subject)),
        age(moment.now - due.due),
        harm,
        Cell(age(moment.now - due.last.at) if due.last else "never", "quiet"),
        sign=SIGNS[state],
    )


def overdue_head(late: list[Due], moment: Moment, *, is_whole: bool) -> tuple[Line, ...]:
    """The words above the list."""
    states = [state_of(due, moment.now) for due in late]
    if not late:
        return (line(of_what_is_read("Nothing is late.", is_whole=is_whole), tone="strong"),)
    counts = ", ".join(f"{states.count(state)} {state}" for state in STATES if state in states)
    first = Cell("what is late", "strong")
    return (line(first, f"   {counts}", Cell("   the worst first", "quiet")),)
