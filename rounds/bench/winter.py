"""When it is winter where a bench lies: half a year later south of the equator."""

from __future__ import annotations

from datetime import datetime

from rounds.bench.state import Bench

# in the north, half a year later in the south; our estimate
COLD_MONTHS = frozenset({11, 12, 1, 2, 3})
LATE_WINTER_FROM = (1, 16)  # month and day in the north; half a year later in the south
LATE_WINTER_TO = (7, 16)  # the same; both our estimate
WARM_AGAIN = (4, 1)  # the cold months are over


def is_southern(bench: Bench) -> bool:
    """Whether the bench lies south of the equator; in the north where no latitude is set."""
    return bench.settings.get("latitude", "").strip().startswith("-")


def winter_after(bench: Bench, at: datetime) -> tuple[datetime, datetime]:
    """The winter that comes after an instant: when it is past its middle, from when on what rests
    may wake if it is warm, and when it is over."""
    past_middle = _next(at, LATE_WINTER_FROM, southern=is_southern(bench))
    return past_middle, _next(past_middle, WARM_AGAIN, southern=is_southern(bench))


def _next(at: datetime, day: tuple[int, int], *, southern: bool) -> datetime:
    month = day[0] + 6 if southern else day[0]
    this_year = at.replace(month=month, day=day[1], hour=0, minute=0, second=0, microsecond=0)
    return this_year if this_year > at else this_year.replace(year=at.year + 1)
