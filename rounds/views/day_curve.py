"""Readings of the last days, drawn with their limits; the same as a table of each day's lowest and
highest.

A mark stands for the highest reading of its time, ``-`` for a limit. All values are in the keeper's
units.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from math import floor, isfinite

from msgspec import Struct

from rounds.checks.round_clock import Moment
from rounds.views.cells import Cell, Line, line
from rounds.views.time_axis import Axis, axis_before
from rounds.views.words import clock

BACK = timedelta(days=7)
LABEL = 8  # cells of the numbers before the drawing
AFTER = 11  # cells of the limits' words behind it
STEPS = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)  # units a row
WHOLE = 1.0  # the least step of what is read in whole units


class Marks(Struct, frozen=True):
    """The readings of one place in the order of time, what it is called, and the sign that stands
    for it."""

    name: str
    sign: str
    readings: tuple[tuple[datetime, float], ...]


class Limit(Struct, frozen=True):
    """A limit and what lies beyond it, in a word; one that is not finite is none."""

    value: float
    word: str


class DayCurve(Struct, frozen=True):
    """Some places' readings with their limits; ``unit`` is C, F, mm or in; ``least`` the least step
    of a row."""

    marks: tuple[Marks, ...]
    limits: tuple[Limit, ...]
    unit: str
    least: float = WHOLE


def days_back(moment: Moment) -> datetime:
    """From when on readings are drawn: midnight six days ago, where the bench stands."""
    return axis_before(moment.now, moment.zone, BACK, BACK.days).start


def curve_lines(curve: DayCurve, moment: Moment, width: int, rows: int) -> tuple[Line, ...]:
    """The drawing in so many cells and rows or fewer, under it the days and the last readings."""
    axis = axis_before(moment.now, moment.zone, BACK, max(BACK.days, width - LABEL - AFTER))
    highest = [(marks.sign, _highest(marks, axis)) for marks in reversed(curve.marks)]
    lines = []
    low, high, step = _scale(curve, rows)
    for number in range(high, low - 1, -1):
        limits = [limit for limit in curve.limits if _row(limit.value, step) == number]
        signs = ["-" if limits else " "] * axis.cells
        for sign, values in highest:
            for cell, value in values.items():
                if _row(value, step) == number:
                    signs[cell] = sign
        words = "".join(f" {limit.value:g}: {limit.word}" for limit in limits)
        if len(limits) > 1:
            words = f" {', '.join(limit.word for limit in limits)}"
        label = f"{round(number * step, 1):g} {curve.unit} |"
        lines.append(line(Cell(f"{label:>{LABEL}}", "quiet"), "".join(signs), Cell(words, "quiet")))
    lines.append(line(Cell(f"{'+':>{LABEL}}{_days(axis)}", "quiet")))
    text = "    ".join(f"{marks.sign} {last_words(marks, curve, moment)}" for marks in curve.marks)
    return (*lines, line(f"{' ' * LABEL}{text}"))


def _row(value: float, step: float) -> int | None:
    """The number of the row in which a value is drawn."""
    return floor(value / step + 1e-9) if isfinite(value) else None


def _scale(curve: DayCurve, rows: int) -> tuple[int, int, float]:
    """The lowest and the highest row, and how many units a row is."""
    values = [value for marks in curve.marks for _, value in marks.readings]
    values += [limit.value for limit in curve.limits if isfinite(limit.value)]
    for step in STEPS:
        low, high = floor(min(values) / step + 1e-9), floor(max(values) / step + 1e-9)
        if step >= curve.least and high - low < rows:
            break
    return low, high, step


def _highest(marks: Marks, axis: Axis) -> dict[int, float]:
    """The highest reading in each letter of the axis."""
    found: dict[int, float] = {}
    for at, value in marks.readings:
        cell = axis.place(at)
        if 0 <= cell < axis.cells:
            found[cell] = max(value, found.get(cell, value))
    return found


def _days(axis: Axis) -> str:
    """The days at their midnights on a line of dashes."""
    signs = ["-"] * axis.cells
    a_day = timedelta(days=1) // axis.step
    for at in axis.midnights():
        words = next((way for way in (f"{at:%a} {at.day}", f"{at:%a}") if len(way) < a_day), "")
        signs[axis.place(at) : axis.place(at) + len(words)] = words
    return "".join(signs)


def last_words(marks: Marks, curve: DayCurve, moment: Moment) -> str:
    """The last reading of a place, and when it was."""
    at, value = marks.readings[-1]
    return f"{marks.name} {told(curve, value)}, {clock(at, moment.now, moment.zone)}"


def told(curve: DayCurve, value: float) -> str:
    """A value with its unit."""
    return f"{round(value, 1 if curve.least >= WHOLE else 2):g} {curve.unit}"


def curve_table(curve: DayCurve, moment: Moment) -> tuple[Line, ...]:
    """The same numbers: for each day the lowest and highest of each place, then the limits."""
    wide = max(10, *((len(marks.name) + 3) // 2 for marks in curve.marks))
    lines = [
        line(
            Cell(f"{'':<8}{''.join(f'{marks.name:>{2 * wide}}' for marks in curve.marks)}", "quiet")
        ),
        line(
            Cell(
                f"{'day':<8}{''.join(f'{end:>{wide}}' for _ in curve.marks for end in ('lowest', 'highest'))}",  # noqa: E501
                "quiet",
            )
        ),
    ]
    by_day = [extremes(marks, moment) for marks in curve.marks]
    for day in sorted({day for days in by_day for day in days}):
        numbers = [
            told(curve, days[day][end]) if day in days else "" for days in by_day for end in (0, 1)
        ]
        lines.append(
            line(f"{f'{day:%a} {day.day}':<8}{''.join(f'{number:>{wide}}' for number in numbers)}")
        )
    limits = ", ".join(
        f"{limit.word} from {told(curve, limit.value)} on"
        for limit in curve.limits
        if isfinite(limit.value)
    )
    return (*lines, *([line(Cell(limits, "quiet"))] if limits else []))


def extremes(marks: Marks, moment: Moment) -> dict[date, tuple[float, float]]:
    """The lowest and highest reading of each local day."""
    found: dict[date, list[float]] = {}
    for at, value in marks.readings:
        found.setdefault(at.astimezone(moment.zone).date(), []).append(value)
    return {day: (min(values), max(values)) for day, values in found.items()}
