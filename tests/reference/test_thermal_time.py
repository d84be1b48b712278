"""Warmth that a stage takes, from looks now and then: held against lifelines, scipy and simulated broods."""

from __future__ import annotations

import warnings
from math import exp, inf, log

import numpy as np
import pytest

from rounds.biology.thermal_constants import any_error, near_error
from rounds.biology.thermal_time import (
    AS_MUCH_AS_THEY_MAY,
    BROODS_MAY_DIFFER,
    MOST_OF_BROODS,
    NEVER_WEIGHS,
    TAILS,
    Z90,
    Brood,
    StageEnds,
    _between,
    _first_of,
    _not_yet,
    estimated,
    half_took,
    one_brood,
)

TRULY = 165.0
OFF = near_error("pupa")  # how far a brood may be off a published constant


def looked_at(
    rng: np.random.Generator, mean: float, number: int, every: float = 6.0, until: float = inf
) -> tuple[StageEnds, ...]:
    """Animals with a spread of 8 % that are looked at each so many degree-days, up to some."""
    found = []
    for need in mean * np.exp(rng.normal(0, 0.08, number)):
        low = float(need // every * every)
        found.append(StageEnds(low, low + every) if low + every <= until else StageEnds(until, inf))
    return tuple(found)


@pytest.mark.parametrize(
    ("low", "high"), [(-1, 2), (1, 3), (-3, -2.5), (0.5, inf), (6, 7), (-9, -8), (-inf, 1)]
)
def test_a_normal_between_two_bounds_is_that_of_scipy(low: float, high: float) -> None:
    from scipy.stats import truncnorm

    share, mean, variance = _between(low, high)
    there = truncnorm(low, high)
    assert mean == pytest.approx(float(there.mean()), rel=1e-6)
    assert variance == pytest.approx(float(there.var()), abs=1e-6)
    assert 0 < share < 1


def test_interval_and_right_censored_animals_give_what_lifelines_gives() -> None:
    from lifelines import LogNormalFitter

    rng = np.random.default_rng(5)
    needs = TRULY * np.exp(rng.normal(0.1, 0.12, 400))
    low = needs // 6 * 6
    high = low + 6
    low[needs > 190], high[needs > 190] = 190, np.inf
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        theirs = LogNormalFitter().fit_interval_censoring(low, high)
    ours = one_brood(
        tuple(StageEnds(float(a), float(b)) for a, b in zip(low, high, strict=True)),
        log(TRULY),
        10.0,
        0.12,
        0.0,
    )

    assert ours.mean == pytest.approx(theirs.mu_, abs=0.003)
    assert ours.spread == pytest.approx(theirs.sigma_, abs=0.005)


def test_the_information_is_the_curvature_of_the_likelihood() -> None:
    """Of its profile: the share that never is there is what explains best what was seen with that mean."""
    from scipy.optimize import minimize_scalar
    from scipy.stats import norm

    seen = looked_at(np.random.default_rng(2), TRULY, 30, until=170)
    found = one_brood(seen, log(TRULY), 10.0, 0.08, 0.2)

    def likelihood(mean: float) -> float:
        def at(never: float) -> float:
            total = NEVER_WEIGHS * (0.2 * log(never) + 0.8 * log(1 - never))
            for one in seen:
                share = norm.cdf(log(one.high), mean, found.spread) if one.high < inf else 1.0
                share = (1 - never) * (share - norm.cdf(log(one.low), mean, found.spread))
                total += log(share if one.high < inf else never + share)
            return total

        return -float(
            minimize_scalar(lambda one: -at(one), (1e-6, 0.2, 0.9), options={"xtol": 1e-12}).fun
        )

    step = 1e-3
    curve = (
        -(
            likelihood(found.mean + step)
            - 2 * likelihood(found.mean)
            + likelihood(found.mean - step)
        )
        / step**2
    )
    assert found.precision == pytest.approx(curve, rel=0.01)
    assert likelihood(found.mean) >= max(
        likelihood(found.mean + 0.01), likelihood(found.mean - 0.01)
    )


def test_the_first_of_ten_does_not_make_the_constant_short() -> None:
    """One of ten pupae has emerged: the nine others count as not there yet."""
    rng = np.random.default_rng(1)
    told = []
    for _ in range(40):
        first = float(np.sort(TRULY * np.exp(rng.normal(0, 0.08, 10)))[0]) // 6 * 6
        brood = (StageEnds(first, first + 6), StageEnds(first + 6, inf, 9))
        told.append(estimated(TRULY, shorter=0.1, longer=0.1, broods=[brood], this=0).constant_dd)
    assert np.mean(told) == pytest.approx(TRULY, rel=0.05)
    assert min(told) > 0.9 * TRULY
    finished_only = [
        estimated(
            TRULY, shorter=0.1, longer=0.1, broods=[(StageEnds(130.0, 136.0),)], this=0
        ).constant_dd
    ]
    assert finished_only[0] < 0.93 * TRULY  # what leaving them out would say


def test_one_brood_shifts_a_constant_a_little_and_ten_shift_it_much() -> None:
    rng = np.random.default_rng(3)
    broods = [looked_at(rng, 1.3 * TRULY, 10) for _ in range(10)]
    shifts = [
        estimated(TRULY, shorter=OFF[0], longer=OFF[1], broods=broods[:number])
        for number in (0, 1, 3, 10)
    ]
    moved = [log(one.constant_dd / TRULY) / log(1.3) for one in shifts]
    assert moved[0] == pytest.approx(0, abs=1e-9)
    assert 0.2 < moved[1] < 0.75
    assert moved[1] < moved[2] < moved[3]
    assert moved[2] > 0.75
    assert moved[3] > 0.9
    # more of them that agree make it surer
    assert shifts[1].shorter > shifts[2].shorter > shifts[3].shorter
    # ten that are all alike leave little difference between broods, but some
    assert 0.025 < shifts[3].shorter < 0.05
    as_told = [looked_at(rng, TRULY, 10) for _ in range(10)]
    surer = [
        estimated(TRULY, shorter=OFF[0], longer=OFF[1], broods=as_told[:number]).shorter
        for number in (1, 3, 10)
    ]
    assert surer == sorted(surer, reverse=True)


def test_the_long_overdue_count_less_and_less() -> None:
    told = [
        estimated(TRULY, shorter=OFF[0], longer=OFF[1], broods=[(StageEnds(heat, inf, 10),)])
        for heat in (60.0, 100.0, 150.0, 600.0)
    ]
    assert told[0].constant_dd == pytest.approx(TRULY, rel=0.005)
    assert told[1].constant_dd == pytest.approx(TRULY, rel=0.02)
    assert told[2].constant_dd > 1.05 * TRULY
    assert told[3].constant_dd == pytest.approx(TRULY, rel=0.01)
    # what they have not reached yet raises the lower limit and leaves the upper
    lows = [one.constant_dd * exp(-Z90 * one.shorter) for one in told]
    highs = [one.constant_dd * exp(Z90 * one.longer) for one in told]
    assert TRULY * exp(-Z90 * OFF[0]) < lows[0] < lows[1] < lows[2]
    assert highs[:2] == pytest.approx([TRULY * exp(Z90 * OFF[1])] * 2, rel=0.03)


def test_means_and_spreads_of_simulated_broods_come_back() -> None:
    rng = np.random.default_rng(4)
    broods = [looked_at(rng, TRULY * exp(rng.normal(0, 0.06)), 20) for _ in range(30)]
    found = estimated(100.0, shorter=0.5, longer=0.5, broods=broods)
    assert found.constant_dd == pytest.approx(TRULY, rel=0.03)
    assert found.spread == pytest.approx(0.08, abs=0.01)
    assert found.shorter == pytest.approx(0.06, abs=0.02)


@pytest.mark.parametrize("own", [[1.1], [1.6], [1.6, 1.5, 1.7], [0.7, 0.9], [1.2] * 10])
@pytest.mark.parametrize("stage", ["egg", "larva"])
def test_broods_weigh_as_integrals_over_a_dense_grid_say(own: list[float], stage: str) -> None:
    """The same model by brute force: by how much broods differ by their scatter, the species by its density, the window by
    draws."""
    from scipy.integrate import cumulative_trapezoid
    from scipy.stats import norm

    sides = any_error(stage)
    broods = [half_took(100 * one) for one in own]
    found = estimated(100.0, shorter=sides[0], longer=sides[1], broods=broods)

    told = [one_brood(seen, log(100), 2.0) for seen in broods]
    at = np.array([one.mean - log(100) for one in told])
    own_variance = np.array([1 / one.precision for one in told])
    half = (BROODS_MAY_DIFFER[1] / BROODS_MAY_DIFFER[0]) ** 0.5
    differ = np.geomspace(BROODS_MAY_DIFFER[0] / half, BROODS_MAY_DIFFER[-1] * half, 300)
    true_mean = np.linspace(-4, 4, 8001)  # flat before: their scatter alone tells
    fits = np.array(
        [
            np.exp(
                sum(
                    norm.logpdf(one, true_mean, np.sqrt(tau**2 + variance))
                    for one, variance in zip(at, own_variance, strict=True)
                )
            ).sum()
            for tau in differ
        ]
    )
    share = np.cumsum(fits) / fits.sum()
    most = MOST_OF_BROODS * float(np.hypot(*sides)) / np.sqrt(2)
    between = min(most, float(np.interp(AS_MUCH_AS_THEY_MAY, share, differ)))

    def of_species(tau: float) -> list[float]:
        return [float(np.sqrt(max(side**2 - tau**2, side**2 / 4))) for side in sides]

    shorter, longer = of_species(between)
    deviate = np.linspace(-7, 7, 20_001)
    skew = log(longer / shorter) / Z90
    curve = np.expm1(skew * deviate) / skew if abs(skew) > 1e-9 else deviate
    at_edge = np.expm1(skew * Z90) / skew if abs(skew) > 1e-9 else Z90
    off = Z90 * longer / at_edge / exp(TAILS * Z90**2 / 2) * curve * np.exp(TAILS * deviate**2 / 2)
    likely = norm.pdf(deviate)
    for one, variance in zip(at, own_variance, strict=True):
        likely = likely * norm.pdf(one, off, np.sqrt(between**2 + variance))
    median_share = cumulative_trapezoid(likely, deviate, initial=0)
    median = float(np.interp(0.5, median_share / median_share[-1], off))
    assert log(found.constant_dd / 100) == pytest.approx(median, abs=0.012)
    assert found.between == pytest.approx(between, rel=0.1)

    weights = 1 / (between**2 + own_variance)
    weights /= weights.sum()
    weight = median / float(weights @ at)
    rng = np.random.default_rng(3)
    taus = rng.choice(differ, size=100_000, p=fits / fits.sum())
    for side, told_side in zip(sides, (found.shorter, found.longer), strict=True):
        of_mu = np.sqrt(np.maximum(side**2 - taus**2, side**2 / 4))
        missed = (1 - weight) * of_mu * rng.normal(size=len(taus))
        for w, variance in zip(weights, own_variance, strict=True):
            missed += weight * w * np.sqrt(taus**2 + variance) * rng.normal(size=len(taus))
        missed += taus * rng.normal(size=len(taus))
        window = float(np.quantile(np.abs(missed), 0.9)) / Z90
        assert told_side == pytest.approx(window, rel=0.06)


def test_what_is_out_of_order_is_refused() -> None:
    with pytest.raises(ValueError, match="the first must be the lower"):
        one_brood((StageEnds(20.0, 10.0),), log(TRULY), 0.1)
    assert one_brood((), log(TRULY), 0.1) == Brood(log(TRULY), 0.0, 0.1, 0.0, 0.0, 0)


def test_a_brood_of_which_none_ended_has_no_mean_of_its_own() -> None:
    """Only how long it waits is weighed, by the lot that tells most, so that its mean is not sought."""
    from scipy.stats import norm

    waits = ((StageEnds(90.0, inf, 5), StageEnds(120.0, inf, 2)),)
    alone, known = estimated(100.0, shorter=0.1, longer=0.2, broods=waits), log(100.0)
    assert one_brood(waits[0], known, 2.0).finished == 0 == alone.broods
    lots = tuple(_first_of(lot, known, 0.1, alone.spread) for lot in waits[0])
    for off in (-1.0, -0.1, 0.0, 0.2, 1.5):
        by_each = [norm.sf((middle - off) / varies) for middle, varies in lots]
        assert exp(_not_yet(lots, off, 0.1)) == pytest.approx(0.1 + 0.9 * min(by_each), rel=1e-12)
