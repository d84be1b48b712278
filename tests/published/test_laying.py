"""Laying rates and shares. The source of each row stands beside it in values/poisson.json and values/binomial.json."""

from __future__ import annotations

import math

import pytest

from rounds.biology.laying import hosts_compared, laying_rate
from rounds.biology.proportions import exact_share
from tests.published.rows import Row, row, rows


@pytest.mark.parametrize("check", rows("poisson", "garwood"))
def test_exact_limits_of_a_count(check: Row) -> None:
    count, expected = check["inputs"]["count"], check["expected"]
    rate = laying_rate(eggs=count, female_days=1)

    assert rate.low == pytest.approx(expected["lower"], abs=5e-6)
    assert rate.high == pytest.approx(expected["upper"], abs=5e-6)
    one_sided = laying_rate(eggs=count, female_days=1, confidence=0.9).high
    assert one_sided == pytest.approx(expected["one_sided_upper_95"], abs=5e-6)


@pytest.mark.parametrize("check", rows("poisson", "rule3_"))
def test_none_found(check: Row) -> None:
    number, expected = check["inputs"]["n"], check["expected"]

    one_sided = laying_rate(eggs=0, female_days=number, confidence=0.9).high
    assert one_sided == pytest.approx(expected["poisson_one_sided_95"], abs=1e-9)
    assert exact_share(0, number).high == pytest.approx(expected["exact_two_sided_95"], abs=1e-9)
    assert exact_share(0, number, confidence=0.9).high == pytest.approx(
        expected["exact_one_sided_95"], abs=1e-9
    )
    assert one_sided <= expected["rule_of_three"]


@pytest.mark.parametrize("check", rows("poisson", "ctest"))
def test_two_hosts(check: Row) -> None:
    given, expected = check["inputs"], check["expected"]
    found = hosts_compared(
        eggs_first=given["x1"],
        female_days_first=given["t1"],
        eggs_second=given["x2"],
        female_days_second=given["t2"],
    )

    assert found.p_two_sided == pytest.approx(expected["p_two_sided_doubled"], abs=1e-7)
    assert found.ratio == pytest.approx(expected["rate_ratio"], abs=1e-7)
    assert found.ratio_low == pytest.approx(expected["ratio_lo95"], abs=1e-7)
    assert found.ratio_high == pytest.approx(expected["ratio_hi95"], abs=1e-6)


def test_the_printed_example_of_a_statistics_package() -> None:
    check = row("poisson", "poisrate1")
    rate = laying_rate(eggs=check["inputs"]["count"], female_days=check["inputs"]["exposure"])

    assert rate.value == pytest.approx(check["expected"]["rate"], abs=1e-8)
    assert rate.low == pytest.approx(check["expected"]["lower95"], abs=1e-8)
    assert rate.high == pytest.approx(check["expected"]["upper95"], abs=1e-8)


@pytest.mark.parametrize("check", rows("binomial"))
def test_shares(check: Row) -> None:
    count, of, expected = check["inputs"]["x"], check["inputs"]["n"], check["expected"]
    exact = exact_share(count, of)

    assert (exact.low, exact.high) == tuple(
        pytest.approx(one, abs=1e-7) for one in expected["clopper_pearson"]
    )


def test_twenty_wild_females_of_a_published_rearing() -> None:
    # Herms et al. 1996, The Great Lakes Entomologist (abstract): 154 eggs of 20 females in 5 days; the limits are
    # arithmetic on these. Diana fritillary: Wells et al. 2011, Psyche 940280, table 1, hatched of laid.
    rate = laying_rate(eggs=154, female_days=100)
    assert (rate.value, rate.low, rate.high) == (
        pytest.approx(1.54), pytest.approx(1.306, abs=5e-4), pytest.approx(1.803, abs=5e-4)
    )  # fmt: skip
    assert exact_share(72, 154).value == pytest.approx(0.4675, abs=5e-5)
    for hatched, laid, percent in (
        (428, 1499, 29),
        (881, 1574, 56),
        (771, 1041, 74),
        (834, 1163, 72),
        (816, 1265, 65),
    ):
        assert math.floor(100 * exact_share(hatched, laid).value + 0.5) == percent
