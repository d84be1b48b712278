"""The loss of a moat from depth readings, against the pairwise-slope estimators of general libraries."""

from __future__ import annotations

import random
from itertools import combinations

import numpy
import pytest
from scipy import stats

from rounds.surroundings import moat


def test_the_median_slope_and_its_quarters() -> None:
    """scipy's Theil-Sen slope; numpy's linear quantiles of all pairwise slopes."""
    chance = random.Random(1379)
    for _ in range(60):
        days = [0.3 * turn + chance.uniform(0, 0.09) for turn in range(chance.randint(3, 9))]
        depths = [60 - 3 * day + chance.uniform(-0.2, 0.2) for day in days]

        found = moat.loss_from_readings(list(zip(days, depths, strict=True)))

        slope = stats.theilslopes(depths, days)[0]
        slopes = [(depths[i] - depths[j]) / (days[j] - days[i]) for i, j in combinations(range(len(days)), 2)]
        assert found is not None
        assert found.mm_a_day == pytest.approx(-slope, rel=1e-9)
        assert found.low == pytest.approx(max(0, numpy.quantile(slopes, 0.25)), rel=1e-9)
        assert found.high == pytest.approx(numpy.quantile(slopes, 0.75), rel=1e-9)
        assert (found.rests_on, found.readings) == ("own readings", len(days))


def test_a_topping_up_begins_anew() -> None:
    """By hand: 20 to 17 in a day is 3; after the topping-up 30 to 26 in a day is 4; none across."""
    found = moat.loss_from_readings([(0, 20), (1, 17), (1.1, 30), (2.1, 26)])

    assert found is not None
    assert found.mm_a_day == pytest.approx(3.5)
    assert (found.low, found.high) == (pytest.approx(1.75), pytest.approx(5.25))  # two slopes only: half as much, half as much again


def test_a_rise_within_half_a_millimetre_is_a_reading_error() -> None:
    """By hand: slopes -0.4, 2.4 and, across both, 1.0; the median is 1.0."""
    found = moat.loss_from_readings([(0, 20.0), (1, 20.4), (2, 18.0)])

    assert found is not None
    assert found.mm_a_day == pytest.approx(1.0)
    assert (found.low, found.high) == (pytest.approx(0.3), pytest.approx(1.7))


def test_readings_too_near_each_other_tell_nothing() -> None:
    assert moat.loss_from_readings([(0, 20), (0.19, 19)]) is None
    assert moat.loss_from_readings([(0, 20), (0.2, 19)]) is not None
    assert moat.loss_from_readings([]) is None


def test_a_moat_that_only_rose_loses_nothing() -> None:
    found = moat.loss_from_readings([(0, 20), (1, 20.3)])

    assert found is not None
    assert (found.mm_a_day, found.low, found.high) == (0, 0, 0)


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
