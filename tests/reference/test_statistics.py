"""Against scipy, statsmodels and lifelines on random inputs; the seed is fixed."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence

import numpy as np
import pytest
from scipy import integrate, optimize, special, stats

from rounds.biology import distributions as d
from rounds.biology.development import ikemoto_takai_fit, x_intercept_fit
from rounds.biology.hidden_eggs import (
    Case,
    Hatching,
    Laying,
    Unwatched,
    cases_of,
    hidden_viable,
    learned_detection,
    learned_laying,
    ways_seen,
)
from rounds.biology.increase import increase
from rounds.biology.laying import chance_of_none_seen, hosts_compared, laying_rate
from rounds.biology.proportions import binomial_test, exact_share
from rounds.biology.survival import kaplan_meier, log_rank

pytestmark = pytest.mark.filterwarnings("ignore")


def test_incomplete_gamma_and_beta() -> None:
    chance = random.Random(1)
    worst = 0.0
    for _ in range(2_000):
        shape, x = 10 ** chance.uniform(-1, 3), 10 ** chance.uniform(-2, 3)
        worst = max(worst, abs(d.regularised_gamma_lower(shape, x) - special.gammainc(shape, x)))
        a, b, share = 10 ** chance.uniform(-1, 3), 10 ** chance.uniform(-1, 3), chance.random()
        worst = max(worst, abs(d.regularised_beta(a, b, share) - special.betainc(a, b, share)))
    assert worst < 1e-11


def test_quantiles() -> None:
    chance = random.Random(2)
    for _ in range(300):
        p = chance.uniform(0.001, 0.999)
        shape, a, b = (
            10 ** chance.uniform(-0.5, 3),
            10 ** chance.uniform(-0.3, 2),
            10 ** chance.uniform(-0.3, 2),
        )
        assert d.gamma_quantile(p, shape) == pytest.approx(stats.gamma.ppf(p, shape), rel=1e-9)
        assert d.beta_quantile(p, a, b) == pytest.approx(
            stats.beta.ppf(p, a, b), rel=1e-8, abs=1e-12
        )
        df = chance.randint(1, 60)
        assert d.student_t_quantile(p, df) == pytest.approx(stats.t.ppf(p, df), rel=1e-7, abs=1e-9)
        assert d.chi_square_survival(shape, df) == pytest.approx(
            stats.chi2.sf(shape, df), rel=1e-9, abs=1e-300
        )


def test_poisson_limits_and_two_rates() -> None:
    from statsmodels.stats.rates import confint_poisson

    chance = random.Random(3)
    for _ in range(200):
        eggs, exposure = chance.randint(0, 400), chance.uniform(0.1, 300)
        rate = laying_rate(eggs=eggs, female_days=exposure)
        low, high = confint_poisson(eggs, exposure, method="exact-c")
        assert (rate.low, rate.high) == (
            pytest.approx(low, rel=1e-9, abs=1e-12),
            pytest.approx(high, rel=1e-9),
        )
        other, more = chance.randint(0, 60), chance.uniform(0.1, 300)
        if min(eggs, 60) + other:
            found = hosts_compared(
                eggs_first=min(eggs, 60),
                female_days_first=exposure,
                eggs_second=other,
                female_days_second=more,
            )
            share = exposure / (exposure + more)
            given = min(eggs, 60), min(eggs, 60) + other, share
            tails = (
                stats.binomtest(*given, alternative=side).pvalue for side in ("less", "greater")
            )
            smaller = pytest.approx(min(1.0, 2 * min(tails)), rel=1e-7, abs=1e-12)
            assert found.p_two_sided == smaller


def test_shares_and_the_exact_test() -> None:
    chance = random.Random(4)
    for _ in range(300):
        of = chance.randint(1, 200)
        count, expected = chance.randint(0, of), chance.uniform(0.02, 0.98)
        reference = stats.binomtest(count, of, expected)
        ours, limits = exact_share(count, of), reference.proportion_ci(0.95, "exact")
        assert (ours.low, ours.high) == (
            pytest.approx(limits.low, abs=1e-9),
            pytest.approx(limits.high, abs=1e-9),
        )
        assert binomial_test(count, of, expected=expected) == pytest.approx(
            reference.pvalue, rel=1e-7, abs=1e-12
        )


def test_survival_curves_step_by_step() -> None:
    from lifelines import KaplanMeierFitter
    from lifelines.statistics import logrank_test

    chance = random.Random(5)
    for _ in range(25):
        groups = []
        for _ in range(2):
            number = chance.randint(3, 60)
            times = [float(chance.randint(1, 30)) for _ in range(number)]
            groups.append((times, [chance.random() < 0.7 for _ in range(number)]))
        curve = kaplan_meier(*groups[0])
        fitted = KaplanMeierFitter().fit(*groups[0])
        for step in curve.steps:
            assert step.survival == pytest.approx(float(fitted.predict(step.time)), abs=1e-9)
            limits = fitted.confidence_interval_.loc[step.time]
            if 0 < step.survival < 1:
                assert (step.low, step.high) == (
                    pytest.approx(limits.iloc[0], abs=1e-8),
                    pytest.approx(limits.iloc[1], abs=1e-8),
                )
        if any(groups[0][1]) and any(groups[1][1]):
            reference = logrank_test(groups[0][0], groups[1][0], groups[0][1], groups[1][1])
            ours = log_rank(*groups[0], *groups[1])
            assert ours.chi_square == pytest.approx(reference.test_statistic, abs=1e-9)
            assert ours.p == pytest.approx(reference.p_value, rel=1e-8)


def test_straight_lines_through_rates() -> None:
    import statsmodels.api as sm

    chance = random.Random(6)
    for _ in range(50):
        points = [
            (t, 200 / (t - 9) * chance.uniform(0.9, 1.1))
            for t in sorted({chance.uniform(13, 31) for _ in range(6)})
        ]
        fit = x_intercept_fit(points)
        xs, rates = np.array([t for t, _ in points]), np.array([1 / days for _, days in points])
        reference = sm.OLS(rates, sm.add_constant(xs)).fit()
        a, b = reference.params
        gradient = np.array([-1 / b, a / b**2])
        assert fit.lower_c == pytest.approx(-a / b, rel=1e-8)
        assert fit.se_lower_c == pytest.approx(
            float(np.sqrt(gradient @ reference.cov_params() @ gradient)), rel=1e-6
        )
        assert fit.se_constant_dd == pytest.approx(reference.bse[1] / b**2, rel=1e-8)
        lower, constant = ikemoto_takai_fit(points)
        ys = [days * t for t, days in points]
        assert lower == pytest.approx(np.std(ys) / np.std([days for _, days in points]), rel=1e-9)
        assert constant == pytest.approx(
            np.mean(ys) - lower * np.mean([days for _, days in points]), rel=1e-9
        )


def test_rate_of_increase() -> None:
    chance = random.Random(7)
    for _ in range(100):
        ages = sorted({chance.uniform(5, 60) for _ in range(8)})
        daughters = [chance.uniform(0, 12) for _ in ages]
        reference = optimize.brentq(
            lambda r, x=ages, n=daughters: (
                sum(b * np.exp(-r * a) for a, b in zip(x, n, strict=True)) - 1
            ),
            -2,
            2,
        )
        assert increase(ages, daughters).r == pytest.approx(reference, abs=1e-10)


def test_learning_and_thinning() -> None:
    chance = random.Random(8)
    for _ in range(50):
        usual, found, missed = (
            chance.uniform(0.05, 0.95),
            chance.randint(0, 40),
            chance.randint(0, 40),
        )
        ours = learned_detection(usual=usual, found=found, missed=missed)
        reference = stats.beta(4 * usual + found, 4 * (1 - usual) + missed)
        assert ours.share == pytest.approx(reference.mean())
        assert (ours.low, ours.high) == (
            pytest.approx(reference.ppf(0.025), abs=1e-8),
            pytest.approx(reference.ppf(0.975), abs=1e-8),
        )
        rate, days, share = chance.uniform(0, 5), chance.uniform(0, 10), chance.random()
        none = chance_of_none_seen(usual_rate=rate, female_days=days, share_found=share)
        assert none == pytest.approx(stats.poisson.pmf(0, rate * days * share))


def test_survival_of_those_who_came_later() -> None:
    """Delayed entry (left truncation), where some are known only from an age on."""
    from lifelines import KaplanMeierFitter

    chance = random.Random(14)
    for _ in range(25):
        number = chance.randint(20, 60)
        times = [float(chance.randint(10, 30)) for _ in range(number)]
        since = [float(chance.choice((0, 0, chance.randint(1, 9), 15))) for _ in range(number)]
        times = [max(time, entry + 1) for time, entry in zip(times, since, strict=True)]
        died = [chance.random() < 0.7 for _ in range(number)]
        fitted = KaplanMeierFitter().fit(times, died, entry=since)
        for step in kaplan_meier(times, died, since).steps:
            assert step.survival == pytest.approx(float(fitted.predict(step.time)), abs=1e-9)


def test_every_step_of_the_fly_survival_curves() -> None:
    # Open data: fruit-fly lifetimes that lifelines carries (load_waltons).
    from lifelines import KaplanMeierFitter
    from lifelines.datasets import load_waltons

    frame = load_waltons()
    for group in ("control", "miR-137"):
        rows = frame[frame["group"] == group]
        curve = kaplan_meier([float(t) for t in rows["T"]], [bool(e) for e in rows["E"]])
        fitted = KaplanMeierFitter().fit(rows["T"], rows["E"])
        assert len(curve.steps) == int((fitted.event_table["observed"] > 0).sum())
        for step in curve.steps:
            assert step.survival == pytest.approx(float(fitted.predict(step.time)), abs=1e-12)
            assert step.at_risk == int(fitted.event_table.loc[step.time, "at_risk"])


def test_eggs_left_on_a_stem_against_the_integral_over_the_rate() -> None:
    # scipy's gamma density and quadrature: eggs Poisson about rate x days, each missed, viable, not shown by frass.
    from scipy import integrate

    chance = random.Random(9)
    for _ in range(60):
        rate, counted, willing = (
            chance.uniform(0.05, 8),
            chance.uniform(0.5, 12),
            chance.choice((1.0, chance.random())),
        )
        days, missed, viable = chance.uniform(0, 6), chance.random(), chance.random()
        found, heat, looks = (
            chance.choice((0, 0, chance.randint(1, 9))),
            chance.uniform(30, 120),
            chance.randint(1, 3),
        )
        of_rate = stats.gamma(counted, scale=rate / counted)
        shown = stats.norm.cdf(np.log(heat / 80) / 0.12) * (1 - 0.1**looks)
        seen, left = (
            days * (1 - missed + missed * viable * shown),
            days * missed * viable * (1 - shown),
        )
        # found eggs count as seen; the density of the rate given them is that of the prior times rate^found
        whole, none = (
            integrate.quad(
                lambda r, d=d: of_rate.pdf(r) * r**found * np.exp(-r * d),
                0,
                of_rate.ppf(1 - 1e-14),
                limit=400,
            )[0]
            for d in (seen, seen + left)
        )
        idle = 0.0 if found else 1 - willing
        expected = willing * (whole - none) / (willing * whole + idle)
        ours = hidden_viable(
            laying=Laying(rate, counted, willing), female_days=days, missed=missed, found=found, viable_share=viable,
            hatching=Hatching(degree_days=heat, spread=0.12, looks=looks),
        )  # fmt: skip
        assert ours.chance == pytest.approx(expected, abs=2e-6)


def test_eggs_left_where_the_rate_is_known() -> None:
    # By hand: 10 eggs expected, 0.6 viable: 1 - exp(-6) before any search, 1 - exp(-6 / 32) after five that find half.
    assert hidden_viable(
        laying=Laying(10.0), female_days=1, viable_share=0.6
    ).chance == pytest.approx(0.9975212)
    assert hidden_viable(
        laying=Laying(10.0), female_days=1, missed=0.5**5, viable_share=0.6
    ).chance == pytest.approx(0.1709709)


_SHARE_AND_RATE = [
    (2.0, 20.0, 5.0, 5, (0, 0), 0),
    (2.0, 20.0, 5.0, 1, (0, 0), 0),
    (1.0, 1.0, 5.0, 3, (0, 0), 0),
    (1.0, 1.0, 5.0, 3, (30, 10), 9),
    (5.0, 5.0, 10.0, 8, (5, 5), 60),
    (0.2, 4.0, 3.0, 2, (0, 0), 1),
    (1.0, 1.0, 1.0, 1, (0, 0), 9),
    (3.0, 4.0, 1.0, 1, (0, 0), 30),
    (10.0, 2.8, 4.0, 2, (0, 0), 2),
    (4.0, 1e6, 5.0, 2, (0, 0), 30),
]


def _hidden_by_brute_force(
    rate: float, counted: float, days: float, searches: int, own: tuple[int, int], found: int
) -> float:
    """Of the posterior of what remains that there is one: numpy's sum over ln of the rate and the logit of the share."""
    logit = np.linspace(-25, 12, 3_000)[:, None]
    spread = min(12.0, 30 / np.sqrt(counted))
    of_rate = np.log(rate) + np.linspace(-spread, min(spread, 6), 1_500)[None, :]
    laid = days * np.exp(of_rate)
    missed = np.exp(searches * special.log_expit(-logit))
    a, b = 2 + own[0], 2 + own[1]
    logs = a * special.log_expit(logit) + b * special.log_expit(-logit)
    logs = logs + counted * (of_rate - np.log(rate) - np.exp(of_rate) / rate)
    logs = logs + special.xlogy(found, laid * (1 - missed)) - laid * (1 - missed)
    weights = np.exp(logs - logs.max())
    return float((weights * -np.expm1(-0.8 * laid * missed)).sum() / weights.sum())


@pytest.mark.parametrize(("rate", "counted", "days", "searches", "own", "found"), _SHARE_AND_RATE)
def test_share_and_rate_are_weighed_together(
    rate: float, counted: float, days: float, searches: int, own: tuple[int, int], found: int
) -> None:
    exact = _hidden_by_brute_force(rate, counted, days, searches, own, found)
    detection, laying = (
        learned_detection(usual=0.5, found=own[0], missed=own[1]),
        Laying(rate, counted),
    )
    cases = cases_of(laying, detection, searches, found)
    ours = hidden_viable(laying=cases, female_days=days, viable_share=0.8, found=found)
    assert ours.chance == pytest.approx(exact, abs=0.001)
    if counted <= 4:  # as uncertain as the bench takes rates to be at the least: its own grid
        of_bench = tuple(
            Case(weight, (1 - detection.at(part)) ** searches, laying)
            for part, weight in ways_seen()
        )
        told = hidden_viable(laying=of_bench, female_days=days, viable_share=0.8, found=found)
        assert told.chance == pytest.approx(exact, abs=0.012)


def test_a_rate_learned_from_eggs_and_days() -> None:
    # scipy's gamma: prior shape 1 and rate 1, after 5 eggs in 3 days shape 6 and rate 4; none in 3 days by Bayes' rule.
    learned = learned_laying(Laying(1.0, 1.0, 0.7), eggs=5, searched_days=3)
    assert (learned.rate, learned.counted, learned.willing) == (
        pytest.approx(stats.gamma(6, scale=0.25).mean()),
        6.0,
        1.0,
    )
    none = stats.nbinom(1, 1 / (1 + 3)).pmf(0)  # a Poisson count about a gamma rate
    idle = learned_laying(Laying(1.0, 1.0, 0.7), eggs=0, searched_days=3)
    assert idle.willing == pytest.approx(0.7 * none / (0.7 * none + 0.3))


def test_what_searches_miss_where_the_share_found_is_uncertain() -> None:
    """The mean of (1 - s)^n over scipy's beta distribution of s."""
    for usual, found, missed in ((0.6, 0, 0), (0.4, 3, 12), (0.7, 20, 1)):
        known = learned_detection(usual=usual, found=found, missed=missed)
        share = stats.beta(4 * usual + found, 4 * (1 - usual) + missed)
        for searches in (0, 1, 2, 3, 6, 12):
            mean = integrate.quad(lambda s, n=searches: (1 - s) ** n * share.pdf(s), 0, 1)[0]
            assert known.left_by(searches) == pytest.approx(mean, rel=1e-5)


REMOVED = ((5, 2, 1), (13, 1, 0), (7, 2, 0), (10, 5, 1), (17, 0, 0))


def _removal_by_brute_force(
    lots: Sequence[Sequence[int]],
    prior: tuple[float, float],
    weigh: Callable[[np.ndarray], np.ndarray] = np.zeros_like,
) -> tuple[float, float]:
    """Mean and standard deviation of the share found: scipy's Poisson counts of each search, summed over means even on a
    logarithm.

    Args:
        weigh: ln of how likely what showed of the eggs left is, by their mean number.
    """
    share = (np.arange(400) + 0.5) / 400
    means = np.exp(np.linspace(np.log(0.05), np.log(2000), 400))
    logs = stats.beta(*prior).logpdf(share)
    for found in lots:
        each = weigh(means[:, None] * (1 - share) ** len(found))
        for turn, number in enumerate(found):
            each = each + stats.poisson.logpmf(
                number, means[:, None] * (share * (1 - share) ** turn)
            )
        logs += np.log(np.exp(each - each.max()).sum(0)) + each.max()
    weights = np.exp(logs - logs.max())
    weights /= weights.sum()
    mean = float((weights * share).sum())
    return mean, float(np.sqrt((weights * (share - mean) ** 2).sum()))


@pytest.mark.parametrize("lots", [REMOVED, ((20, 2, 0),), ((3, 3),), ((0, 4, 1), (2, 0))])
def test_the_share_found_by_which_search_found_which_eggs(lots: Sequence[Sequence[int]]) -> None:
    """Stems of which nobody knows how many eggs are left: removal estimation (Moran 1951; Zippin 1956, from memory)."""
    exact, off = _removal_by_brute_force(lots, (1.6, 2.4))
    ours = learned_detection(
        usual=0.4,
        found=sum(map(sum, lots)),
        missed=sum(turn * number for found in lots for turn, number in enumerate(found)),
        unwatched=tuple(Unwatched(sum(found), len(found)) for found in lots),
    )
    assert ours.share == pytest.approx(exact, abs=0.005)
    told = stats.beta(ours.share * ours.counted, (1 - ours.share) * ours.counted)
    assert told.std() == pytest.approx(off, rel=0.05)
    assert (ours.low, ours.high) == (
        pytest.approx(told.ppf(0.025), abs=1e-4),
        pytest.approx(told.ppf(0.975), abs=1e-4),
    )


VIABLE = 0.8


@pytest.mark.parametrize("lots", [((4,),), ((5, 2, 1),), ((6, 2), (3, 1)), ((0, 4, 1),)])
@pytest.mark.parametrize("larvae", [None, 0, 3])
def test_the_share_found_where_what_was_left_showed(
    lots: Sequence[Sequence[int]], larvae: int | None
) -> None:
    """Frass tells that one or more of those left hatched, larvae how many, long looks in vain that none did."""

    def showed(left: np.ndarray) -> np.ndarray:
        if larvae is None:
            return np.log(-np.expm1(-left * VIABLE))
        return stats.poisson.logpmf(larvae, left * VIABLE)

    exact, off = _removal_by_brute_force(lots, (1.6, 2.4), showed)
    more = larvae or 0
    ours = learned_detection(
        usual=0.4,
        found=sum(map(sum, lots)),
        missed=sum(
            turn * number for found in lots for turn, number in enumerate((*found, more))
        ),
        unwatched=tuple(
            Unwatched(sum(found) + more, len(found), 1.0, 1 - VIABLE, larvae is None)
            for found in lots
        ),
    )  # fmt: skip
    told = stats.beta(ours.share * ours.counted, (1 - ours.share) * ours.counted)
    assert ours.share == pytest.approx(exact, abs=0.006)
    assert told.std() == pytest.approx(off, rel=0.06)
