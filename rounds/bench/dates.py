"""How an instant is written beside another."""

from __future__ import annotations

from datetime import datetime

WEEKDAY_IS_PAST = 3  # days; one that is past for longer would be read as the one to come


def beside(at: datetime, other: datetime) -> str:
    """An instant as it is said of another: the weekday alone within six days of it, and the year where it is not the same."""
    if abs((at.date() - other.date()).days) <= 6:
        return f"{at:%a %H:%M}"
    return dated(at, other)


def dated(at: datetime, other: datetime) -> str:
    """Day and time, with the year where it is not that of the other."""
    return f"{at:%a %d %b %H:%M}" if at.year == other.year else f"{at:%a %d %b %Y %H:%M}"
