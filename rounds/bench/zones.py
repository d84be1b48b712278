"""Time zones by their names."""

from __future__ import annotations

from datetime import tzinfo
from functools import cache
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError


@cache
def zone_named(name: str) -> tzinfo | None:
    """The time zone of that name, or None where there is none."""
    try:
        return ZoneInfo(name) if name else None
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return None
