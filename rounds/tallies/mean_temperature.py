"""How warm it was for animals while they went from container to container."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime, timedelta, tzinfo
from itertools import pairwise

from rounds.entries.registry import Air
from rounds.tallies.cohorts import Course, Stay
from rounds.tallies.warmth import SAME_MINUTE, Series, day_of, trace

A_DAY = timedelta(days=1)
SAME_INSTANT = 1e-7  # of a day: two instants nearer than this are one
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
ENOUGH_OF_IT = 0.5  # of a span must have been read for its mean to be told; our choice


class CourseTemperatures:
    """The temperatures of a course of animals.

    Args:
        airs: what was read by hand, by place, in order.
        logged: gives what loggers wrote at a place, if anything.
        zone: the bench's, for the hours at which it is coldest and warmest.
    """

    def __init__(
        self,
        course: Course,
        airs: Mapping[str, Sequence[Air]],
        zone: tzinfo = UTC,
        logged: Callable[[str], Series] | None = None,
    ) -> None:
        self._airs = airs
        self._zone = zone
        self._ask = logged
        self._logged: dict[str, Series] = {}
        self._gathered: dict[tuple[tuple[str, ...], datetime | None], _Gathered] = {}
        begun = [min(one.cohort.begun_from, one.at) for one in course.entered]
        ends = (
            [passage.at for passage in course.passages]
            + [ending.at for ending in course.ended]
            + [entered.at for entered in course.entered]
        )
        self._span = (min(begun), max(ends)) if begun else None

    def felt(self, stays: Sequence[Stay], since: datetime, until: datetime) -> float | None:
        """The mean temperature between two instants along some stays [C]; None where less than
        half of it was read."""
        whole = (until - since) / A_DAY
        if not stays or whole <= 0:
            return None
        heat = read = 0.0
        for position, stay in enumerate(stays):
            begin = since if position == 0 else max(since, stay.since)
            left = stays[position + 1].since if position + 1 < len(stays) else None
            end = until if left is None else min(until, left)
            if end > begin:
                degrees, days = self._of(stay, left).between(day_of(begin), day_of(end))
                heat, read = heat + degrees, read + days
        enough = read > 0 and read >= ENOUGH_OF_IT * whole - SAME_MINUTE
        return heat / read if enough else None

    def _of(self, stay: Stay, left: datetime | None) -> _Gathered:
        """The whole course's warmth at a place, gathered once for all containers that share their
        readings; those of a container itself count until they left it."""
        known = (place for place in stay.places if place in self._airs or self._series((place,)))
        places = tuple(known)
        key = places, left if stay.container in places else None
        if key not in self._gathered:
            since, until = self._span or (_EPOCH, _EPOCH)
            airs = [self._airs.get(place, []) for place in places]
            logged = self._series(places)
            if key[1] is not None:
                until = max(since, min(until, key[1]))
                airs = [_until(key[1], stay.container, some) for some in airs]
                logged = [_logged_until(key[1], stay.container, one) for one in logged]
            result = trace(airs, logged, since, until, zone=self._zone)
            holes = [(day_of(hole.start), day_of(hole.end)) for hole in result.holes]
            self._gathered[key] = _Gathered(result.readings, day_of(since), day_of(until), holes)
        return self._gathered[key]

    def _series(self, places: tuple[str, ...]) -> list[Series]:
        if self._ask is None:
            return []
        for place in places:
            if place not in self._logged:
                self._logged[place] = self._ask(place)
        return [self._logged[place] for place in places if self._logged[place].days]


def _until(left: datetime, container: str, airs: Sequence[Air]) -> list[Air]:
    """What was read by hand at a place; of the container itself before they left it."""
    return [air for air in airs if air.container != container or air.at <= left]


def _logged_until(left: datetime, container: str, series: Series) -> Series:
    """What a logger wrote at a place; in the container itself before they left it."""
    if series.place != container:
        return series
    last = bisect_right(series.days, day_of(left))
    days, temperatures = series.days[:last], series.temperatures_c[:last]
    return Series(series.place, days, temperatures, series.humidities[:last])


class _Gathered:
    """Degrees times days under the straight lines between readings, gathered up to each, holes left
    out.

    Before the first reading and after the last it is as warm as there; those ends are short, else
    they are holes.
    """

    def __init__(
        self,
        readings: Sequence[tuple[float, float]],
        start: float,
        end: float,
        holes: Sequence[tuple[float, float]],
    ) -> None:
        ends = (
            [
                (min(start, readings[0][0]), readings[0][1]),
                (max(end, readings[-1][0]), readings[-1][1]),
            ]
            if readings
            else []
        )
        points = [ends[0], *readings, ends[1]] if ends else []
        self._points = points
        self._days = [day for day, _ in points]
        self._heat, self._read = [0.0], [0.0]
        self._hole: list[bool] = []
        # a hole lies between two readings, or beyond the first or last of them
        begins = [begin for begin, _ in holes]
        for (left, first), (right, second) in pairwise(points):
            before = bisect_right(begins, right - SAME_INSTANT) - 1
            in_hole = before >= 0 and holes[before][1] > left + SAME_INSTANT
            self._hole.append(in_hole)
            self._heat.append(
                self._heat[-1] + (0.0 if in_hole else (first + second) / 2 * (right - left))
            )
            self._read.append(self._read[-1] + (0.0 if in_hole else right - left))

    def between(self, start: float, end: float) -> tuple[float, float]:
        """Degrees times days between two days, and how many of them were read."""
        if len(self._points) < 2:
            return 0.0, 0.0
        heat_before, read_before = self._up_to(start)
        heat, read = self._up_to(end)
        return heat - heat_before, read - read_before

    def _up_to(self, day: float) -> tuple[float, float]:
        position = max(0, min(bisect_right(self._days, day), len(self._days) - 1) - 1)
        (left, first), (right, second) = self._points[position], self._points[position + 1]
        if self._hole[position] or right <= left:
            return self._heat[position], self._read[position]
        into = min(max(day - left, 0.0), right - left)
        middle = first + (second - first) / (right - left) * into / 2
        return self._heat[position] + middle * into, self._read[position] + into
