"""The loss of a moat from depth readings, against scipy's truncated normal and in simulation."""

from __future__ import annotations

import random

import numpy
import pytest
from scipy import stats

from rounds.surroundings import moat


def cut_normal(slope: float, runs: int, days: float) -> tuple[float, float, float]:
    """scipy's truncated normal: a standard deviation of rounding (two readings a run, 1 / sqrt(12) each) and of days."""
    rate = max(0.0, slope)
    spread = numpy.sqrt(runs * 2 / 12 + (0.3 * rate) ** 2 * days) / days
    curve = stats.truncnorm(-rate / spread, numpy.inf, loc=rate, scale=spread)
    return tuple(float(one) for one in curve.ppf([0.5, 0.025, 0.975]))  # type: ignore[return-value]


def told(readings: list[tuple[float, float]]) -> tuple[float, float, float]:
    found = moat.loss_from_readings(readings)
    assert found is not None
    assert (found.rests_on, found.readings) == ("own readings", len(readings))
    return found.mm_a_day, found.low, found.high


def test_what_was_lost_over_the_time_cut_at_nought() -> None:
    chance = random.Random(1379)
    for _ in range(60):
        days = [0.3 * turn + chance.uniform(0, 0.09) for turn in range(chance.randint(3, 9))]
        depths = [60 - 3 * day + chance.uniform(-0.2, 0.2) for day in days]

        slope = (depths[0] - depths[-1]) / (days[-1] - days[0])
        assert told(list(zip(days, depths, strict=True))) == pytest.approx(
            cut_normal(slope, 1, days[-1] - days[0]), rel=1e-6
        )


def test_a_topping_up_begins_anew() -> None:
    """By hand: 20 to 17 in a day is 3; after the topping-up 30 to 26 in a day is 4; none across."""
    assert told([(0, 20), (1, 17), (1.1, 30), (2.1, 26)]) == pytest.approx(
        cut_normal(3.5, 2, 2.0), rel=1e-6
    )


def test_a_rise_within_half_a_millimetre_is_a_reading_error() -> None:
    """By hand: 2 mm lost in 2 days."""
    assert told([(0, 20.0), (1, 20.4), (2, 18.0)]) == pytest.approx(
        cut_normal(1.0, 1, 2.0), rel=1e-6
    )


def test_limits_hold_the_loss_as_often_as_they_say() -> None:
    """Simulated: days differ by a quarter, each depth is read to the millimetre, toppings-up now and then."""
    chance = random.Random(14)
    inside = 0
    for _ in range(1_500):
        rate = chance.choice((0.3, 0.8, 2.0, 4.0))
        readings, depth, day = [], 60.0, 0.0
        for _ in range(chance.randint(2, 10)):
            readings.append((day, float(round(depth))))
            apart = chance.choice((0.5, 1.0))
            depth, day = (
                depth - max(0.0, chance.gauss(rate, 0.25 * rate / apart**0.5)) * apart,
                day + apart,
            )
            depth = 60.0 + chance.random() if chance.random() < 0.1 else depth
        found = moat.loss_from_readings(readings)
        inside += found is None or found.low <= rate <= found.high
    assert 0.925 <= inside / 1_500 <= 0.985


def test_readings_too_near_each_other_tell_nothing() -> None:
    assert moat.loss_from_readings([(0, 20), (0.19, 19)]) is None
    assert moat.loss_from_readings([(0, 20), (0.2, 19)]) is not None
    assert moat.loss_from_readings([]) is None


def test_two_equal_readings_do_not_mean_never() -> None:
    """By hand: half a millimetre may have gone unseen at either end; a day apart, up to 0.9 mm a day."""
    assert told([(0, 20), (1, 20)]) == pytest.approx((0.2753, 0.0128, 0.9150), abs=2e-4)
    assert told([(0, 20), (1, 20.3)]) == told([(0, 20), (1, 20)])


def test_still_air_is_no_wind() -> None:
    still = moat.open_water_loss_mm_a_day(temperature_c=20, humidity_percent=50)

    assert still == moat.open_water_loss_mm_a_day(temperature_c=20, humidity_percent=50, wind_m_s=0)
    assert moat.loss_from_air(temperature_c=20, humidity_percent=50) == moat.Loss(
        still, pytest.approx(0.6 * still), pytest.approx(1.4 * still), "temperature and humidity"
    )


def test_at_its_mark_it_is_low_now() -> None:
    assert moat.days_until(depth_mm=8, low_mm=8, loss_mm_a_day=3) == 0
    assert moat.days_until(depth_mm=8, low_mm=8, loss_mm_a_day=0) == 0
    assert moat.days_until(depth_mm=20, low_mm=8, loss_mm_a_day=3) == 4
    assert moat.days_until(depth_mm=20, low_mm=8, loss_mm_a_day=0) is None
