"""What was read of a place: by hand, and by a logger whose readings were taken in."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from datetime import datetime, timedelta

from rounds.checks.facts import DueContext
from rounds.entries.registry import Air
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
    left, right = (
        bisect_left(series.days, day_of(begin)),
        bisect_right(series.days, day_of(read.until)),
    )
    found = series.temperatures_c[left:right]
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
