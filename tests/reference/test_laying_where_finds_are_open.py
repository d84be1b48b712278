"""Laying rates where the share found is itself uncertain: against scipy's integrals, and simulated."""

from __future__ import annotations

import random
from math import inf

import numpy as np
import pytest
from scipy import integrate, stats

from rounds.biology.laying import ShareFound, chance_of_none_seen, hosts_compared, laying_rate

CASES = [
    (0, 3.0, 0.4, 4.0),
    (9, 8.0, 0.5, 4.0),
    (32, 16.0, 0.75, 10.0),
    (5, 2.0, 0.7, 1.5),
    (40, 9.0, 0.2, 60.0),
]


def over_share(share: float, counted: float, tail: float, what: object) -> float:
    beta = stats.beta(share * counted, (1 - share) * counted)
    parts = (np.arange(20_000) + 0.5) / 20_000
    return float(np.mean(what(beta.ppf(parts))))  # type: ignore[operator]


@pytest.mark.parametrize(("eggs", "days", "share", "counted"), CASES)
def test_limits_are_the_tails_averaged_over_the_share(
    eggs: int, days: float, share: float, counted: float
) -> None:
    rate = laying_rate(eggs=eggs, female_days=days, found=ShareFound(share, counted))
    above = over_share(
        share, counted, 0.025, lambda of: stats.poisson.cdf(eggs, rate.high * days * of)
    )
    assert above == pytest.approx(0.025, abs=0.0015)
    if eggs:
        below = over_share(
            share, counted, 0.025, lambda of: stats.poisson.sf(eggs - 1, rate.low * days * of)
        )
        assert below == pytest.approx(0.025, abs=0.0015)
    exact = laying_rate(eggs=eggs, female_days=days * share)
    assert rate.value == pytest.approx(exact.value)
    assert rate.low <= exact.low
    assert rate.high >= exact.high
    sure = laying_rate(eggs=eggs, female_days=days, found=ShareFound(share, 1e6))
    assert (sure.low, sure.high) == pytest.approx((exact.low, exact.high), rel=0.005)


def test_none_by_now_is_averaged_over_the_share() -> None:
    beta = stats.beta(0.4 * 4, 0.6 * 4)
    known, _ = integrate.quad(lambda of: beta.pdf(of) * np.exp(-5 * of), 0, 1)
    told = chance_of_none_seen(usual_rate=1, female_days=5, share_found=0.4, share_counted=4)
    assert told == pytest.approx(known, rel=0.01)
    assert chance_of_none_seen(
        usual_rate=1, female_days=5, share_found=0.4, share_counted=inf
    ) == pytest.approx(np.exp(-2))


@pytest.mark.parametrize(("share", "days"), [(0.4, 8.0), (0.74, 16.0)])
def test_nineteen_in_twenty_limits_hold_the_rate(share: float, days: float) -> None:
    """Told as exact, the share left 54 and 71 of 100 inside."""
    chance, counted, laid = random.Random(91), 4.0, 3.0
    eggs = [
        int(np.random.default_rng(turn).poisson(laid * days * of))
        for turn in range(1500)
        for of in (chance.betavariate(share * counted, (1 - share) * counted),)
    ]
    limits = {
        one: laying_rate(eggs=one, female_days=days, found=ShareFound(share, counted))
        for one in set(eggs)
    }
    inside = np.mean([limits[one].low <= laid <= limits[one].high for one in eggs])
    assert 0.94 <= inside <= 0.975


def test_two_hosts_with_equal_laying_are_told_apart_in_one_of_twenty() -> None:
    """Each plant's share by itself; told as exact, three in ten or more were told apart."""
    chance, guess = random.Random(92), ShareFound(0.4, 4.0)
    many = np.random.default_rng(93)
    apart, ratios = [], []
    for _ in range(40):
        eggs = [int(many.poisson(3 * 8 * chance.betavariate(1.6, 2.4))) for _ in "12"]
        told = hosts_compared(
            eggs_first=eggs[0], female_days_first=8, eggs_second=eggs[1], female_days_second=8,
            found_first=guess, found_second=guess,
        )  # fmt: skip
        apart.append(told.p_two_sided < 0.05)
        ratios.append(told.ratio_low <= 1 <= (told.ratio_high or inf))
    assert np.mean(apart) <= 0.1
    assert apart == [not one for one in ratios]


def test_where_the_shares_are_all_but_exact_the_comparison_is_the_exact_one() -> None:
    given = {
        "eggs_first": 16,
        "female_days_first": 7.0,
        "eggs_second": 5,
        "female_days_second": 6.0,
    }
    exact = hosts_compared(**given)  # type: ignore[arg-type]
    near = hosts_compared(
        **given,  # type: ignore[arg-type]
        found_first=ShareFound(0.999999, 1e6), found_second=ShareFound(0.999999, 1e6),
    )  # fmt: skip
    assert near.p_two_sided == pytest.approx(exact.p_two_sided, rel=0.01)
    assert near.ratio_low == pytest.approx(exact.ratio_low, rel=0.01)
    assert near.ratio_high == pytest.approx(exact.ratio_high, rel=0.01)
