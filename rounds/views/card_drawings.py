"""What is drawn on a container's card: eggs by day where females lay, the window of eggs and pupae,
warmth, the moat."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta

from msgspec import Struct

from rounds.bench.folding.female_days import LAYS_IN
from rounds.bench.measures import Measures, measures_of
from rounds.bench.state import Bench, Container
from rounds.checks.due_state import Due, pressing
from rounds.checks.heat import CHECK as HEAT
from rounds.checks.round_clock import Moment
from rounds.checks.timeline import Item, changes_of
from rounds.entries.searching import Searched
from rounds.forecasts.foresight import Forecasts
from rounds.views.ahead_page import SPANS, item_line
from rounds.views.cells import Line, line
from rounds.views.day_curve import (
    TAKEN_FOR,
    curve_lines,
    curve_table,
    moat_aloud,
    moat_curve,
    warmth_aloud,
    warmth_curve,
)
from rounds.views.egg_bars import egg_aloud, egg_days, egg_lines, egg_table
from rounds.views.time_axis import axis_of, day_row, drawn, tick_row

WINDOW_LABEL = 16  # cells before the drawing of a window
NOT_READ = line("No temperature was read here in the last days.", tone="quiet")


class Drawing(Struct, frozen=True):
    """A drawing, and the same as a table under a sentence that says it."""

    lines: tuple[Line, ...]
    table: tuple[Line, ...]


class Paper(Struct, frozen=True):
    """How much room there is: cells across, and rows of a drawing."""

    width: int
    rows: int


def drawings(
    bench: Bench,
    dues: Sequence[Due],
    moment: Moment,
    foresight: Forecasts,
    container: Container,
    searches: Sequence[Searched],
    paper: Paper,
) -> Iterator[Drawing]:
    """What is drawn, what matters most first: warmth where it is too warm, else what the animals
    do."""
    too_warm = any(
        due.check == HEAT.name
        and due.where == container.code
        and pressing(due, moment.now) != "ahead"
        for due in dues
    )
    warmth = _warmth(bench, moment, foresight, container, paper)
    if too_warm:
        yield warmth
    if container.females and container.purpose in LAYS_IN:
        eggs = egg_days(searches, moment, paper.width)
    else:
        eggs = ()
    if eggs:
        yield Drawing(egg_lines(eggs, paper.rows), (line(egg_aloud(eggs)), *egg_table(eggs)))
    if container.lots and all(lot.stage in ("egg", "pupa") for lot in container.lots):
        yield from _window(
            moment, changes_of(container, foresight), paper, measures_of(bench.settings)
        )
    if not too_warm:
        yield warmth
    yield from _moat(bench, moment, foresight, container, paper)


def _warmth(
    bench: Bench, moment: Moment, foresight: Forecasts, container: Container, paper: Paper
) -> Drawing:
    curve = warmth_curve(bench, moment, foresight, container)
    if curve is None:
        return Drawing((NOT_READ,), (NOT_READ,))
    table = (
        line(warmth_aloud(curve, moment)),
        *curve_table(curve, moment),
        line(TAKEN_FOR, tone="quiet"),
    )
    return Drawing(curve_lines(curve, moment, paper.width, paper.rows), table)


def _moat(
    bench: Bench, moment: Moment, foresight: Forecasts, container: Container, paper: Paper
) -> Iterator[Drawing]:
    curve = moat_curve(bench, moment, container)
    if curve is not None:
        words = line(moat_aloud(curve, bench, moment, foresight, container))
        yield Drawing(
            curve_lines(curve, moment, paper.width, paper.rows),
            (words, *curve_table(curve, moment)),
        )


def _window(
    moment: Moment, changes: Sequence[Item], paper: Paper, measures: Measures
) -> Iterator[Drawing]:
    """When eggs hatch or adults emerge: few, many, half of them."""
    dated = [item for item in changes if item.first is not None and item.last is not None]
    if not dated:
        return
    ends = max(item.last for item in dated if item.last) - moment.now + timedelta(days=1)
    span = next((span for _, span in SPANS if span >= ends), SPANS[-1][1])
    axis = axis_of(moment.now, moment.zone, span, max(12, paper.width - WINDOW_LABEL))
    before = " " * WINDOW_LABEL
    rows = [
        line(f"{f'{item.what} of {item.number}':<{WINDOW_LABEL}}{drawn(item, axis)}")
        for item in dated
    ]
    yield Drawing(
        (
            line(f"{before}{day_row(axis)}", tone="quiet"),
            line(f"{before}{tick_row(axis)}", tone="quiet"),
            *rows,
            line(f"{before}. few   o many   O half by then   ^ now", tone="quiet"),
        ),
        tuple(line(item_line(item, moment, measures)) for item in changes),
    )
