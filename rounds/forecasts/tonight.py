"""The sun on the sill today, and whether cups will fog tonight."""

from __future__ import annotations

from datetime import date, datetime, timedelta, tzinfo
from functools import lru_cache

from msgspec import Struct

from rounds.bench.state import Bench, Container
from rounds.surroundings.air import dew_point_c

# tonight is taken to cool as the coldest of these; our estimate, no source
NIGHTS_BACK = timedelta(days=3)
_OPEN = ("gauze", "mesh", "net", "perforated", "tulle")


class Night(Struct, frozen=True):
    """The night to come: the air's dew point and the low to expect; ``condensing`` where a wall
    will fog."""

    dew_point_c: float
    low_c: float
    condensing: bool


def is_closed(container: Container) -> bool:
    """Whether the lid lets no air through, as far as its words say."""
    return container.barrier == "closed lid" or (bool(container.lid) and not is_open_lid(container))


def is_open_lid(container: Container) -> bool:
    """Whether the lid is said to be gauze or the like, through which an animal can drink."""
    return any(word in container.lid.casefold() for word in _OPEN)


def tonight(bench: Bench, now: datetime) -> Night | None:
    """Whether a cup will fog tonight, from the last humidity and the coldest of the last nights;
    None where either is unknown."""
    readings = [air for air in bench.air.get("", []) if air.at >= now - NIGHTS_BACK]
    last = next(
        (
            reading
            for reading in reversed(readings)
            if reading.temperature_c is not None and reading.humidity_percent
        ),
        None,
    )
    lows = [one.low_c for one in readings if one.low_c is not None]
    if last is None or last.temperature_c is None or not last.humidity_percent or not lows:
        return None
    dew = dew_point_c(temperature_c=last.temperature_c, humidity_percent=last.humidity_percent)
    return Night(dew, min(lows), min(lows) <= dew)


def sill_spans(bench: Bench, day: date, zone: tzinfo) -> list[tuple[datetime, datetime]]:
    """When direct sun is on the sill on a day; empty where the book does not say where the bench is
    and how its window looks."""
    try:
        latitude, longitude, facing = (
            float(bench.settings.get(name, "")) for name in ("latitude", "longitude", "sill")
        )
        obstruction = float(bench.settings.get("obstruction", "") or 0)
        return _spans(day, latitude, longitude, facing, obstruction, zone)
    except ValueError:
        return []


@lru_cache(maxsize=8)
def _spans(
    day: date, latitude: float, longitude: float, facing: float, obstruction: float, zone: tzinfo
) -> list[tuple[datetime, datetime]]:
    """Kept, for it takes some milliseconds; the day and the place are its whole input, so that it
    cannot go stale."""
    from rounds.surroundings.sun import sun_on_sill  # most benches do not say where they are

    return sun_on_sill(
        day,
        latitude_deg=latitude,
        longitude_deg=longitude,
        zone=zone,
        facing_deg=facing,
        obstruction_deg=obstruction,
    )
