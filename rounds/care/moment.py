"""Now, in the bench's zone, with the rounds of the day.

Intervals are absolute; rounds are local. A clock change neither invents nor hides an hour: a local time is
turned into an instant here and nowhere else.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from functools import cached_property

EARLY = timedelta(hours=3)  # a look this long before a round begins counts for that round


def instant(day: date, at: time, zone: tzinfo) -> datetime:
    """The instant of a local time on a local day, in UTC.

    A time that a clock change leaves out is read by the offset from before the change, which gives the
    instant as long after the gap began; one that comes twice is its first coming.
    """
    return datetime.combine(day, at, tzinfo=zone).astimezone(UTC)


@dataclass(frozen=True)
class Moment:
    """A present instant.

    Args:
        now: with an offset.
        zone: the bench's.
        anchors: the rounds of the day by name and local time, in the order of the day.
    """

    now: datetime
    zone: tzinfo
    anchors: tuple[tuple[str, time], ...]

    @cached_property
    def _around(self) -> tuple[tuple[datetime, str], ...]:
        """The rounds from three days ago to three days ahead."""
        today = self.now.astimezone(self.zone).date()
        return tuple(
            sorted(
                (instant(today + timedelta(days=days), at, self.zone), name)
                for days in range(-3, 4)
                for name, at in self.anchors
            )
        )

    def next_anchor(self, after: datetime) -> datetime:
        """When the first round after an instant begins."""
        if not self.anchors:
            return after + timedelta(hours=12)
        for at, _ in self._around:
            if at > after and after >= self._around[0][0]:
                return at
        day = after.astimezone(self.zone).date()
        return min(
            at
            for days in range(3)
            for _, local in self.anchors
            if (at := instant(day + timedelta(days=days), local, self.zone)) > after
        )

    def next_unserved(self, last: datetime) -> datetime:
        """When the first round begins that a look at ``last`` does not count for."""
        return self.next_anchor(last + EARLY)

    def next_daily(self, last: datetime) -> datetime:
        """When the round begins that is a day after the round of a look at ``last``, within the early hours."""
        return self.next_anchor(last + timedelta(hours=24) - EARLY)

    @cached_property
    def present_round(self) -> tuple[datetime, str]:
        """The round of now: the last that has begun, or the next where it begins within the early hours."""
        begun = [one for one in self._around if one[0] <= self.now + EARLY]
        return begun[-1] if begun else (self.now, "round")

    def name_of_round(self) -> str:
        """The name of the round of now."""
        return self.present_round[1]

    @cached_property
    def round_after(self) -> datetime:
        """When the round after the present one begins."""
        return self.next_anchor(self.present_round[0])

    def missed_since(self, last: datetime) -> int:
        """How many rounds went by entirely since a look at ``last``: begun, and the next one begun too."""
        first = self.next_unserved(last)
        missed = 0
        while missed < 1000 and (following := self.next_anchor(first)) <= self.now:
            missed += 1
            first = following
        return missed
