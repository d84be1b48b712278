"""Times of day, and local times as instants across clock changes."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta, timezone, tzinfo

_CLOCK = re.compile(r"^(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,]\d+)?)?\s?([AaPp])?\.?\s?(?:[Mm]\.?)?$")
_BARE = re.compile(r"^(\d{2})(\d{2})(\d{2})?$")
_SAID_OFFSET = re.compile(r"\b(?:GMT|UTC)\s?(?:([+-])\s?(\d{1,2})(?::?(\d{2}))?)?(?!\w)")
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
# seconds; no zone has changed its clocks within a quarter of an hour since 1970
A_DAY, A_QUARTER = 86_400, 900


def seconds_of(text: str) -> int | None:
    """A time of day as whole seconds since midnight; None where it is none.

    24:00 is the end of the day.
    """
    match = _CLOCK.match(text) or _BARE.match(text)
    if not match:
        return None
    hours, minutes, seconds = int(match[1]), int(match[2]), int(match[3] or 0)
    half = match[4].lower() if match.re is _CLOCK and match[4] else ""
    if half:
        if not 1 <= hours <= 12:
            return None
        hours = hours % 12 + (12 if half == "p" else 0)
    if minutes > 59 or seconds > 59 or hours > 24 or (hours == 24 and (minutes or seconds)):
        return None
    return hours * 3600 + minutes * 60 + seconds


def offset_of(text: str) -> int | None:
    """An offset from UTC written after a time, in seconds."""
    if text in ("Z", "z", "UTC", "GMT"):
        return 0
    digits = text[1:].replace(":", "")
    if len(digits) != 4 or not digits.isdecimal() or int(digits[:2]) > 15 or int(digits[2:]) > 59:
        return None
    seconds = int(digits[:2]) * 3600 + int(digits[2:]) * 60
    return -seconds if text[0] == "-" else seconds


def said_offset(texts: Iterable[str]) -> timezone | None:
    """The offset that a heading or a line above the table names, as UTC or GMT+01:00; None where
    none or several do."""
    found = set()
    for text in texts:
        for sign, hours, minutes in _SAID_OFFSET.findall(text):
            span = timedelta(hours=int(hours or 0), minutes=int(minutes or 0))
            if span < timedelta(hours=16):
                found.add(-span if sign == "-" else span)
    return timezone(found.pop()) if len(found) == 1 else None


class LocalClock:
    """Turns a logger's local times into instants, in the order of its lines.

    An hour that comes twice is its first coming until the times step back; one that a clock change
    leaves out is none.
    """

    def __init__(self, zone: tzinfo, falling: bool = False) -> None:
        self._zone = zone
        self._falling = falling
        self._offsets: dict[int, tuple[int, int]] = {}
        self._last: int | None = None

    def instant(self, local: int) -> int | None:
        """The instant [seconds since 1970 in UTC] of a local time [the same, as if local time were
        UTC]."""
        quarter = local // A_QUARTER
        offsets = self._offsets.get(quarter)
        if offsets is None:
            offsets = self._offsets[quarter] = self._looked_up(quarter * A_QUARTER)
        first, second = offsets
        if first < second:  # the clocks went forward over this time
            return None
        number = local - first
        if first > second and self._last is not None:
            later = local - second
            if self._falling:
                number = later if later < self._last else number
            elif number <= self._last:
                number = later
        self._last = number
        return number

    def _looked_up(self, local: int) -> tuple[int, int]:
        try:
            naive = (_EPOCH + timedelta(seconds=local)).replace(tzinfo=None)
            return tuple(round(self._offset(naive, fold)) for fold in (0, 1))  # type: ignore[return-value]
        except (OverflowError, ValueError):
            return 0, 0

    def _offset(self, naive: datetime, fold: int) -> float:
        return (
            naive.replace(tzinfo=self._zone, fold=fold).utcoffset() or timedelta(0)
        ).total_seconds()
