"""How warm it is where an animal stands, as heat above a threshold, and in words what that rests
on."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from datetime import datetime, timedelta, tzinfo

from msgspec import Struct

from rounds.bench.plurals import count
from rounds.bench.state import Bench
from rounds.biology.degree_days import Thresholds
from rounds.biology.forecast import COARSE_STEP_DAYS, HeatTrace, steady_trace, trace_of
from rounds.entries.climate import Air
from rounds.tallies.warmth import Series, TraceGap, TraceSource, trace

USUAL_C = 20.0  # where nothing was read and the book does not say; our estimate, no source
LONGEST_HOLE_DAYS = 1.0  # over a longer hole the mean of the rest is taken, and the hole is told

# readings from so long before a span may still speak for its beginning
EARLIER_READINGS = timedelta(days=4)

Logged = Callable[[str, datetime, datetime], Series | None]


def no_loggers(_place: str, _since: datetime, _until: datetime) -> None:
    """Where no logger was read."""


class PlaceTemperatures(Struct, frozen=True):
    """The temperatures of a place: readings (days since 1970, C), what they are in words, and where
    nothing was read."""

    readings: tuple[tuple[float, float], ...]
    used: str
    holes: tuple[TraceGap, ...]
    series: tuple[TraceSource, ...] = ()
    assumed: bool = False

    def trace(self, above: Thresholds, until: float | None = None) -> HeatTrace:
        """Heat between thresholds, as it was known by a day."""
        if self.assumed:
            end, temperature_c = self.readings[-1]
            start = end - COARSE_STEP_DAYS
            return steady_trace(temperature_c=temperature_c, above=above, start=start)
        known = (
            self.readings
            if until is None
            else [reading for reading in self.readings if reading[0] <= until]
        )
        if not known:
            known = self.readings[:1]
        if len(known) < 2:
            known = [known[0], (known[0][0] + 1e-3, known[0][1])]
        return trace_of(known, above=above, longest_gap_days=LONGEST_HOLE_DAYS)


def usual_c(bench: Bench) -> float:
    """The temperature to assume where nothing was read: the book's setting, else 20 C."""
    try:
        return min(45.0, max(-10.0, float(bench.settings.get("usual temperature", ""))))
    except ValueError:
        return USUAL_C


def warmth_at(
    bench: Bench,
    places: Sequence[str],
    zone: tzinfo,
    since: datetime,
    until: datetime,
    logged: Logged = no_loggers,
) -> PlaceTemperatures:
    """The warmth of a place, from the nearest of ``places`` of which something was read."""
    airs = [_lately(bench.air.get(place, []), since) for place in places]
    series = [one for one in (logged(place, since, until) for place in places) if one is not None]
    result = trace(airs, series, min(since, until), until, zone=zone, assumed_c=usual_c(bench))
    if result.assumed:
        return PlaceTemperatures(
            result.readings, f"nothing read here; {usual_c(bench):g} C assumed", (), assumed=True
        )
    return PlaceTemperatures(
        result.readings,
        "; ".join(_told(trace_source) for trace_source in result.used),
        result.holes,
        result.used,
    )


def _lately(airs: list[Air], since: datetime) -> list[Air]:
    """The readings that bear on the time since then; a bench holds them in the order in which they
    were read."""
    return airs[bisect_left(airs, since - EARLIER_READINGS, key=lambda air: air.at) :]


def _told(used: TraceSource) -> str:
    place = used.place or "the room"
    return f"{count(used.readings, 'logger reading' if used.logger else 'reading')} of {place}"
