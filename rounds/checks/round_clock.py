"""Now, in the bench's zone, with the rounds of the day.

Intervals are absolute; rounds are local. A clock change neither invents nor hides an hour: a local
time is turned into an instant here and nowhere else, and every instant that leaves is in UTC.
"""

from __future__ import annotations

from bisect import bisect_right
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from functools import cached_property

from rounds.bench.dates import short

EARLY = timedelta(hours=3)  # a look this long before a round begins counts for that round
A_DAY_LESS_EARLY = timedelta(hours=24) - EARLY
WITHOUT_ROUNDS = timedelta(hours=12)  # how far apart rounds are where none are set
MAX_MISSED = 1000
AFTERNOON = range(12, 18)  # hours of the day


def utc(at: datetime) -> datetime:
    """The same instant in UTC, where adding hours adds hours."""
    return at if at.tzinfo is UTC else at.astimezone(UTC)


def instant(day: date, at: time, zone: tzinfo) -> datetime:
    """The instant of a local time on a local day, in UTC.

    A time that a clock change leaves out is read by the offset from before the change, which gives
    the instant as long after the gap began; one that comes twice is its first coming.
    """
    return datetime.combine(day, at, tzinfo=zone).astimezone(UTC)


class Moment:
    """A present instant.

    Args:
        now: with an offset.
        zone: the bench's.
        anchors: the rounds of the day by name and local time, in the order of the day.
    """

    def __init__(self, now: datetime, zone: tzinfo, anchors: tuple[tuple[str, time], ...]) -> None:
        self._now, self.zone, self.anchors = now, zone, anchors

    @property
    def now(self) -> datetime:
        """The present instant."""
        return self._now

    @property
    def told_now(self) -> datetime:
        """The present instant, for words."""
        return self._now

    @cached_property
    def today(self) -> date:
        """The day of now where the bench stands."""
        return self.now.astimezone(self.zone).date()

    def clock(self, at: datetime, *beside: datetime | None) -> str:
        """An instant as the keeper's clock has it, as short as it can be; one of today says so
        beside those of days before."""
        local = at.astimezone(self.zone)
        is_among = local.date() == self.today and any(
            one is not None and one.astimezone(self.zone).date() < self.today for one in beside
        )
        return f"{short(local, self.today)} today" if is_among else short(local, self.today)

    def passed(self, at: datetime) -> bool:
        """Whether an instant has come."""
        return at <= self._now

    @cached_property
    def _near(self) -> dict[date, tuple[datetime, ...]]:
        """By day in UTC, the instants of the rounds from three days before it to four days
        after."""
        return {}

    @cached_property
    def _names(self) -> dict[datetime, str]:
        return {}

    def _around(self, at: datetime) -> tuple[datetime, ...]:
        day = at.date()
        begins = {
            instant(day + timedelta(days=days), local, self.zone): name
            for days in range(4, -4, -1)
            for name, local in reversed(self.anchors)
        }
        self._names.update(begins)
        known = self._near[day] = tuple(sorted(begins))
        return known

    def next_two(self, after: datetime) -> tuple[datetime, datetime]:
        """When the first and the second round after an instant begin."""
        after = after.astimezone(UTC)
        known = self._near.get(after.date()) or self._around(after)
        if not known:
            return after + WITHOUT_ROUNDS, after + 2 * WITHOUT_ROUNDS
        position = bisect_right(known, after)
        return known[position], known[position + 1]

    def next_anchor(self, after: datetime) -> datetime:
        """When the first round after an instant begins."""
        return self.next_two(after)[0]

    def coming_anchor(self) -> datetime:
        """When the first round after now begins."""
        return self.next_anchor(self._now)

    def previous_anchor(self, at: datetime) -> datetime:
        """When the last round began that had begun by an instant."""
        at = utc(at)
        known = self._near.get(at.date()) or self._around(at)
        return known[bisect_right(known, at) - 1] if known else at

    def round_of(self, at: datetime) -> datetime:
        """When the round begins, or began, that a look at an instant counts for."""
        return self.previous_anchor(utc(at) + EARLY)

    def next_unserved(self, last: datetime) -> datetime:
        """When the first round begins that a look at ``last`` does not count for."""
        return self.next_two(last.astimezone(UTC) + EARLY)[0]

    def next_daily(self, last: datetime) -> datetime:
        """When the round begins that is a day after the round of a look at ``last``, within the
        early hours."""
        return self.next_two(last.astimezone(UTC) + A_DAY_LESS_EARLY)[0]

    def next_last_round(self, last: datetime) -> datetime | None:
        """When the first last round of a day begins that a look at ``last`` does not count for;
        None without rounds."""
        if not self.anchors:
            return None
        day, evening = last.astimezone(self.zone).date(), self.anchors[-1][1]
        tonight, tomorrow = (
            instant(day + timedelta(days=days), evening, self.zone) for days in (0, 1)
        )
        return tonight if tonight > last + EARLY else tomorrow

    @cached_property
    def present_round(self) -> tuple[datetime, str]:
        """The round of now: the last that has begun, or the next where it begins within the early
        hours."""
        begins = self.round_of(self.now)
        return begins, self._names.get(begins, "round")

    def name_of_round(self) -> str:
        """The name of the round of now: a late morning's keeps its own until the middle between it
        and the round after; from then on, in the afternoon, it is one of the afternoon."""
        begins, name = self.present_round
        is_over = name == "morning" and self.now >= begins + (self.round_after - begins) / 2
        is_afternoon = self.now.astimezone(self.zone).hour in AFTERNOON
        return "afternoon" if is_over and is_afternoon else name

    @cached_property
    def round_after(self) -> datetime:
        """When the round after the present one begins."""
        return self.next_anchor(self.present_round[0])

    def missed_anchors(self, since: datetime) -> tuple[datetime, ...]:
        """The rounds that went by entirely since a look: begun, and the next one begun too.

        Args:
            since: when it was last looked at; only the first thousand missed rounds come back.
        """
        first, following = self.next_two(utc(since) + EARLY)
        missed: list[datetime] = []
        while following <= self.now and len(missed) < MAX_MISSED:
            missed.append(first)
            first, following = following, self.next_anchor(following)
        return tuple(missed)

    def missed_since(self, last: datetime) -> int:
        """How many rounds went by entirely since a look at ``last``."""
        return len(self.missed_anchors(last))


class WatchedMoment(Moment):
    """The same moment, which remembers how long what it was asked holds.

    ``until`` is when the first instant comes of which it was asked whether it has (None where there
    is none), the end of the day where it was asked what day it is. ``asked`` says whether it was
    asked what time it is, which holds at no other instant; ``moves`` whether that was for more than
    words too.
    """

    def __init__(self, moment: Moment) -> None:
        super().__init__(moment.now, moment.zone, moment.anchors)
        self._near, self._names = moment._near, moment._names
        self._moment = moment
        self._midnight = instant(moment.today + timedelta(days=1), time(0), moment.zone)
        self.until: datetime | None = None
        self.asked = self.moves = False

    @property
    def now(self) -> datetime:
        """The present instant."""
        self.asked = self.moves = True
        return self._now

    @property
    def told_now(self) -> datetime:
        """The present instant, for words."""
        self.asked = True
        return self._now

    def coming_anchor(self) -> datetime:
        """When the first round after now begins; so it holds until then."""
        if not self.anchors:
            return self.next_anchor(self.now)
        coming = super().coming_anchor()
        self.passed(coming)
        return coming

    @property
    def today(self) -> date:
        """The day of now where the bench stands."""
        self.passed(self._midnight)
        return self._moment.today

    def begin(self) -> None:
        """Nothing was asked yet."""
        self.until, self.asked, self.moves = None, False, False

    def passed(self, at: datetime) -> bool:
        """Whether an instant has come; where it has not, the answer holds until then."""
        if at <= self._now:
            return True
        if self.until is None or at < self.until:
            self.until = at
        return False
