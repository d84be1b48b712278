"""How warm it was where a container stands: ``o`` its own warmth, ``.`` that of the shelf or the
room around it.

Where only the room was read, only the room is drawn.
"""

from __future__ import annotations

from math import isfinite

from rounds.bench.measures import measures_of
from rounds.bench.state import Bench, Container
from rounds.checks.heat import warm_and_hot
from rounds.checks.round_clock import Moment
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.warmth import warmth_at
from rounds.tallies.warmth import HIGHEST_AT, LOWEST_AT, instant_of
from rounds.views.day_curve import DayCurve, Limit, Marks, days_back, extremes, last_words, told
from rounds.views.words import literal

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
