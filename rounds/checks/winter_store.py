"""Since when stock rests in a place, and whether it is to be cold there by now."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from rounds.bench.state import Bench, Container
from rounds.bench.winter import COLD_MONTHS, is_southern
from rounds.checks.round_clock import Moment, utc
from rounds.entries.registry import Air, LoggerRead

WARM_REST_C, HOT_REST_C = 10.0, 20.0  # of a winter store; see the rules


def rests_since(resting: Iterable[Container]) -> datetime:
    """Since when the first of some containers has stood for the winter where it stands."""
    return min(
        utc(
            max(
                container.purpose_since or container.since, container.shelf_since or container.since
            )
        )
        for container in resting
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


def _was_cold(reading: Air | LoggerRead) -> bool:
    """Whether it was cold by a reading, midway between lowest and highest."""
    now_c = reading.temperature_c if isinstance(reading, Air) else None
    told = [one for one in (now_c, reading.low_c, reading.high_c) if one is not None]
    return bool(told) and (min(told) + max(told)) / 2 < WARM_REST_C
