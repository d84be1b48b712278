"""Plots drawn in text: series in, lines out.

Readable without colour; every plot has its table of numbers. A plot says what is drawn and in what
units, not how: the screens draw it in characters here, the life-history note draws the same plot as
a picture.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from rounds.views.fitting import joined
from rounds.views.words import cut_to, number

LEAST_WIDTH, LEAST_HEIGHT = 30, 8
LIMIT_SIGN = "·"
LIMITS = "limits, 95 %"


@dataclass(frozen=True, slots=True)
class PlotMark:
    """A value at a place, with the limits it lies between where they are known."""

    x: float
    y: float
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class PlotSeries:
    """Marks that belong together.

    ``drawn`` is 'steps' (each value holds until the next), 'line' (joined) or 'points' (each with
    its limits); ``sign`` stands for it in the drawing, for steps only in the legend.
    """

    name: str
    marks: tuple[PlotMark, ...]
    drawn: Literal["steps", "line", "points"] = "points"
    sign: str = "o"


@dataclass(frozen=True, slots=True)
class Plot:
    """Some series over the same axes; ranges left out are those of the marks. ``whole``: both axes
    count whole days or animals."""

    title: str
    x_title: str
    y_title: str
    series: tuple[PlotSeries, ...]
    x_range: tuple[float, float] | None = None
    y_range: tuple[float, float] | None = None
    x_told: Callable[[float], str] | None = None
    y_told: Callable[[float], str] | None = None
    whole: bool = False

    def x_words(self, value: float) -> str:
        """A value of the lower axis in words."""
        return self.x_told(value) if self.x_told else number(value, 2)

    def y_words(self, value: float) -> str:
        """A value of the left axis in words."""
        return self.y_told(value) if self.y_told else number(value, 3)

    @property
    def marks(self) -> list[PlotMark]:
        """The marks of every series."""
        return [mark for series in self.series for mark in series.marks]


def ticks(low: float, high: float, most: int, *, whole: bool = False) -> list[float]:
    """Round numbers between two values, both ends included where they are round: at most so
    many; ``whole`` ones alone."""
    if not high > low or most < 2:
        return [low]
    step: float = 10.0 ** math.floor(math.log10((high - low) / most))
    for factor in (1, 2, 2.5, 5, 10, 20):
        if (high - low) / (step * factor) <= most - 1 + 1e-9:
            step *= factor
            break
    step = max(1.0, step) if whole else step
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    return [position * step for position in range(first, last + 1)]


def ranges(plot: Plot) -> tuple[tuple[float, float], tuple[float, float]]:
    """The ranges of both axes; a range of no width is widened."""
    marks = plot.marks
    across = _widened(plot.x_range or [mark.x for mark in marks])
    heights = [
        value for mark in marks for value in (mark.y, mark.low, mark.high) if value is not None
    ]
    return across, _widened(plot.y_range or heights)


def _widened(values: Sequence[float]) -> tuple[float, float]:
    low, high = min(values, default=0.0), max(values, default=1.0)
    return (low, high) if high > low else (low - 0.5, high + 0.5)


class _Paper:
    """A sheet of characters under the two axes."""

    def __init__(self, plot: Plot, width: int, height: int) -> None:
        self.width, self.height = width, height
        (self.x_low, self.x_high), (self.y_low, self.y_high) = ranges(plot)
        self.rows = [[" "] * width for _ in range(height)]

    def column(self, x: float) -> int:
        """The column of a value, at the edge where it lies outside."""
        place = (x - self.x_low) / (self.x_high - self.x_low)
        return max(0, min(self.width - 1, round(place * (self.width - 1))))

    def row(self, y: float) -> int:
        """The row of a value, counted from above."""
        place = (y - self.y_low) / (self.y_high - self.y_low)
        return max(0, min(self.height - 1, round((1 - place) * (self.height - 1))))

    def put(self, column: int, row: int, sign: str, *, over: bool = True) -> None:
        """A sign; one that is not to stand over others goes only where nothing is."""
        if over or self.rows[row][column] == " ":
            self.rows[row][column] = sign


def _steps(paper: _Paper, series: PlotSeries, plot: Plot) -> None:
    end = (plot.x_range or (0.0, paper.x_high))[1]
    marks = [*series.marks, PlotMark(max(end, series.marks[-1].x), series.marks[-1].y)]
    for mark, after in pairwise(marks):
        first, last = paper.column(mark.x), paper.column(after.x)
        for limit in (mark.low, mark.high):
            if limit is not None:
                for column in range(first, last + 1):
                    paper.put(column, paper.row(limit), LIMIT_SIGN, over=False)
    for mark, after in pairwise(marks):
        first, last, row, below = (
            paper.column(mark.x),
            paper.column(after.x),
            paper.row(mark.y),
            paper.row(after.y),
        )
        for column in range(first + (mark is not marks[0]), last):
            paper.put(column, row, "─")
        if below > row:
            paper.put(last, row, "┐")
            for between in range(row + 1, below):
                paper.put(last, between, "│")
            paper.put(last, below, "└")
        else:
            paper.put(last, row, "─")


def _line(paper: _Paper, series: PlotSeries) -> None:
    for mark, after in pairwise(series.marks):
        first, last = paper.column(mark.x), paper.column(after.x)
        for column in range(first, last + 1):
            share = (column - first) / (last - first) if last > first else 0.0
            paper.put(column, paper.row(mark.y + share * (after.y - mark.y)), series.sign)


def _points(paper: _Paper, series: PlotSeries) -> None:
    for mark in series.marks:
        column = paper.column(mark.x)
        if mark.low is not None and mark.high is not None:
            top, bottom = paper.row(mark.high), paper.row(mark.low)
            for row in range(top, bottom + 1):
                paper.put(column, row, "│", over=False)
            if bottom > top:
                paper.put(column, top, "┬", over=False)
                paper.put(column, bottom, "┴", over=False)
    for mark in series.marks:
        paper.put(paper.column(mark.x), paper.row(mark.y), series.sign)


def plot_lines(plot: Plot, width: int, height: int) -> tuple[str, ...]:
    """The plot in so many columns and lines, axes, units and legend among them.

    Args:
        width: columns, at least 30. height: lines, at least 8.
    """
    width, height = max(LEAST_WIDTH, width), max(LEAST_HEIGHT, height)
    if not plot.marks:
        return (plot.title, "  nothing to draw yet")
    legend = _legend(plot, width)
    deep = max(3, height - 4 - len(legend))
    _, (y_low, y_high) = ranges(plot)
    levels = ticks(y_low, y_high, max(2, (deep + 1) // 2), whole=plot.whole)
    margin = min(max((len(plot.y_words(level)) for level in levels), default=1), 12)
    paper = _Paper(plot, width - margin - 3, deep)
    for series in sorted(plot.series, key=lambda one: ("line", "steps", "points").index(one.drawn)):
        if not series.marks:
            continue
        if series.drawn == "steps":
            _steps(paper, series, plot)
        elif series.drawn == "line":
            _line(paper, series)
        else:
            _points(paper, series)
    told = {paper.row(level): plot.y_words(level) for level in levels}
    drawn = [
        f"{cut_to(told.get(row, ''), margin):>{margin}}"
        f" {'┤' if row in told else '│'}{''.join(signs)}".rstrip()
        for row, signs in enumerate(paper.rows)
    ]
    return (
        cut_to(f"{plot.title}: {plot.y_title}", width),
        *drawn,
        *_lower_axis(plot, paper, margin),
        *legend,
    )


def _lower_axis(plot: Plot, paper: _Paper, margin: int) -> tuple[str, str, str]:
    rule, words = ["─"] * paper.width, [" "] * (paper.width + 2)
    free = 0
    widest = max(len(plot.x_words(value)) for value in (paper.x_low, paper.x_high))
    most = max(2, paper.width // (widest + 4))
    for value in ticks(paper.x_low, paper.x_high, most, whole=plot.whole):
        text, column = plot.x_words(value), paper.column(value)
        start = max(0, min(column - len(text) // 2, paper.width - len(text)))
        if start < free:
            continue
        rule[column] = "┬"
        words[start : start + len(text)] = text
        free = start + len(text) + 1
    edge = " " * (margin + 1)
    middle = max(0, (paper.width - len(plot.x_title)) // 2)
    return (
        f"{edge}└{''.join(rule)}",
        f"{edge} {''.join(words)}".rstrip(),
        f"{edge} {' ' * middle}{cut_to(plot.x_title, paper.width)}",
    )


def _legend(plot: Plot, width: int) -> tuple[str, ...]:
    """What each sign stands for; nothing where one series without limits speaks for itself."""
    parts = [
        f"{'─┐' if one.drawn == 'steps' else one.sign} {one.name}"
        for one in plot.series
        if one.marks
    ]
    if any(
        series.drawn == "steps" and any(mark.low is not None for mark in series.marks)
        for series in plot.series
    ):
        parts.append(f"{LIMIT_SIGN} {LIMITS}")
    if any(
        one.drawn == "points" and any(mark.low is not None for mark in one.marks)
        for one in plot.series
    ):
        parts.append(f"┬┴ {LIMITS}")
    return tuple(joined((cut_to(part, width) for part in parts), width, "   "))


def plot_table(plot: Plot) -> tuple[str, ...]:
    """The same numbers as a table: what is drawn, read out."""
    if not plot.marks:
        return (plot.title, "  nothing to show yet")
    limits = any(mark.low is not None for mark in plot.marks)
    heads = [plot.x_title, plot.y_title, *(["low 95 %", "high 95 %"] if limits else [])]
    rows_of = {
        place: [_row(plot, mark, limits=limits) for mark in series.marks]
        for place, series in enumerate(plot.series)
    }
    every = [heads, *(row for rows in rows_of.values() for row in rows)]
    sizes = [max(len(row[position]) for row in every) for position in range(len(heads))]

    def told(row: Sequence[str]) -> str:
        return f"  {'  '.join(f'{text:>{size}}' for text, size in zip(row, sizes, strict=True))}".rstrip()  # noqa: E501

    lines = [plot.title, told(heads)]
    for place, series in enumerate(plot.series):
        if series.marks:
            lines += [series.name, *(told(row) for row in rows_of[place])]
    return tuple(lines)


def _row(plot: Plot, mark: PlotMark, *, limits: bool) -> list[str]:
    row = [plot.x_words(mark.x), plot.y_words(mark.y)]
    if limits:
        row += ["" if value is None else plot.y_words(value) for value in (mark.low, mark.high)]
    return row
