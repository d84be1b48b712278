"""How warm it was at a place between two instants, from what there is.

Loggers come first, the nearest place before the wider one (the container's own, its shelf's, the
room's); their holes are filled with what was read by hand, again the nearest first; where nothing
was read at all there is the assumed temperature. Only what was read stands in a trace: nothing is
made up between two readings, and a hole that no series fills is told.
"""

from __future__ import annotations

from array import array
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, datetime, time, timedelta, tzinfo
from itertools import pairwise
from math import nan

from msgspec import Struct, field

from rounds.entries.climate import LONGEST_MEAN
from rounds.entries.registry import Air
from rounds.grouping import grouped

HOLE_IN_A_LOG = timedelta(hours=3)  # a logger that was silent longer was not running; our limit
HOLE_BETWEEN_LOOKS = timedelta(hours=16)  # two rounds a day, one of them late; our limit
SAME_MINUTE = 1 / 1440  # of a day: rounds are told to the minute, so that seconds make no hole
LOWEST_AT, HIGHEST_AT = time(5), time(15)  # local; common practice, no source
SPEAKS_FOR = timedelta(hours=36)  # how far back a lowest and highest speak at most; our limit
FIRST_SPEAKS_FOR = timedelta(hours=24)  # where nothing was read before them
INSIDE = timedelta(minutes=30)  # extremes lie at least this far within the span they were read for

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_DAY = timedelta(days=1)


def day_of(at: datetime) -> float:
    """An instant on the trace's clock: days since 1970 began in UTC."""
    return (at - _EPOCH) / _DAY


def instant_of(day: float) -> datetime:
    """The instant of a day on the trace's clock, in UTC, to the nearest second."""
    return _EPOCH + timedelta(seconds=round(day * 86_400))


def _exactly(day: float) -> datetime:
    """The instant of a day on the trace's clock to the microsecond, so that it is that of the
    reading it is from."""
    return _EPOCH + timedelta(days=day)


class Series(Struct, frozen=True):
    """What one place's loggers wrote: times [days on the trace's clock], rising, temperatures [C]
    and humidities [%].

    A humidity that was not read is no number (NaN); where none was read at all, ``humidities`` is
    empty.
    """

    place: str
    days: Sequence[float] = field(default_factory=lambda: array("d"))
    temperatures_c: Sequence[float] = field(default_factory=lambda: array("d"))
    humidities: Sequence[float] = field(default_factory=lambda: array("d"))

    def all_humidities(self) -> Sequence[float]:
        """A humidity for each time, no number where none was read."""
        return self.humidities or array("d", [nan]) * len(self.days)


class TraceSource(Struct, frozen=True):
    """One series that a trace rests on: whose it is (empty for the room), a logger's or read by
    hand, how many readings."""

    place: str
    logger: bool
    readings: int
    first: datetime
    last: datetime


class TraceGap(Struct, frozen=True):
    """A span of the trace longer than its series allows, in which nothing was read."""

    start: datetime
    end: datetime


class Trace(Struct, frozen=True):
    """The temperatures of a place.

    Attributes:
        readings: (time in days since 1970 in UTC, temperature in C), rising; none, or two and more.
            The last one before the
            span and the first one after it are among them. These are what ``rounds.biology`` takes.
        used: the series they are from, the nearest first; empty where assumed.
        holes: where nothing was read for longer than the series allows.
        assumed: nothing was read; the readings are the assumed temperature.
    """

    readings: tuple[tuple[float, float], ...]
    used: tuple[TraceSource, ...]
    holes: tuple[TraceGap, ...]
    assumed: bool


class _Point(Struct, frozen=True):
    day: float
    temperature_c: float
    source: int
    limit: float


def trace(
    airs: Sequence[Sequence[Air]],
    logged: Sequence[Series],
    since: datetime,
    until: datetime,
    *,
    zone: tzinfo = UTC,
    assumed_c: float | None = None,
) -> Trace:
    """The temperatures between two instants.

    Args:
        airs: what was read by hand, a sequence for each place, the nearest place first
            (``Bench.places_of`` gives the order).
        logged: what loggers wrote, the nearest place first.
        since, until: with offsets.
        zone: the bench's, for the hours at which it is coldest and warmest.
        assumed_c: the temperature where nothing was read [C].

    Raises:
        ValueError: the span ends before it begins.
    """
    if until < since:
        raise ValueError(
            f"from {since:%Y-%m-%d %H:%M} to {until:%Y-%m-%d %H:%M}; the first must be the earlier"
        )
    start, end = day_of(since), day_of(until)
    names: list[tuple[str, bool]] = []
    points: list[_Point] = []
    for series in logged:
        points = _filled(points, _from_log(series, start, end, len(names)), start, end)
        names.append((series.place, True))
    for place_airs in airs:
        points = _filled(points, _by_hand(place_airs, zone, start, end, len(names)), start, end)
        names.append(
            ((place_airs[0].container or place_airs[0].shelf) if place_airs else "", False)
        )
    if not points:
        steady = (
            () if assumed_c is None else ((start, assumed_c), (max(end, start + 1e-6), assumed_c))
        )
        return Trace(steady, (), (), bool(steady))
    holes = tuple(
        TraceGap(_exactly(left), _exactly(right)) for left, right in _holes(points, start, end)
    )
    return Trace(_at_least_two(points, start, end), _used(points, names), holes, False)


def _at_least_two(
    points: Sequence[_Point], start: float, end: float
) -> tuple[tuple[float, float], ...]:
    """The readings; one alone is held to the further end of the span, whose holes tell of it."""
    found = [(point.day, point.temperature_c) for point in points]
    if len(found) == 1:
        day, temperature_c = found[0]
        other = end if end - day > day - start else start
        found.append((other if other != day else day + 1e-6, temperature_c))
        found.sort()
    return tuple(found)


def _used(points: Iterable[_Point], names: Sequence[tuple[str, bool]]) -> tuple[TraceSource, ...]:
    by_source = grouped((point.source, point.day) for point in points)
    return tuple(
        TraceSource(*names[source], len(days), instant_of(days[0]), instant_of(days[-1]))
        for source, days in sorted(by_source.items())
    )


def _from_log(series: Series, start: float, end: float, source: int) -> list[_Point]:
    limit = HOLE_IN_A_LOG / _DAY
    return _around(series.days, series.temperatures_c, start, end, limit, source)


def _around(
    days: Sequence[float],
    temperatures: Sequence[float],
    start: float,
    end: float,
    limit: float,
    source: int,
) -> list[_Point]:
    """The readings of the span, with the one before it and the one after it where they are near
    enough."""
    left, right = bisect_left(days, start), bisect_right(days, end)
    if (
        left > 0
        and (left == len(days) or days[left] > start)
        and start - days[left - 1] <= limit + SAME_MINUTE
    ):
        left -= 1
    if (
        right < len(days)
        and (right == 0 or days[right - 1] < end)
        and days[right] - end <= limit + SAME_MINUTE
    ):
        right += 1
    return [_Point(days[one], temperatures[one], source, limit) for one in range(left, right)]


def _by_hand(
    airs: Sequence[Air], zone: tzinfo, start: float, end: float, source: int
) -> list[_Point]:
    limit = HOLE_BETWEEN_LOOKS / _DAY
    found: dict[float, float] = {}
    before: datetime | None = None
    for entry in sorted(airs, key=lambda air: air.order):
        if entry.low_c is not None and entry.high_c is not None:
            for at, temperature_c in _extremes(entry, before, zone):
                found.setdefault(day_of(at), temperature_c)
            before = entry.at
        if entry.temperature_c is not None:
            for at in _of_mean(entry):
                found[day_of(at)] = entry.temperature_c
    days = sorted(found)
    return _around(days, [found[day] for day in days], start, end, limit, source)


def _of_mean(entry: Air) -> Iterator[datetime]:
    """When the temperature of a reading held: then, and of a mean twice a day since it began, as
    often as a round reads."""
    at = max(entry.mean_since, entry.at - LONGEST_MEAN) if entry.mean_since else None
    while at is not None and at < entry.at:
        yield at
        at += timedelta(hours=12)
    yield entry.at


def _extremes(entry: Air, before: datetime | None, zone: tzinfo) -> list[tuple[datetime, float]]:
    """When the lowest and highest since the last reading are held to have been: at 05:00 and 15:00
    local, each day."""
    assert entry.low_c is not None
    assert entry.high_c is not None
    begun = max(before or entry.at - FIRST_SPEAKS_FOR, entry.at - SPEAKS_FOR)
    first, last = begun + INSIDE, entry.at - INSIDE
    if last <= first:
        return []
    low = [(at, entry.low_c) for at in _clock_times(LOWEST_AT, first, last, zone)]
    return low + [(at, entry.high_c) for at in _clock_times(HIGHEST_AT, first, last, zone)]


def _clock_times(clock: time, first: datetime, last: datetime, zone: tzinfo) -> list[datetime]:
    """Each such local time of the span; where it has none, the end of the span that is nearer to
    one."""
    day = first.astimezone(zone).date() - timedelta(days=1)
    times = [
        datetime.combine(day + timedelta(days=more), clock, tzinfo=zone).astimezone(UTC)
        for more in range(6)
    ]
    inside = [at for at in times if first <= at <= last]
    if inside:
        return inside
    to_first = min(abs(at - first) for at in times)
    to_last = min(abs(at - last) for at in times)
    return [first if to_first <= to_last else last]


def _holes(points: Sequence[_Point], start: float, end: float) -> list[tuple[float, float]]:
    """Spans without a reading that are longer than the looser of the two series beside them
    allows."""
    if not points:
        return [(start, end)]
    found = (
        [(start, points[0].day)] if points[0].day - start > points[0].limit + SAME_MINUTE else []
    )
    for point, following in pairwise(points):
        if following.day - point.day > max(point.limit, following.limit) + SAME_MINUTE:
            found.append((point.day, following.day))
    if end - points[-1].day > points[-1].limit + SAME_MINUTE:
        found.append((points[-1].day, end))
    within = [(max(left, start), min(right, end)) for left, right in found]
    return [(left, right) for left, right in within if left < right]


def _filled(points: list[_Point], more: list[_Point], start: float, end: float) -> list[_Point]:
    """The points, with those of the next series that lie in their holes."""
    if not points or not more:
        return points or more
    days = [point.day for point in more]
    added: list[_Point] = []
    for left, right in _holes(points, start, end):
        reach_left = float("-inf") if left < points[0].day else left
        reach_right = float("inf") if right > points[-1].day else right
        added.extend(
            more[one]
            for one in range(bisect_right(days, reach_left), bisect_left(days, reach_right))
        )
    return sorted([*points, *added], key=lambda one: one.day) if added else points
