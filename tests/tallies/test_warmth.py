"""The temperature trace of a place: which series is used where, what a hole is, and that nothing is made up."""

from __future__ import annotations

from array import array
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rounds.biology.degree_days import Thresholds, integral_over_readings
from rounds.biology.forecast import trace_of
from rounds.entries.registry import Air, SetUp
from rounds.tallies.warmth import (
    HOLE_BETWEEN_LOOKS,
    Series,
    Trace,
    TraceGap,
    TraceSource,
    day_of,
    instant_of,
    trace,
)
from tests.plain_fold import fold

START = datetime(2026, 5, 20, 0, 0, tzinfo=UTC)
LISBON = ZoneInfo("Europe/Lisbon")


def hour(hours: float) -> datetime:
    return START + timedelta(hours=hours)


def air(
    hours: float,
    temperature: float | None = None,
    *,
    low: float | None = None,
    high: float | None = None,
    place: str = "",
) -> Air:
    return Air(
        id=f"id{round(hours * 60):06d}{place}",
        at=hour(hours),
        logged=hour(hours),
        container=place,
        temperature_c=temperature,
        low_c=low,
        high_c=high,
    )


def log(place: str, hours: list[float], temperature: float) -> Series:
    return Series(
        place,
        array("d", [day_of(hour(one)) for one in hours]),
        array("d", [temperature] * len(hours)),
    )


def hours_of(found: Trace) -> list[float]:
    return [round((day - day_of(START)) * 24, 3) for day, _ in found.readings]


def test_the_clock_of_a_trace_goes_both_ways() -> None:
    assert instant_of(day_of(hour(7.5))) == hour(7.5)
    assert day_of(datetime(1970, 1, 2, tzinfo=UTC)) == 1.0


def test_the_nearest_logger_is_used_and_its_hole_filled_from_the_next() -> None:
    own = log("R4", [*range(7), *range(18, 25)], 24.0)
    room = log("", [one / 2 for one in range(49)], 20.0)

    found = trace([], [own, room], hour(0), hour(24))

    assert [one.place for one in found.used] == ["R4", ""]
    assert found.used[0] == TraceSource("R4", True, 14, hour(0), hour(24))
    assert {temperature for day, temperature in found.readings if instant_of(day) <= hour(6)} == {
        24.0
    }
    assert {
        temperature for day, temperature in found.readings if hour(6) < instant_of(day) < hour(18)
    } == {20.0}
    assert found.holes == ()


def test_a_hole_that_nothing_fills_is_told() -> None:
    found = trace([[]], [log("R4", [0, 1, 2, 10, 11], 24.0)], hour(0), hour(16))

    assert found.holes == (TraceGap(hour(2), hour(10)), TraceGap(hour(11), hour(16)))


def test_hand_readings_fill_a_loggers_hole_but_stand_nowhere_else() -> None:
    spots = [air(1, 30), air(8, 22), air(20, 21)]

    found = trace([spots], [log("", [*range(5), *range(12, 25)], 19.0)], hour(0), hour(24))

    assert (day_of(hour(8)), 22.0) in found.readings
    assert all(temperature != 30 for _, temperature in found.readings)
    assert [(one.place, one.logger, one.readings) for one in found.used] == [
        ("", True, 18),
        ("", False, 1),
    ]


def test_two_looks_a_day_are_no_hole_and_one_missed_is() -> None:
    spots = [air(7, 20), air(18, 23), air(31, 20), air(55, 20)]

    found = trace([spots], [], hour(7), hour(55))

    assert found.holes == (TraceGap(hour(31), hour(55)),)
    assert timedelta(hours=13) < HOLE_BETWEEN_LOOKS < timedelta(hours=24)


def test_lowest_and_highest_stand_at_five_and_fifteen_local() -> None:
    # Lisbon keeps UTC+1 in May (tz database), so that 05:00 and 15:00 there are 04:00 and 14:00 in UTC.
    found = trace(
        [[air(6, low=15, high=25), air(30, low=16, high=26)]], [], hour(6), hour(30), zone=LISBON
    )

    placed = {
        round((day - day_of(START)) * 24, 3): temperature for day, temperature in found.readings
    }
    assert placed[14.0] == 26
    assert placed[28.0] == 16


def test_lowest_and_highest_read_twice_a_day_lie_at_the_nearer_end_of_their_span() -> None:
    found = trace([[air(7, low=15, high=25), air(18, low=17, high=27)]], [], hour(7), hour(18))

    placed = {
        round((day - day_of(START)) * 24, 3): temperature for day, temperature in found.readings
    }
    assert placed[15.0] == 27
    assert placed[7.5] == 17  # 05:00 is not in the span; its beginning is nearest


def test_lowest_and_highest_do_not_speak_for_a_week() -> None:
    found = trace([[air(0, low=10, high=20), air(168, low=15, high=25)]], [], hour(0), hour(168))

    assert min(one for one in hours_of(found) if one > 0) >= 168 - 36
    assert found.holes


def test_the_temperature_at_the_time_of_reading_counts_as_itself() -> None:
    found = trace(
        [[air(7, 18, low=15, high=25), air(31, 19, low=14, high=24)]], [], hour(7), hour(31)
    )

    assert (day_of(hour(7)), 18) in found.readings
    assert (day_of(hour(31)), 19) in found.readings


def test_where_nothing_was_read_the_assumed_temperature_stands_and_is_called_so() -> None:
    found = trace([[], []], [], hour(0), hour(24), assumed_c=21.5)

    assert found == Trace(((day_of(hour(0)), 21.5), (day_of(hour(24)), 21.5)), (), (), True)
    assert trace([], [], hour(0), hour(24)) == Trace((), (), (), False)


def test_one_reading_is_held_and_its_holes_told() -> None:
    found = trace([[air(4, 21)]], [], hour(0), hour(48), assumed_c=30)

    assert [temperature for _, temperature in found.readings] == [21, 21]
    assert found.holes == (TraceGap(hour(4), hour(48)),)
    assert not found.assumed


def test_a_reading_just_before_and_just_after_the_span_ends_the_line() -> None:
    found = trace([], [log("", [0, 1, 2, 3, 4, 5], 20.0)], hour(1.5), hour(3.5))

    assert hours_of(found) == [1, 2, 3, 4]


def test_a_span_that_ends_before_it_begins_is_refused() -> None:
    with pytest.raises(ValueError, match="the first must be the earlier"):
        trace([], [], hour(2), hour(1))


def test_places_from_the_container_outward() -> None:
    bench = fold(
        [
            SetUp(id="id1", at=START, logged=START, container="C2", purpose="rearing", shelf="B"),
            SetUp(id="id2", at=START, logged=START, container="R4", purpose="rearing", inside="C2"),
        ]
    )

    assert bench.places_of("R4") == ("R4", "C2", "B", "")
    assert bench.places_of("C2") == ("C2", "B", "")
    assert bench.places_of("B") == ("B", "")
    assert bench.places_of("") == ("",)


def test_a_trace_is_what_degree_days_and_forecasts_take() -> None:
    """Worked by hand: 48 h at a steady 20 C above a threshold of 10 C are 20 degree-days."""
    found = trace([], [log("R4", [float(one) for one in range(49)], 20.0)], hour(0), hour(48))

    assert integral_over_readings(found.readings, lower_c=10).degree_days == pytest.approx(20)
    assert trace_of(found.readings, above=Thresholds(10)).gathered[-1] == pytest.approx(20)


hand = st.lists(
    st.tuples(
        st.integers(-30, 100),
        st.integers(-5, 35),
        st.integers(0, 10),
        st.sampled_from(["spot", "both", "extremes"]),
    ),
    max_size=12,
)
logs = st.lists(st.lists(st.integers(-30, 100), max_size=30, unique=True).map(sorted), max_size=3)


@given(hand, logs)
def test_any_readings_give_a_rising_trace_of_what_was_read(
    hands: list[tuple[int, int, int, str]], hours: list[list[int]]
) -> None:
    airs = [
        air(
            at,
            None if what == "extremes" else low,
            low=None if what == "spot" else low,
            high=None if what == "spot" else low + more,
        )
        for at, low, more, what in hands
    ]
    loggers = [
        log(f"L{number}", [float(one) for one in found], 20.0) for number, found in enumerate(hours)
    ]

    found = trace([airs], loggers, hour(0), hour(72), assumed_c=20)

    days = [day for day, _ in found.readings]
    assert len(days) >= 2
    assert all(one < following for one, following in zip(days, days[1:], strict=False))
    said = {20.0} | {
        float(value)
        for one in airs
        for value in (one.temperature_c, one.low_c, one.high_c)
        if value is not None
    }
    assert {temperature for _, temperature in found.readings} <= said
    assert all(hour(0) <= one.start < one.end <= hour(72) for one in found.holes)
    assert found.assumed == (not found.used)
