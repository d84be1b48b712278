"""Time zones by their names."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone, tzinfo
from functools import cache
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError


@cache
def zone_named(name: str) -> tzinfo | None:
    """The time zone of that name, or None where there is none."""
    try:
        return ZoneInfo(name) if name else None
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return None


def name_alone(zone: tzinfo) -> str:
    """The name of a zone that is all there is to it; empty where it goes by more of the machine."""
    return zone.key or "" if type(zone) is ZoneInfo else ""


# by which a zone's noon lies off that of the sun, western China and summer time included
MAX_HOURS_OFF = 3.5


def zone_doubt(zone: tzinfo, longitude: float, at: datetime) -> str:
    """Why a zone is hardly that of a place: it is UTC, or hours off its sun; empty where it may be.

    Args:
        longitude: degrees east.
    """
    offset = at.astimezone(zone).utcoffset()
    hours = offset.total_seconds() / 3600 if offset is not None else 0.0
    is_utc = str(getattr(zone, "key", zone)).removeprefix("Etc/") in (
        "UTC",
        "UCT",
        "Universal",
        "Zulu",
        "GMT",
    )
    if not is_utc and abs(hours - longitude / 15) <= MAX_HOURS_OFF:
        return ""
    return (
        f"the bench keeps {'UTC' if is_utc else f'UTC{hours:+g}'}, the sun there about"
        f" UTC{round(longitude / 15):+d}"
    )


def zone_of_bench(named: str, newest: datetime | None, machine: tzinfo) -> tzinfo:
    """The zone by which a bench is judged: the one its book names, else that of the machine that
    opens it.

    A book that names none and was written last in another offset than the machine has is judged by
    that offset: a bench does not move with the device it is read on.

    Args:
        named: by the book's setting; empty where it names none.
        newest: when the newest entry happened, with the offset in which it was written.
    """
    found = zone_named(named)
    if found:
        return found
    # compared at one instant, so that a mere change to summer time is no difference
    written = newest.utcoffset() if newest else None
    if newest is None or written is None or newest.astimezone(machine).utcoffset() == written:
        return machine
    return timezone(written)


_NOT_KNOWN = "THE BENCH'S TIME ZONE IS NOT KNOWN:"
_TYPE_IT = "type its zone, as: setting zone Europe/Berlin"


def zone_not_known(named: str, newest: datetime | None, machine: tzinfo) -> str:
    """That a book names no zone and was written in another than this machine's, or names what is
    none, and what to type; empty where its zone is known."""
    zone = zone_of_bench(named, newest, machine)
    if newest is not None and named and zone_named(named) is None:
        return (
            f"{_NOT_KNOWN} its setting says '{named}', which is none; its hours are shown by"
            f" {_offset(newest.astimezone(zone))}; {_TYPE_IT}"
        )
    if newest is None or zone_named(named) or zone is machine:
        return ""
    return (
        f"{_NOT_KNOWN} its newest entry was written at {_offset(newest)}, by which its hours are"
        f" shown, this machine keeps {_offset(newest.astimezone(machine))}; {_TYPE_IT}"
    )


def other_zone(named: str, now: datetime, machine: tzinfo) -> str:
    """That a machine keeps other hours than the zone that a book names, and whose are told; empty
    where they are the same now."""
    zone = zone_named(named)
    there, here = (now.astimezone(one) if one else None for one in (zone, machine))
    if there is None or here is None or there.utcoffset() == here.utcoffset():
        return ""
    return (
        f"this machine keeps {_offset(here)}, the bench {_offset(there)} ({named}): hours shown and"
        f" typed are the bench's, where it is {there:%H:%M} now"
    )


def name_of_zone(zone: tzinfo, at: datetime) -> str:
    """The name by which a book can hold a zone; empty where it has none.

    A fixed offset of whole hours has one in the IANA time zone database, with the sign reversed:
    Etc/GMT-2 is two hours ahead of UTC.
    """
    name = str(getattr(zone, "key", None) or getattr(zone, "name", None) or zone)
    if zone_named(name):
        return name
    hours, rest = divmod(at.astimezone(zone).utcoffset() or timedelta(0), timedelta(hours=1))
    fixed = f"Etc/GMT{-hours:+d}" if hours else "UTC"
    return fixed if isinstance(zone, timezone) and not rest and zone_named(fixed) else ""


def _offset(at: datetime) -> str:
    """How far a clock is from UTC, as UTC+2 or UTC-3:30."""
    minutes = round((at.utcoffset() or timedelta(0)) / timedelta(minutes=1))
    hours, rest = divmod(abs(minutes), 60)
    past = f":{rest:02d}" if rest else ""
    return f"UTC{'-' if minutes < 0 else '+'}{hours}{past}" if minutes else "UTC"
