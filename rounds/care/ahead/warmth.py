"""How warm it was where an animal stood: what was read of its container, its shelf and the room, the nearest first."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, time, timedelta, tzinfo

from msgspec import Struct

from rounds.bench.kinds import Air
from rounds.bench.state import Bench, Container
from rounds.biology.forecast import Trace, steady_trace, trace_of
from rounds.care.ahead.needs import day_of

USUAL_C = 20.0  # where nothing was read and the book does not say; our estimate, no source
COLDEST_AT, WARMEST_AT = time(5), time(15)  # common practice, no source
ASSUMED_BACK_DAYS = 100.0  # an assumed temperature is taken from so long before the newest entry
LONGEST_HOLE_DAYS = 1.5  # rounds are half a day apart; a hole is told beyond a missed day


class Warmth(Struct, frozen=True):
    """The temperatures of a place: readings (days since 1970, C), what they are, and the holes between them."""

    readings: tuple[tuple[float, float], ...]
    used: str
    assumed_c: float
    since: float = 0.0  # from when the assumed temperature is taken, days since 1970

    def trace(self, lower_c: float, until: float | None = None) -> Trace:
        """Heat above a threshold, as known by a day; a constant assumed temperature where too little was read."""
        known = self.readings if until is None else [one for one in self.readings if one[0] <= until]
        if len({day for day, _ in known}) < 2:
            start = known[0][0] if known else self.since
            return steady_trace(temperature_c=known[0][1] if known else self.assumed_c, lower_c=lower_c, start=start)
        return trace_of(known, lower_c=lower_c, longest_gap_days=LONGEST_HOLE_DAYS)


def places_of(bench: Bench, code: str, shelf: str = "") -> tuple[str, ...]:
    """Where a container's temperature may have been read: itself, what it stands in, its shelf, the room."""
    found = [code]
    container: Container | None = bench.containers.get(code)
    while container is not None and container.inside and container.inside not in found:
        found.append(container.inside)
        container = bench.containers.get(container.inside)
    standing = bench.containers.get(code)
    found += [one for one in (shelf, standing.shelf if standing else "") if one and one not in found]
    return (*found, "")


def usual_c(bench: Bench) -> float:
    """The temperature to assume where nothing was read: the book's setting, else 20 C."""
    try:
        return min(45.0, max(-10.0, float(bench.settings.get("usual temperature", ""))))
    except ValueError:
        return USUAL_C


def warmth_at(bench: Bench, places: Sequence[str], zone: tzinfo) -> Warmth:
    """The warmth of the nearest place of which at least two readings are known."""
    for place in places:
        readings = bench.air.get(place, [])
        if sum(_tells(one) for one in readings) >= 2:
            name = place or "the room"
            return Warmth(tuple(as_points(readings, zone)), f"{len(readings)} readings of {name}", usual_c(bench))
    assumed = usual_c(bench)
    since = day_of(bench.newest) - ASSUMED_BACK_DAYS if bench.newest else 0.0
    return Warmth((), f"nothing read yet; {assumed:g} C assumed", assumed, since)


def _tells(reading: Air) -> bool:
    return reading.temperature_c is not None or (reading.low_c is not None and reading.high_c is not None)


def as_points(readings: Sequence[Air], zone: tzinfo) -> list[tuple[float, float]]:
    """Readings as points in time: a reading of now where it was taken, lowest and highest at the hours they usually come."""
    points: list[tuple[float, float]] = []
    before: datetime | None = None
    for one in readings:
        if one.low_c is not None and one.high_c is not None:
            since = before or one.at - timedelta(hours=24)
            points.append((_hour_within(COLDEST_AT, since, one.at, zone), one.low_c))
            points.append((_hour_within(WARMEST_AT, since, one.at, zone), one.high_c))
        if one.temperature_c is not None:
            points.append((day_of(one.at), one.temperature_c))
        if _tells(one):
            before = one.at
    return points


def _hour_within(hour: time, since: datetime, until: datetime, zone: tzinfo) -> float:
    """When that hour of the day last came in a span; the span's middle where it did not."""
    here = until.astimezone(zone)
    for days in (0, 1):
        came = datetime.combine(here.date() - timedelta(days=days), hour, tzinfo=zone).astimezone(UTC)
        if since < came <= until:
            return day_of(came)
    return (day_of(since) + day_of(until)) / 2
