"""Rounds are local, intervals are absolute: checked against an independent recurrence library over clock changes."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo, available_timezones

import pytest
from dateutil import rrule, tz

from rounds.care.moment import EARLY, Moment

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
def test_rounds_come_as_the_recurrence_library_says(zone: str, first: tuple[int, int, int], second: tuple[int, int, int]) -> None:
    # Independent reference: python-dateutil's rrule in local wall time, made instants by dateutil's own zone.
    for day in (first, second):
        local = tz.gettz(zone)
        rule = rrule.rrule(rrule.DAILY, dtstart=datetime(*day), count=6, byhour=(7, 18), byminute=0, bysecond=0)
        expected = [one.replace(tzinfo=local).astimezone(UTC) for one in rule]
        now = expected[0] - timedelta(hours=1)

        found = []
        at = now
        for _ in expected:
            at = moment(zone, now).next_anchor(at)
            found.append(at)

        assert found == expected


@pytest.mark.parametrize(("zone", "first", "second"), CHANGES)
def test_intervals_count_real_hours_over_a_change(zone: str, first: tuple[int, int, int], second: tuple[int, int, int]) -> None:
    # Independent reference: rrule HOURLY in UTC.
    for day in (first, second):
        start = datetime(*day, 18, 40, tzinfo=ZoneInfo(zone))
        expected = list(rrule.rrule(rrule.HOURLY, interval=12, count=6, dtstart=start.astimezone(UTC).replace(tzinfo=tz.UTC)))

        found = [start.astimezone(UTC) + timedelta(hours=12 * step) for step in range(6)]

        assert found == expected


def test_no_zone_invents_or_loses_an_hour_or_a_round() -> None:
    for zone in sorted(available_timezones()):
        if zone.startswith(("posix/", "right/")) or zone in ("localtime", "Factory"):
            continue
        for start in (datetime(2026, 3, 1, tzinfo=UTC), datetime(2026, 9, 20, tzinfo=UTC)):
            now = start
            here = moment(zone, now)
            seen = []
            for _ in range(10):
                now = here.next_anchor(now)
                seen.append(now.astimezone(ZoneInfo(zone)))
            wall = [(one.date(), one.hour) for one in seen]
            assert all(later > earlier for earlier, later in zip(seen, seen[1:], strict=False)), zone
            assert len(set(wall)) == len(wall), zone
            assert {hour for _, hour in wall} <= {7, 8, 18, 19}, zone


def test_a_look_shortly_before_a_round_counts_for_it() -> None:
    paris = ZoneInfo("Europe/Paris")
    here = moment("Europe/Paris", datetime(2026, 5, 20, 12, 0, tzinfo=paris))

    assert here.next_unserved(datetime(2026, 5, 20, 7, 40, tzinfo=paris)) == datetime(2026, 5, 20, 18, 0, tzinfo=paris)
    assert here.next_unserved(datetime(2026, 5, 20, 6, 10, tzinfo=paris)) == datetime(2026, 5, 20, 18, 0, tzinfo=paris)
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

    assert moment("Europe/Paris", datetime(2026, 5, 20, 19, 0, tzinfo=paris)).missed_since(last) == 0
    assert moment("Europe/Paris", datetime(2026, 5, 21, 7, 30, tzinfo=paris)).missed_since(last) == 1
    assert moment("Europe/Paris", datetime(2026, 5, 22, 7, 30, tzinfo=paris)).missed_since(last) == 3


def test_the_round_of_now_has_a_name() -> None:
    paris = ZoneInfo("Europe/Paris")
    for hour, name in (
        (5, "morning"),
        (7, "morning"),
        (14, "morning"),
        (15, "evening"),
        (23, "evening"),
        (2, "evening"),
    ):
        assert moment("Europe/Paris", datetime(2026, 5, 20, hour, 5, tzinfo=paris)).name_of_round() == name
