"""The bench and what is due as plain lines, for a pipe, a printer or a screen reader."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta

from rounds.bench.state import Bench
from rounds.checks.due_state import Due
from rounds.checks.round_clock import Moment
from rounds.forecasts.foresight import Forecasts
from rounds.views.bench_page import BenchFilter, BenchPage, bench_page
from rounds.views.due_lines import due_lines, due_now, lines_of
from rounds.views.gaps import gap_lines, misfit_words


def bench_lines(
    bench: Bench,
    dues: list[Due],
    moment: Moment,
    gaps: Sequence[str] = (),
    foresight: Forecasts | None = None,
) -> Iterator[str]:
    """That the book is not whole where it is not, the whole bench, then what is due."""
    yield from gap_lines(gaps)
    if misfits := misfit_words(bench):
        yield misfits
    page = bench_page(bench, dues, moment, BenchFilter(), foresight=foresight, is_whole=not gaps)
    for line in page.head:
        yield line.text.rstrip()
    if page.note:
        yield page.note
    yield ""
    yield from _table(page)
    yield ""
    yield "due now:"
    told = lines_of(due_now(dues, moment, timedelta(0)))
    yield from due_lines(list(told), moment, is_whole=not gaps)


def _table(page: BenchPage) -> Iterator[str]:
    heads = [column.heading for column in page.columns]
    cells = [heads, *([cell.text for cell in row.cells] for row in page.rows)]
    sizes = [max(len(line[position]) for line in cells) for position in range(len(heads))]
    for line in cells:
        yield "  ".join(text.ljust(size) for text, size in zip(line, sizes, strict=True)).rstrip()
