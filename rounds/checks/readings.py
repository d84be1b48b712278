"""What was read of a place, by hand and by a logger, and whether it is to be cold there by now."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from datetime import datetime, timedelta

from rounds.bench.state import Bench, Container
from rounds.bench.winter import COLD_MONTHS, is_southern
from rounds.checks.facts import DueContext
from rounds.checks.round_clock import Moment, utc
from rounds.entries.registry import Air, LoggerRead
from rounds.tallies.warmth import day_of

# so far back a logger's lowest and highest are taken where nothing rests; our estimate
TELLS_OF = timedelta(hours=24)


def readings_of(reckoning: DueContext, place: str, since: datetime | None = None) -> list[Air]:
    """The readings of a place, the newest last; those of the logger that was read last count as
    one, at its last line.

    Args:
        place: a container, a shelf, or empty for the room.
        since: the logger's lowest and highest are those since then, else of the day before its last
            line.
    """
    airs = reckoning.bench.air.get(place, [])
    read = max(reckoning.bench.logged.get(place, ()), key=lambda one: one.until, default=None)
    if read is None or (airs and airs[-1].at >= read.until):
        return airs
    begin = max(read.since, read.until - TELLS_OF if since is None else since)
    series = reckoning.foresight.logged(place, begin, read.until)
    if series is None:
        return airs
    left = bisect_left(series.days, day_of(begin))
    found = series.temperatures_c[left : bisect_right(series.days, day_of(read.until))]
    if not found:
        return airs
    logger = Air(
        id=read.id,
        at=read.until,
        logged=read.logged,
        by=read.by,
        container=read.container,
        shelf=read.shelf,
        temperature_c=found[-1],
        low_c=min(found),
        high_c=max(found),
    )
    return [*airs, logger]


WARM_REST_C, HOT_REST_C = 10.0, 20.0  # of a winter store; see the rules


def rests_since(resting: Iterable[Container]) -> datetime:
    """Since when the first of some containers has stood for the winter where it stands."""
    return min(
        utc(max(one.purpose_since or one.since, one.shelf_since or one.since)) for one in resting
    )


def is_cold_wanted(bench: Bench, moment: Moment, place: str, resting: Iterable[Container]) -> bool:
    """Whether it is to be cold where stock rests: in the cold months, or once it was cold there.

    Before, it lies over the summer.
    """
    month = moment.today.month
    if ((month + 5) % 12 + 1 if is_southern(bench) else month) in COLD_MONTHS:
        return True
    since = rests_since(resting)
    readings = (
        one for read in (bench.air, bench.logged) for one in read.get(place, ()) if one.at >= since
    )
    return any(_was_cold(reading) for reading in readings)


def told_c(reading: Air | LoggerRead) -> list[float]:
    """The temperatures that a reading tells, C."""
    now_c = reading.temperature_c if isinstance(reading, Air) else None
    return [one for one in (now_c, reading.low_c, reading.high_c) if one is not None]


def _was_cold(reading: Air | LoggerRead) -> bool:
    """Whether it was cold by a reading, midway between lowest and highest."""
    told = told_c(reading)
    return bool(told) and (min(told) + max(told)) / 2 < WARM_REST_C
