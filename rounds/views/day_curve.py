"""Readings of the last days, drawn with their limits; the same as a table of each day's lowest and
highest.

A mark stands for the highest reading of its time, ``-`` for a limit. All values are in the keeper's
units.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from math import floor, isfinite

from msgspec import Struct

from rounds.bench.measures import measures_of
from rounds.bench.state import Bench, Container
from rounds.checks.heat import warm_and_hot
from rounds.checks.round_clock import Moment
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.kept_stems import number_setting
from rounds.forecasts.warmth import warmth_at
from rounds.grouping import grouped
from rounds.surroundings.moat import LOW_MM
from rounds.tallies.warmth import HIGHEST_AT, LOWEST_AT, instant_of
from rounds.views.cells import Cell, Line, line
from rounds.views.time_axis import Axis, axis_before
from rounds.views.words import literal

LEAST_INCHES = 0.1  # a row of a moat that is read in inches


def moat_curve(bench: Bench, moment: Moment, container: Container) -> DayCurve | None:
    """The depths that were read in the last days; None where none was, or no moat guards it."""
    whose, barrier, moat = bench.moat_of(container)
    since = days_back(moment)
    measures = measures_of(bench.settings)

    def depth(millimetres: float) -> float:
        return float(measures.depth(millimetres).split()[0])

    read = tuple((one.at, depth(one.mm)) for one in moat.depths if since <= one.at <= moment.now)
    if barrier != "moat" or not read:
        return None
    name = f"moat of {'shelf ' if whose in bench.shelves else ''}{literal(whose)}"
    low = Limit(depth(number_setting(bench, "moat low", LOW_MM, 0, 100)), "low")
    return DayCurve(
        (Marks(name, "o", read),),
        (low,),
        measures.length,
        WHOLE if measures.length == "mm" else LEAST_INCHES,
    )


def moat_aloud(
    curve: DayCurve, bench: Bench, moment: Moment, foresight: Forecasts, container: Container
) -> str:
    """The last depth, and when it will be low."""
    _, _, moat = bench.moat_of(container)
    coming = foresight.moat(moat, moment.now)
    low = ""
    if coming and coming.low_at and coming.low_at > moment.now:
        low = f"; low {moment.clock(coming.low_at)}"
    return f"{last_words(curve.marks[0], curve, moment)}{low}"


TAKEN_FOR = (
    f"a lowest read by hand stands in the drawing at {LOWEST_AT:%H:%M}, a highest at"
    f" {HIGHEST_AT:%H:%M}"
)


def warmth_curve(
    bench: Bench, moment: Moment, foresight: Forecasts, container: Container
) -> DayCurve | None:
    """What was read in the last days; None where nothing was."""
    measures = measures_of(bench.settings)

    def degrees(celsius: float) -> float:
        return float(measures.warmth_number(celsius)) if isfinite(celsius) else celsius

    def marks(place: str, name: str, sign: str) -> Marks:
        since = days_back(moment)
        place_temperatures = warmth_at(
            bench, (place,), moment.zone, since, moment.now, foresight.logged
        )
        if place_temperatures.assumed:
            return Marks(name, sign, ())
        # One reading alone is held to the ends of the span: what was read lies between the first
        # and the last that are told.
        first, last = (
            max(since, min(trace_source.first for trace_source in place_temperatures.series)),
            max(source.last for source in place_temperatures.series),
        )
        read = ((instant_of(day), celsius) for day, celsius in place_temperatures.readings)
        return Marks(
            name, sign, tuple((at, degrees(celsius)) for at, celsius in read if first <= at <= last)
        )

    own, *wider = bench.places_of(container.code)
    around = (marks(place, _name(bench, place), ".") for place in wider)
    shown = [marks(own, literal(own), "o"), *[one for one in around if one.readings][:1]]
    warm_c, hot_c = warm_and_hot(bench, moment, container)
    limits = Limit(degrees(warm_c), "warm"), Limit(degrees(hot_c), "hot")
    read = tuple(one for one in shown if one.readings)
    return DayCurve(read, limits, measures.temperature) if read else None


def _name(bench: Bench, place: str) -> str:
    return literal(f"shelf {place}" if place in bench.shelves else place or "the room")


def warmth_aloud(curve: DayCurve, moment: Moment) -> str:
    """The curve in a sentence: the highest of each of the last three days, and the last reading of
    what is around it."""
    first, *others = curve.marks
    days = list(extremes(first, moment).items())[-3:]
    highest = ", ".join(
        f"{told(curve, high)} {'today' if day == moment.today else f'{day:%a}'}"
        for day, (_, high) in days
    )
    return "; ".join(
        [
            f"warmth of {first.name}: highest {highest}",
            *(last_words(marks, curve, moment) for marks in others),
        ]
    )


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
    base = _base(curve, step)
    for number in range(high, low - 1, -1):
        limits = [limit for limit in curve.limits if _row(limit.value, step, base) == number]
        signs = ["-" if limits else " "] * axis.cells
        for sign, values in highest:
            for cell, value in values.items():
                if _row(value, step, base) == number:
                    signs[cell] = sign
        words = "".join(f" {limit.value:g}: {limit.word}" for limit in limits)
        if len(limits) > 1:
            words = f" {', '.join(limit.word for limit in limits)}"
        begins = number * step + base
        begins = 0 if begins < 0 <= number * step + step else begins  # no moat is deeper than dry
        label = f"{round(begins, 1):g} {curve.unit} |"
        lines.append(line(Cell(f"{label:>{LABEL}}", "quiet"), "".join(signs), Cell(words, "quiet")))
    lines.append(line(f"{'+':>{LABEL}}{_days(axis)}", tone="quiet"))
    text = "    ".join(f"{marks.sign} {last_words(marks, curve, moment)}" for marks in curve.marks)
    return (*lines, line(f"{' ' * LABEL}{text}"))


def _row(value: float, step: float, base: float) -> int | None:
    """The number of the row in which a value is drawn."""
    return floor((value - base) / step + 1e-9) if isfinite(value) else None


def _base(curve: DayCurve, step: float) -> float:
    """Where a row begins, so that the lowest limit is the edge of its row: what is below it is
    drawn below its line."""
    return min((limit.value for limit in curve.limits if isfinite(limit.value)), default=0) % step


def _scale(curve: DayCurve, rows: int) -> tuple[int, int, float]:
    """The lowest and the highest row, and how many units a row is."""
    values = [value for marks in curve.marks for _, value in marks.readings]
    values += [limit.value for limit in curve.limits if isfinite(limit.value)]
    for step in STEPS:
        base = _base(curve, step)
        low, high = (floor((end - base) / step + 1e-9) for end in (min(values), max(values)))
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
    return f"{marks.name} {told(curve, value)}, {moment.clock(at)}"


def told(curve: DayCurve, value: float) -> str:
    """A value with its unit."""
    return f"{round(value, 1 if curve.least >= WHOLE else 2):g} {curve.unit}"


def curve_table(curve: DayCurve, moment: Moment) -> Iterator[Line]:
    """The same numbers: for each day the lowest and highest of each place, then the limits."""
    wide = max(10, *((len(marks.name) + 3) // 2 for marks in curve.marks))
    names = "".join(f"{marks.name:>{2 * wide}}" for marks in curve.marks)
    ends = f"{'lowest':>{wide}}{'highest':>{wide}}" * len(curve.marks)
    yield line(f"{'':<8}{names}", tone="quiet")
    yield line(f"{'day':<8}{ends}", tone="quiet")
    by_day = [extremes(marks, moment) for marks in curve.marks]
    for day in sorted({day for days in by_day for day in days}):
        numbers = [
            told(curve, days[day][end]) if day in days else "" for days in by_day for end in (0, 1)
        ]
        yield line(
            f"{f'{day:%a} {day.day}':<8}{''.join(f'{number:>{wide}}' for number in numbers)}"
        )
    limits = ", ".join(
        f"{limit.word} from {told(curve, limit.value)} on"
        for limit in curve.limits
        if isfinite(limit.value)
    )
    yield from ([line(limits, tone="quiet")] if limits else [])


def extremes(marks: Marks, moment: Moment) -> dict[date, tuple[float, float]]:
    """The lowest and highest reading of each local day."""
    by_day = grouped((at.astimezone(moment.zone).date(), value) for at, value in marks.readings)
    return {day: (min(values), max(values)) for day, values in by_day.items()}
