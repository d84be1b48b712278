"""The bench and what is due as plain lines, for a pipe, a printer or a screen reader."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta

from rounds.bench.state import Bench
from rounds.checks.due import Due, standing
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.forecasts.foresight import Forecasts
from rounds.views.bench_page import BenchFilter, BenchPage, bench_page, urgency
from rounds.views.gaps import gap_lines, misfit_words
from rounds.views.overdue_page import place_words
from rounds.views.states import harm_words, state_of, when_words
from rounds.views.words import clock


def bench_lines(
    bench: Bench,
    dues: list[Due],
    moment: Moment,
    gaps: Sequence[str] = (),
    foresight: Forecasts | None = None,
) -> Iterator[str]:
    """That the book is not whole where it is not, the whole bench, then what is due."""
    yield from gap_lines(gaps)
    if bench.misfits:
        yield misfit_words(bench.misfits)
    page = bench_page(bench, dues, moment, BenchFilter(), foresight=foresight)
    for line in page.head:
        yield line.text.rstrip()
    if page.note:
        yield page.note
    yield ""
    yield from _table(page)
    yield ""
    yield "due now:"
    yield from due_lines(due_now(dues, moment, timedelta(0)), moment, is_whole=not gaps)


def _table(page: BenchPage) -> Iterator[str]:
    heads = [column.heading for column in page.columns]
    cells = [heads, *([cell.text for cell in row.cells] for row in page.rows)]
    sizes = [max(len(line[position]) for line in cells) for position in range(len(heads))]
    for line in cells:
        yield "  ".join(text.ljust(size) for text, size in zip(line, sizes, strict=True)).rstrip()


def due_now(dues: list[Due], moment: Moment, within: timedelta) -> list[Due]:
    """What is due by then, the most urgent first."""
    by = moment.now + within
    held = [due for due in dues if not (due.put_off_until and due.put_off_until > by)]
    result = [due for due in held if due.due <= by or standing(due, moment.now) != "ahead"]
    return sorted(result, key=lambda due: (*urgency(due, moment.now), due.where, due.check))


def due_lines(dues: list[Due], moment: Moment, *, is_whole: bool = True) -> Iterator[str]:
    """A line for each: where, what, and how late it is, now, or when."""
    if not dues:
        yield "nothing is due" if is_whole else "nothing is due in what can be read"
    for due in dues:
        state = state_of(due, moment.now)
        harm = ""
        if state == "in danger":
            harm = f" {harm_words(due, moment)}"
        elif due.harm and state != "due":
            harm = f", in danger from {clock(due.harm, moment.now, moment.zone)}"
        yield (
            f"{place_words(due):<10}  {CHECKS[due.check].label:<8}  {when_words(due, moment)}{harm}"
        )
