"""How warm it was for animals while they went from container to container."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, tzinfo
from itertools import pairwise

from rounds.bench.kinds import Air
from rounds.record.cohorts import Course, Stay
from rounds.record.warmth import Series, day_of, trace

A_DAY = timedelta(days=1)
AROUND = timedelta(days=3)  # readings this near the span may speak for its ends
ENOUGH_OF_IT = 0.5  # of a span must have been read for its mean to be told; our choice


@dataclass(frozen=True, slots=True)
class Felt:
    """The mean temperature of a span [C], and what share of the span was read [0 to 1]."""

    mean_c: float
    read: float


class Warmth:
    """The temperatures of a course of animals.

    Args:
        logged: gives what loggers wrote at a place, if anything.
        zone: the bench's, for the hours at which it is coldest and warmest.
    """

    def __init__(self, course: Course, zone: tzinfo = UTC, logged: Callable[[str], Series] | None = None) -> None:
        self._airs = course.air
        self._times = {place: [entry.at for entry in airs] for place, airs in course.air.items()}
        self._zone = zone
        self._ask = logged
        self._logged: dict[str, Series] = {}
        self._known: dict[tuple[tuple[str, ...], datetime, datetime], tuple[float, float]] = {}

    def felt(self, stays: Sequence[Stay], since: datetime, until: datetime) -> Felt | None:
        """The mean temperature between two instants along some stays; None where less than half of it was read."""
        whole = (until - since) / A_DAY
        if not stays or whole <= 0:
            return None
        heat = read = 0.0
        for place, stay in enumerate(stays):
            begin = since if place == 0 else max(since, stay.since)
            end = min(until, stays[place + 1].since) if place + 1 < len(stays) else until
            if end > begin:
                degrees, days = self._between(stay.places, begin, end)
                heat, read = heat + degrees, read + days
        return Felt(heat / read, read / whole) if read >= ENOUGH_OF_IT * whole else None

    def _between(self, places: tuple[str, ...], since: datetime, until: datetime) -> tuple[float, float]:
        """Degrees times days that were read, and the days."""
        key = (places, since, until)
        if key not in self._known:
            airs = [self._near(place, since, until) for place in places]
            found = trace(airs, self._series(places), since, until, zone=self._zone)
            holes = [(day_of(hole.start), day_of(hole.end)) for hole in found.holes]
            self._known[key] = _under(found.readings, day_of(since), day_of(until), holes)
        return self._known[key]

    def _series(self, places: tuple[str, ...]) -> list[Series]:
        if self._ask is None:
            return []
        for place in places:
            if place not in self._logged:
                self._logged[place] = self._ask(place)
        return [self._logged[place] for place in places if self._logged[place].days]

    def _near(self, place: str, since: datetime, until: datetime) -> Sequence[Air]:
        times = self._times.get(place, [])
        return self._airs.get(place, [])[bisect_left(times, since - AROUND) : bisect_right(times, until + AROUND)]


def _under(
    readings: Sequence[tuple[float, float]], start: float, end: float, holes: Sequence[tuple[float, float]]
) -> tuple[float, float]:
    """The area under the straight lines between readings, and the days under them, holes left out.

    Before the first reading and after the last it is as warm as there; those ends are short, else they are holes.
    """
    if not readings:
        return 0.0, 0.0
    points = [(min(start, readings[0][0]), readings[0][1]), *readings, (max(end, readings[-1][0]), readings[-1][1])]
    heat = days = 0.0
    for (left, first), (right, second) in pairwise(points):
        low, high = max(left, start), min(right, end)
        if high <= low or any(from_ <= low + 1e-9 and high <= to + 1e-9 for from_, to in holes):
            continue
        slope = (second - first) / (right - left)
        middle = first + slope * ((low + high) / 2 - left)
        heat += middle * (high - low)
        days += high - low
    return heat, days
