"""What holds at the edges of a formula by its definition: worked by hand, nothing rounded."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rounds.biology import (
    choice,
    development,
    distributions,
    forecast,
    increase,
    kinship,
    proportions,
)
from rounds.biology.degree_days import Thresholds
from rounds.surroundings import air


def test_a_day_of_one_temperature_is_a_day() -> None:
    one = air.saturation_vapour_pressure_kpa(temperature_c=15)

    assert air.vapour_pressure_kpa(temperature_c=15, humidity_percent=70) == pytest.approx(
        one * 0.7
    )


def test_a_night_that_cools_to_the_dew_point_condenses() -> None:
    dew = air.dew_point_c(temperature_c=20, humidity_percent=60)

    assert (
        air.feel_of_air(temperature_c=20, humidity_percent=60, tonight_low_c=dew)
        == "condensing tonight"
    )
    assert (
        air.feel_of_air(temperature_c=20, humidity_percent=60, tonight_low_c=dew + 1e-6)
        == "comfortable"
    )
    assert air.feel_of_air(temperature_c=20, humidity_percent=0, tonight_low_c=-40) == "drying"


def test_distributions_at_their_ends() -> None:
    # DLMF 8.2 and 8.17: P(a, 0) = 0, Q(a, 0) = 1, I_0 = 0, I_1 = 1.
    assert distributions.regularised_gamma_lower(2.5, 0) == 0
    assert distributions.regularised_gamma_upper(2.5, 0) == 1
    assert distributions.regularised_beta(2, 3, 0) == 0
    assert distributions.regularised_beta(2, 3, 1) == 1
    assert distributions.beta_quantile(0, 2, 3) == 0
    assert distributions.beta_quantile(1, 2, 3) == 1
    assert distributions.gamma_quantile(0, 2) == 0
    assert distributions.student_t_quantile(0.5, 7) == 0
    assert [distributions.binomial_chance(k, 3, 0) for k in range(4)] == [1, 0, 0, 0]
    assert [distributions.binomial_chance(k, 3, 1) for k in range(4)] == [0, 0, 0, 1]


def test_equal_durations_have_no_threshold() -> None:
    with pytest.raises(ValueError, match="no faster where it is warmer"):
        development.x_intercept_fit([(20, 10), (25, 10)])
    with pytest.raises(ValueError, match="all durations are equal"):
        development.ikemoto_takai_fit([(20, 10), (25, 10)])


def test_durations_by_their_definition() -> None:
    """K = D (T - T0): with T0 = 0 and K = 200, 10 days at 20 C, 8 at 25, 5 at 40; with T0 = 10 and K = 100, 10 at 20."""
    assert development.ikemoto_takai_fit([(20, 10), (25, 8), (40, 5)]) == (
        pytest.approx(0),
        pytest.approx(200),
    )
    assert development.ikemoto_takai_fit([(20, 10), (30, 5), (35, 4)]) == (
        pytest.approx(10),
        pytest.approx(100),
    )
    fit = development.x_intercept_fit([(20, 10), (30, 5)])
    assert (fit.lower_c, fit.constant_dd) == (pytest.approx(10), pytest.approx(100))
    assert (fit.se_lower_c, fit.se_constant_dd, fit.r_squared, fit.points) == (None, None, 1.0, 2)
    three = development.x_intercept_fit([(20, 10), (30, 5), (35, 4)])
    assert three.se_lower_c == pytest.approx(0, abs=1e-6)
    assert development.days_at(temperature_c=20, lower_c=10, constant_dd=100) == 10
    assert development.days_at(temperature_c=10, lower_c=10, constant_dd=100) is None


def test_a_fall_of_the_product_gives_a_threshold_below_nought() -> None:
    """The reduced major axis takes the sign of the covariance of D T with D (Ikemoto & Takai 2000): here it falls."""
    lower, constant = development.ikemoto_takai_fit([(10, 10), (13, 8), (30, 5)])

    ys, xs = [100, 104, 150], [10, 8, 5]
    mean_x, mean_y = sum(xs) / 3, sum(ys) / 3
    slope = math.sqrt(sum((y - mean_y) ** 2 for y in ys) / sum((x - mean_x) ** 2 for x in xs))
    assert lower == pytest.approx(-slope)
    assert constant == pytest.approx(mean_y + slope * mean_x)


def test_a_brood_of_an_unknown_father() -> None:
    """Full sibs of an unknown father are still full sibs; a parent not named is no kin of anybody."""
    pedigree = {"brood": ("dam", ""), "next": ("brood", "")}

    assert kinship.kinship(pedigree, "brood", "brood") == 0.25
    assert kinship.kinship(pedigree, "dam", "brood") == 0.25
    assert kinship.kinship(pedigree, "brood", "next") == 0.125
    assert kinship.kinship(pedigree, "brood", "stranger") == 0
    assert kinship.kinship({"brood": ("", "")}, "brood", "brood") == 0.25
    assert kinship.kinship({"brood": ("", "sire")}, "brood", "sire") == 0.25


def test_a_pedigree_that_runs_in_a_ring_is_refused() -> None:
    with pytest.raises(ValueError, match="among its own ancestors"):
        kinship.kinship({"one": ("two", "x"), "two": ("one", "y")}, "one", "two")


@pytest.mark.parametrize(("r0", "growth"), [(1.0, 1.0), (4.0, 2.0), (0.25, 0.5)])
def test_increase_of_a_stock_that_lays_once(r0: float, growth: float) -> None:
    """All daughters at age 2: exp(r)^2 = R0, by the equation itself."""
    found = increase.increase([2], [r0])

    assert found.growth == pytest.approx(growth, abs=1e-12)
    assert found.r == pytest.approx(math.log(growth), abs=1e-12)
    assert found.cohort_time == 2
    assert found.r_shortcut == pytest.approx(found.r, abs=1e-12)
    if r0 == 1:
        assert (found.r, found.generation_time, found.doubling_time) == (0.0, None, None)
    else:
        assert found.generation_time == pytest.approx(2)
    assert found.doubling_time == (pytest.approx(1) if r0 == 4 else None)


def test_increase_with_few_daughters_late_in_life() -> None:
    """One age of reproduction again: r = ln(0.001) / 200; the first trial rates are far off and must not run over."""
    found = increase.increase([1, 200], [0, 0.001])

    assert found.r == pytest.approx(math.log(0.001) / 200, rel=1e-9)


def test_growth_past_telling_is_refused() -> None:
    with pytest.raises(ValueError, match="faster than can be told"):
        increase.increase([0.001], [9])


@pytest.mark.parametrize(
    ("used", "available"), [([1, 2, 3], [5, 5]), ([1, 2], [5, 5, 5]), ([1], [5]), ([], [])]
)
def test_a_choice_needs_two_hosts_each_with_what_was_there(
    used: list[float], available: list[float]
) -> None:
    with pytest.raises(ValueError, match="give both for each of two or more plants"):
        choice.preferences(used, available)


def test_a_choice_needs_something_used() -> None:
    with pytest.raises(ValueError, match="nothing was used"):
        choice.preferences([0, 0], [5, 5])
    one, other = choice.preferences([1, 0], [5, 5])  # all of what was used is of the first
    assert (one.alpha, other.alpha) == (1, 0)


def test_no_share_lies_outside_nought_and_one() -> None:
    for of in (1, 2, 3, 7, 10, 23, 40, 100):
        for count in range(of + 1):
            share = proportions.exact_share(count, of)
            assert 0 <= share.low <= count / of <= share.high <= 1
            for expected in (0.1, 0.5, 0.7):
                assert 0 < proportions.binomial_test(count, of, expected=expected) <= 1


@given(st.lists(st.floats(0, 10), min_size=1, max_size=4), st.floats(0, 3))
def test_moving_within_one_warmth_changes_nothing(moves: list[float], begun: float) -> None:
    trace = forecast.trace_of(
        [(day / 4, 15 + 5 * (day % 4)) for day in range(45)], above=Thresholds(12)
    )
    whole = forecast.joined(
        [(trace, until) for until in sorted(moves)], trace, start=min(begun, *moves)
    )
    for day in (begun, *moves, 11, 14):
        told, same = (one.heat_at(day) - one.heat_at(begun) for one in (whole, trace))
        assert told == pytest.approx(same, abs=1e-6)
