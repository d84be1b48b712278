"""Time zones by their names."""

from __future__ import annotations

from datetime import datetime, tzinfo
from functools import cache
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError


@cache
def zone_named(name: str) -> tzinfo | None:
    """The time zone of that name, or None where there is none."""
    try:
        return ZoneInfo(name) if name else None
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return None


MAX_HOURS_OFF = (
    3.5  # by which a zone's noon lies off that of the sun, western China and summer time included
)


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
        f"this machine keeps {'UTC' if is_utc else f'UTC{hours:+g}'}, the sun there about"
        f" UTC{round(longitude / 15):+d}"
    )
