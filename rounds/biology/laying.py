"""Laying rates: eggs per female-day with exact limits, what none found can mean, two hosts
compared."""

from __future__ import annotations

import math

from msgspec import Struct

from rounds.biology.distributions import gamma_quantile, normal_quantile
from rounds.biology.proportions import equal_tails, exact_share
from rounds.limits import within

LEAST_FEMALE_DAYS = 2.0  # below this exposure a rate says too little; our estimate
SETTLED_P = 0.05  # a difference that chance gives less often is told as one
FEMALES_VARY = 2.0  # eggs counted that leave a rate as open as females differ; our estimate
LEAST_FEMALES = 3  # on each of two plants, before a difference is said of the plants; our estimate


class Rate(Struct, frozen=True):
    """Eggs per female-day, between a low and a high limit."""

    eggs: int
    female_days: float
    value: float
    low: float
    high: float

    @property
    def enough(self) -> bool:
        """Whether the exposure is enough to say anything."""
        return self.female_days >= LEAST_FEMALE_DAYS


def laying_rate(*, eggs: int, female_days: float, confidence: float = 0.95) -> Rate:
    """Eggs per female-day with exact Poisson limits, two-sided.

    Garwood 1936, Biometrika 28:437-442.
        Where none were found the limits are nought and -ln((1 - confidence) / 2) / exposure.

        Raises:
            ValueError: eggs without exposure, or out of range.
    """
    within("eggs", eggs, 0, 1e7)
    within("female-days", female_days, 0, 1e7)
    within("confidence", confidence, 0.5, 0.9999)
    if female_days == 0:
        raise ValueError(
            f"{eggs} {'egg' if eggs == 1 else 'eggs'} in 0 female-days; give the time that females"
            " were with the host"
        )
    tail = (1 - confidence) / 2
    low = gamma_quantile(tail, eggs) if eggs else 0.0
    high = gamma_quantile(1 - tail, eggs + 1)
    return Rate(eggs, female_days, eggs / female_days, low / female_days, high / female_days)


def chance_of_none_seen(*, usual_rate: float, female_days: float, share_found: float) -> float:
    """The chance of having seen no egg by now at a usual laying rate, where searches find a share
    of what is there.

    exp(-rate x female-days x share): the chance of nought in a thinned Poisson count (Kingman 1993,
    Poisson Processes, 5.1; from memory).

    Args:
        usual_rate: eggs per female-day. share_found: 0 to 1.
    """
    within("usual rate", usual_rate, 0, 1000, "eggs per female-day")
    within("female-days", female_days, 0, 1e7)
    within("share found", share_found, 0, 1)
    return math.exp(-usual_rate * female_days * share_found)


class HostComparison(Struct, frozen=True):
    """Two hosts compared: how many times the rate of the first is that of the second, and how
    likely chance alone."""

    first: Rate
    second: Rate
    ratio: float | None
    ratio_low: float
    ratio_high: float | None
    p_two_sided: float
    enough: bool
    more_female_days: float
    p_of_plants: float | None = None

    @property
    def settled(self) -> bool:
        """Whether these females laid more on one than chance gives, with enough time on both to say
        so."""
        return self.enough and self.p_two_sided < SETTLED_P

    @property
    def is_of_plants(self) -> bool:
        """Whether it is more than females differ among themselves, so that it says something of the
        plants: never of fewer than three females on each."""
        return self.settled and self.p_of_plants is not None and self.p_of_plants < SETTLED_P


def hosts_compared(
    *,
    eggs_first: int,
    female_days_first: float,
    eggs_second: int,
    female_days_second: float,
    females_first: int = 0,
    females_second: int = 0,
) -> HostComparison:
    """Exact comparison of two laying rates, given their sum; and whether females, who differ, would
    give as much by themselves.

    Source: Przyborowski & Wilenski 1940, Biometrika 31:313-323: the first count is binomial with
        share
    t1 / (t1 + t2); two-sided by twice the smaller tail. Limits of the ratio from the exact limits
    of that share, whose tails are equal too, so that both say the same. The eggs of one female are
    no independent choices: see ``p_of_plants``.

    Args:
        females_first, females_second: how many laid, or could have, on each; 0 if not known.

    Raises:
        ValueError: eggs without exposure, or out of range.
    """
    first = laying_rate(eggs=eggs_first, female_days=female_days_first)
    second = laying_rate(eggs=eggs_second, female_days=female_days_second)
    total = eggs_first + eggs_second
    share = female_days_first / (female_days_first + female_days_second)
    low, high, two = 0.0, 1.0, 1.0
    if total:
        limits = exact_share(eggs_first, total)
        low, high, two = limits.low, limits.high, equal_tails(eggs_first, total, expected=share)
    scale = female_days_second / female_days_first
    return HostComparison(
        first,
        second,
        first.value / second.value if eggs_second else None,
        low / (1 - low) * scale,
        high / (1 - high) * scale if high < 1 else None,
        two,
        first.enough and second.enough and total > 0,
        more_female_days_for_two_fold(
            eggs=total, female_days=female_days_first + female_days_second
        ),
        p_of_plants(
            ratio=(max(eggs_first, 0.5) / max(eggs_second, 0.5)) * scale,
            eggs=(eggs_first, eggs_second),
            females=(females_first, females_second),
        ),
    )


def p_of_plants(*, ratio: float, eggs: tuple[int, int], females: tuple[int, int]) -> float | None:
    """How likely females that differ from each other give such a ratio of two rates by themselves,
    two-sided; None of fewer than three females on one of them, of whom nothing can be said.

    Each female's rate is gamma distributed about that of the plant, of shape ``FEMALES_VARY``; that
    of n females together then of shape n times that, and the variance of its logarithm is the
    trigamma function of it, 1 / (shape - 1/2) nearly (Abramowitz & Stegun 1964, 6.4.12; from
    memory). With the Poisson variance 1 / eggs of both the logarithm of the ratio is taken as
    normal.
    """
    if min(females) < LEAST_FEMALES:
        return None
    variance = sum(
        1 / max(found, 0.5) + 1 / (FEMALES_VARY * number - 0.5)
        for found, number in zip(eggs, females, strict=True)
    )
    return math.erfc(abs(math.log(ratio)) / math.sqrt(2 * variance))


def more_female_days_for_two_fold(*, eggs: int, female_days: float) -> float:
    """How many more female-days, shared evenly, would settle (at 95 %, four times in five) whether
    one host gets twice the eggs of the other.

    At the rate seen so far (a half egg is counted where none was found) the needed number of eggs
    on both is n = (z_a + z_b)^2 / (2 asin(sqrt(2/3)) - 2 asin(sqrt(1/2)))^2, the arcsine form for a
    share of
    2/3 against 1/2 (Cohen 1988, Statistical Power Analysis, eq. 6.4; from memory).
    """
    within("female-days", female_days, 1e-6, 1e7)
    z = normal_quantile(0.975) + normal_quantile(0.8)
    effect = 2 * math.asin(math.sqrt(2 / 3)) - 2 * math.asin(math.sqrt(1 / 2))
    needed = math.ceil((z / effect) ** 2)
    rate = max(eggs, 0.5) / female_days
    return max(0.0, needed / rate - female_days)
