"""How warm it was where a container stands, day by day, drawn with the limits that the plan sets; the same as a table.

``o`` is the container's own warmth, ``.`` that of the shelf or the room around it, ``-`` the limits. A mark stands for the
highest reading of its time. Where only the room was read, only the room is drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, datetime, timedelta
from math import floor, isfinite

from msgspec import Struct

from rounds.bench.measures import Measures, measures_of
from rounds.bench.state import Bench, Container
from rounds.checks.heat import warm_and_hot
from rounds.checks.round_clock import Moment
from rounds.forecasts.foresight import Foresight
from rounds.forecasts.warmth import warmth_at
from rounds.tallies.warmth import HIGHEST_AT, LOWEST_AT, instant_of
from rounds.views.cells import Cell, Line, line
from rounds.views.time_axis import Axis, axis_before
from rounds.views.words import clock, literal

BACK = timedelta(days=7)
LABEL = 7  # cells of the temperatures before the drawing
AFTER = 12  # cells of the limits' words behind it
TAKEN_FOR = f"a lowest read by hand stands in the drawing at {LOWEST_AT:%H:%M}, a highest at {HIGHEST_AT:%H:%M}"
STEPS = (1.0, 2.0, 5.0, 10.0, 20.0)  # degrees a row


class Warm(Struct, frozen=True):
    """The readings of one place in the last days, in the order of time, in C; ``name`` is what it is called."""

    name: str
    sign: str
    readings: tuple[tuple[datetime, float], ...]


class Curve(Struct, frozen=True):
    """The warmth of a container's own and of what is around it, with its limits in C [inf: none]."""

    places: tuple[Warm, ...]
    warm_c: float
    hot_c: float
    measures: Measures


def curve_of(bench: Bench, moment: Moment, foresight: Foresight, container: Container) -> Curve | None:
    """What was read in the last seven days; None where nothing was."""

    since = axis_before(moment.now, moment.zone, BACK, 7).start

    def read(place: str) -> tuple[tuple[datetime, float], ...]:
        found = warmth_at(bench, (place,), moment.zone, since, moment.now, foresight.logged)
        if found.assumed:
            return ()
        first, last = min(used.first for used in found.series), max(used.last for used in found.series)
        known = ((instant_of(day), celsius) for day, celsius in found.readings)  # one alone is held to the ends of the span
        return tuple((at, celsius) for at, celsius in known if max(since, first) <= at <= last)

    own, *wider = bench.places_of(container.code)
    around = next(((place, readings) for place in wider if (readings := read(place))), None)
    places = [Warm(literal(container.code), "o", read(own))]
    if around is not None:
        name = f"shelf {around[0]}" if around[0] in bench.shelves else around[0] or "the room"
        places.append(Warm(literal(name), ".", around[1]))
    shown = tuple(place for place in places if place.readings)
    return Curve(shown, *warm_and_hot(bench, moment, container), measures_of(bench.settings)) if shown else None


def curve_lines(curve: Curve, moment: Moment, width: int, rows: int) -> tuple[Line, ...]:
    """The drawing in so many cells and about so many rows, its axis and its legend under it."""
    axis = axis_before(moment.now, moment.zone, BACK, max(7, width - LABEL - AFTER))
    degrees = _degrees(curve)
    limits = {"warm": degrees(curve.warm_c), "hot": degrees(curve.hot_c)}
    levels = _levels(curve, rows)
    step = levels[0] - levels[1] if len(levels) > 1 else 1.0
    lines = []
    for level in levels:
        here = {name: limit for name, limit in limits.items() if isfinite(limit) and level <= limit < level + step}
        signs = ["-" if here else " "] * axis.cells
        words = " warm, hot" if len(here) > 1 else "".join(f" {limit:g}: {name}" for name, limit in here.items())
        for place in reversed(curve.places):
            for cell, value in _highest(place, axis).items():
                if level <= degrees(value) < level + step:
                    signs[cell] = place.sign
        label = f"{level:g} {curve.measures.temperature} |"
        lines.append(line(Cell(f"{label:>{LABEL}}", "quiet"), Cell("".join(signs)), Cell(words, "quiet")))
    lines.append(line(Cell(f"{' ' * (LABEL - 1)}+{_days(axis)}", "quiet")))
    told = "    ".join(f"{place.sign} {_last(place, curve, moment)}" for place in curve.places)
    return (*lines, line(Cell(f"{' ' * LABEL}{told}")))


def _degrees(curve: Curve) -> Callable[[float], float]:
    """C in the keeper's degrees."""
    return lambda celsius: celsius if curve.measures.temperature == "C" else celsius * 9 / 5 + 32


def _levels(curve: Curve, rows: int) -> list[float]:
    """The temperature at the foot of each row, the highest first."""
    degrees = _degrees(curve)
    values = [degrees(value) for place in curve.places for _, value in place.readings]
    values += [degrees(limit) for limit in (curve.warm_c, curve.hot_c) if isfinite(limit)]
    low, high = min(values), max(values)
    fits = (step for step in STEPS if floor(high / step) - floor(low / step) + 1 <= rows)
    step = next(fits, STEPS[-1])
    first, last = floor(low / step), floor(high / step)
    return [number * step for number in range(last, first - 1, -1)]


def _highest(place: Warm, axis: Axis) -> dict[int, float]:
    """The highest reading in each letter of the axis."""
    found: dict[int, float] = {}
    for at, value in place.readings:
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


def _last(place: Warm, curve: Curve, moment: Moment) -> str:
    at, value = place.readings[-1]
    return f"{place.name} {_warmth(curve, value)}, {clock(at, moment.now, moment.zone)}"


def _warmth(curve: Curve, value: float) -> str:
    return curve.measures.warmth(round(value, 1))


def curve_table(curve: Curve, moment: Moment) -> tuple[Line, ...]:
    """The same numbers: for each day the lowest and highest of each place, then the limits."""
    wide = max(9, *((len(place.name) + 3) // 2 for place in curve.places))
    lines = [
        line(Cell(f"{'':<8}{''.join(f'{place.name:>{2 * wide}}' for place in curve.places)}", "quiet")),
        line(Cell(f"{'day':<8}{''.join(f'{end:>{wide}}' for _ in curve.places for end in ('lowest', 'highest'))}", "quiet")),
    ]
    by_day = [_by_day(place, moment) for place in curve.places]
    for day in sorted({day for days in by_day for day in days}):
        told = "".join(
            f"{_warmth(curve, values[end]) if (values := days.get(day)) else '':>{wide}}" for days in by_day for end in (0, 1)
        )
        lines.append(line(f"{f'{day:%a} {day.day}':<8}{told}"))
    lines.append(line(Cell(", ".join(_limit_words(curve)) or "no limit of warmth", "quiet")))
    lines.append(line(Cell(TAKEN_FOR, "quiet")))
    return tuple(lines)


def _by_day(place: Warm, moment: Moment) -> dict[date, tuple[float, float]]:
    found: dict[date, list[float]] = {}
    for at, value in place.readings:
        found.setdefault(at.astimezone(moment.zone).date(), []).append(value)
    return {day: (min(values), max(values)) for day, values in found.items()}


def _limit_words(curve: Curve) -> Iterator[str]:
    for name, limit in (("warm", curve.warm_c), ("hot", curve.hot_c)):
        if isfinite(limit):
            yield f"{name} from {_warmth(curve, limit)} on"


def curve_aloud(curve: Curve, moment: Moment) -> str:
    """The curve in a sentence: the highest of each of the last three days, and the last reading of what is around it."""
    first, *others = curve.places
    days = list(_by_day(first, moment).items())[-3:]
    told = ", ".join(f"{_warmth(curve, high)} {'today' if day == moment.today else f'{day:%a}'}" for day, (_, high) in days)
    return "; ".join([f"warmth of {first.name}: highest {told}", *(_last(place, curve, moment) for place in others)])
