"""Rounds are local, intervals are absolute: checked against an independent recurrence library over clock changes."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo, available_timezones

import pytest
from dateutil import rrule, tz

from rounds.checks.due import all_dues
from rounds.checks.due_state import Due
from rounds.checks.round_clock import EARLY, Moment, instant
from rounds.entries import registry as k
from rounds.entries.base import Entry, Purpose
from tests.plain_fold import fold

ANCHORS = (("morning", time(7, 0)), ("evening", time(18, 0)))

# Zone and the local days of two clock changes in 2026 (IANA time zone data).
CHANGES = [
    ("Europe/Paris", (2026, 3, 27), (2026, 10, 23)),
    ("America/New_York", (2026, 3, 6), (2026, 10, 30)),
    ("Australia/Sydney", (2026, 4, 3), (2026, 10, 2)),
]


def moment(zone: str, now: datetime) -> Moment:
    """A moment in that zone."""
    return Moment(now, ZoneInfo(zone), ANCHORS)


@pytest.mark.parametrize(("zone", "first", "second"), CHANGES)
def test_rounds_come_as_the_recurrence_library_says(
    zone: str, first: tuple[int, int, int], second: tuple[int, int, int]
) -> None:
    # Independent reference: python-dateutil's rrule in local wall time, made instants by dateutil's own zone.
    for day in (first, second):
        local = tz.gettz(zone)
        rule = rrule.rrule(
            rrule.DAILY, dtstart=datetime(*day), count=6, byhour=(7, 18), byminute=0, bysecond=0
        )
        expected = [one.replace(tzinfo=local).astimezone(UTC) for one in rule]
        now = expected[0] - timedelta(hours=1)

        found = []
        at = now
        for _ in expected:
            at = moment(zone, now).next_anchor(at)
            found.append(at)

        assert found == expected


@pytest.mark.parametrize(("zone", "first", "second"), CHANGES)
def test_a_look_each_round_is_due_as_the_recurrence_library_says(
    zone: str, first: tuple[int, int, int], second: tuple[int, int, int]
) -> None:
    # Independent reference: rrule in local wall time, as above; a look ten minutes into a round serves that round.
    local = tz.gettz(zone)
    for day in (first, second):
        rule = rrule.rrule(
            rrule.DAILY, dtstart=datetime(*day), count=12, byhour=(7, 18), byminute=0, bysecond=0
        )
        rounds = [one.replace(tzinfo=local).astimezone(UTC) for one in rule]
        for served, following, after in zip(rounds, rounds[1:], rounds[2:], strict=False):
            looked = (served + timedelta(minutes=10)).astimezone(ZoneInfo(zone))
            look = due_after(zone, k.Looked, looked, "look", "pairing")
            assert (look.due, look.urgent) == (following, after)
            assert look.late == following + timedelta(hours=4)


@pytest.mark.parametrize(("zone", "first", "second"), CHANGES)
def test_hours_between_are_real_hours_over_a_change(
    zone: str, first: tuple[int, int, int], second: tuple[int, int, int]
) -> None:
    # Independent reference: rrule HOURLY in UTC; what was said carries the zone, as at the desk.
    for day in (first, second):
        for hours_later in range(0, 72, 5):
            drank = datetime(*day, 18, 40, tzinfo=UTC) + timedelta(hours=hours_later)
            due, amber, red = (
                rrule.rrule(rrule.HOURLY, interval=hours, dtstart=drank, count=2)[1]
                for hours in (12, 14, 24)
            )
            drink = due_after(zone, k.Drank, drank.astimezone(ZoneInfo(zone)), "drink")
            assert (drink.due, drink.late, drink.urgent) == (due, amber, red)


def due_after(
    zone: str, kind: type[Entry], at: datetime, check: str, purpose: Purpose = "laying"
) -> Due:
    """The check of a cup with one female after one thing was said of it."""
    begun = at - timedelta(days=1)
    entries = [
        k.SetUp(id="1", at=begun, logged=begun, container="L2", purpose=purpose),
        k.Stocked(
            id="2",
            at=begun,
            logged=begun,
            container="L2",
            brood="Q",
            stage="adult",
            number=1,
            sex="female",
        ),
        kind(id="3", at=at, logged=at, container="L2"),
    ]
    here = moment(zone, at + timedelta(minutes=1))
    return next(due for due in all_dues(fold(entries), here) if due.check == check)


def changes_of(zone: str) -> list[datetime]:
    """The instants within 2026 at which a zone's offset changes, to the hour."""
    here = ZoneInfo(zone)
    found = []
    day = datetime(2026, 1, 1, tzinfo=UTC)
    offset = day.astimezone(here).utcoffset()
    while day.year == 2026:
        following = day + timedelta(days=1)
        if following.astimezone(here).utcoffset() != offset:
            hour = next(
                day + timedelta(hours=hours)
                for hours in range(25)
                if (day + timedelta(hours=hours)).astimezone(here).utcoffset() != offset
            )
            found.append(hour)
            offset = following.astimezone(here).utcoffset()
        day = following
    return found


ZONES = sorted(
    zone
    for zone in available_timezones()
    if not zone.startswith(("posix/", "right/")) and zone not in ("localtime", "Factory")
)


def test_no_zone_invents_or_loses_a_round_at_its_changes() -> None:
    seen_changes = 0
    for zone in ZONES:
        local = ZoneInfo(zone)
        for change in changes_of(zone):
            seen_changes += 1
            here = Moment(change, local, (*ANCHORS, ("night", time(2, 30))))
            at, found = change - timedelta(days=2), []
            while (at := here.next_anchor(at)) < change + timedelta(days=2):
                found.append(at)
            walls = [(one.astimezone(local).date(), one.astimezone(local).time()) for one in found]
            days = {day for day, _ in walls[3:-3]}
            for day in sorted(days)[1:-1]:
                times = [wall for of_day, wall in walls if of_day == day]
                assert {time(7, 0), time(18, 0)} <= set(times), (zone, day)
                assert len(times) == 3, (zone, day)
            assert here.missed_anchors(change - timedelta(days=2)) == tuple(
                one
                for one in found
                if one > change - timedelta(days=2) + EARLY and here.next_anchor(one) <= change
            )
    assert seen_changes > 100


def test_no_zone_invents_or_loses_an_hour_between_rounds() -> None:
    for zone in ZONES:
        for change in changes_of(zone)[:2]:
            before = change - timedelta(hours=30)
            here = moment(zone, change)
            rounds = [before]
            while rounds[-1] < change + timedelta(hours=30):
                rounds.append(here.next_anchor(rounds[-1]))
            for one in rounds[1:]:
                wall = one.astimezone(ZoneInfo(zone)).time()
                assert wall in (time(7, 0), time(18, 0)), zone
                assert here.previous_anchor(one) == one
                assert here.previous_anchor(one - timedelta(seconds=1)) < one
            apart = {later - earlier for earlier, later in pairwise(rounds[1:])}
            usual = {timedelta(hours=11), timedelta(hours=13)}
            shifted = apart - usual
            assert len(shifted) <= 1, zone
            assert all(timedelta(hours=9) <= one <= timedelta(hours=15) for one in shifted), zone


def test_a_round_at_a_time_that_a_change_leaves_out_comes_as_long_after_the_gap() -> None:
    # Europe/Paris goes from 02:00 to 03:00 on 29 March 2026 (IANA time zone data).
    found = instant(date(2026, 3, 29), time(2, 30), ZoneInfo("Europe/Paris"))
    assert found == tz.resolve_imaginary(
        datetime(2026, 3, 29, 2, 30, tzinfo=tz.gettz("Europe/Paris"))
    )
    assert found == datetime(2026, 3, 29, 1, 30, tzinfo=UTC)


def test_a_round_at_a_time_that_comes_twice_begins_at_its_first_coming() -> None:
    # Europe/Paris goes from 03:00 back to 02:00 on 25 October 2026 (IANA time zone data).
    assert instant(date(2026, 10, 25), time(2, 30), ZoneInfo("Europe/Paris")) == datetime(
        2026, 10, 25, 0, 30, tzinfo=UTC
    )


def test_a_day_that_a_zone_left_out_has_no_rounds() -> None:
    # Pacific/Apia had no 30 December 2011 (IANA time zone data).
    apia = ZoneInfo("Pacific/Apia")
    here = Moment(datetime(2011, 12, 30, 12, 0, tzinfo=UTC), apia, ANCHORS)
    at, found = datetime(2011, 12, 28, 12, 0, tzinfo=UTC), []
    while (at := here.next_anchor(at)) < datetime(2012, 1, 1, 12, 0, tzinfo=UTC):
        found.append(at.astimezone(apia))
    assert [(one.day, one.hour) for one in found] == [
        (28, 7), (28, 18), (29, 7), (29, 18), (31, 7), (31, 18), (1, 7), (1, 18)
    ]  # fmt: skip


def test_a_bench_without_rounds_is_asked_every_twelve_hours() -> None:
    here = Moment(datetime(2026, 5, 20, 12, 0, tzinfo=UTC), UTC, ())
    assert here.next_two(here.now) == (
        here.now + timedelta(hours=12),
        here.now + timedelta(hours=24),
    )
    assert here.name_of_round() == "round"


def test_a_look_shortly_before_a_round_counts_for_it() -> None:
    paris = ZoneInfo("Europe/Paris")
    here = moment("Europe/Paris", datetime(2026, 5, 20, 12, 0, tzinfo=paris))

    assert here.next_unserved(datetime(2026, 5, 20, 7, 40, tzinfo=paris)) == datetime(
        2026, 5, 20, 18, 0, tzinfo=paris
    )
    assert here.next_unserved(datetime(2026, 5, 20, 6, 10, tzinfo=paris)) == datetime(
        2026, 5, 20, 18, 0, tzinfo=paris
    )
    before = datetime(2026, 5, 20, 7, 0, tzinfo=paris) - EARLY - timedelta(minutes=1)
    assert here.next_unserved(before) == datetime(2026, 5, 20, 7, 0, tzinfo=paris)


def test_a_daily_look_comes_a_day_later_in_the_same_round() -> None:
    paris = ZoneInfo("Europe/Paris")
    here = moment("Europe/Paris", datetime(2026, 5, 20, 12, 0, tzinfo=paris))

    for minutes in (-30, 0, 24, 90):
        last = datetime(2026, 5, 20, 7, 0, tzinfo=paris) + timedelta(minutes=minutes)
        assert here.next_daily(last) == datetime(2026, 5, 21, 7, 0, tzinfo=paris)


def test_missed_rounds_are_counted_and_stay_missed() -> None:
    paris = ZoneInfo("Europe/Paris")
    last = datetime(2026, 5, 20, 7, 20, tzinfo=paris)

    assert (
        moment("Europe/Paris", datetime(2026, 5, 20, 19, 0, tzinfo=paris)).missed_since(last) == 0
    )
    assert (
        moment("Europe/Paris", datetime(2026, 5, 21, 7, 30, tzinfo=paris)).missed_since(last) == 1
    )
    assert (
        moment("Europe/Paris", datetime(2026, 5, 22, 7, 30, tzinfo=paris)).missed_since(last) == 3
    )


@pytest.mark.parametrize(
    ("morning", "evening", "now", "name"),
    [
        ("07:00", "18:00", "05:05", "morning"),
        ("07:00", "18:00", "07:05", "morning"),
        ("07:00", "18:00", "12:29", "morning"),  # late, and nearer to it than to the evening's
        ("07:00", "18:00", "12:30", "afternoon"),
        ("07:00", "18:00", "14:59", "afternoon"),
        ("07:00", "18:00", "15:00", "evening"),  # within its early hours
        ("07:00", "18:00", "23:05", "evening"),
        ("07:00", "18:00", "02:05", "evening"),
        ("10:30", "21:30", "14:05", "morning"),  # by the hours that are set
        ("10:30", "21:30", "16:05", "afternoon"),
        ("06:00", "15:00", "11:05", "morning"),
        ("06:00", "15:00", "12:05", "evening"),
        ("16:00", "23:59", "19:59", "morning"),
        ("16:00", "23:59", "20:10", "morning"),  # no hour of an afternoon
    ],
)
def test_the_round_of_now_has_a_name(morning: str, evening: str, now: str, name: str) -> None:
    """Common practice, no source: a late round keeps its name until half-way to the next."""
    anchors = (("morning", time.fromisoformat(morning)), ("evening", time.fromisoformat(evening)))
    paris = ZoneInfo("Europe/Paris")
    at = datetime.combine(date(2026, 5, 20), time.fromisoformat(now), tzinfo=paris)
    assert Moment(at, paris, anchors).name_of_round() == name
