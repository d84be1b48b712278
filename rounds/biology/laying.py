"""Laying rates: eggs per female-day with exact limits, what none found can mean, two hosts
compared."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache

from msgspec import Struct

from rounds.biology.distributions import (
    beta_quantile,
    gamma_quantile,
    normal_quantile,
    regularised_beta,
    regularised_gamma_lower,
    regularised_gamma_upper,
)
from rounds.biology.hidden_eggs import ways_seen
from rounds.biology.proportions import LEAST_CHANCE, equal_tails, exact_share
from rounds.limits import within

LEAST_FEMALE_DAYS = 2.0  # below this exposure a rate says too little; our estimate
SETTLED_P = 0.05  # a difference that chance gives less often is told as one
FEMALES_VARY = 2.0  # eggs counted that leave a rate as open as females differ; our estimate
LEAST_FEMALES = 3  # on each of two plants, before a difference is said of the plants; our estimate


HALVINGS = 40  # toward a limit, whose logarithm is then exact to 1e-9
FARTHEST = 1e4  # a limit is sought up to so many times what was seen


class ShareFound(Struct, frozen=True):
    """The share of the eggs laid that all searches find, above 0 to 1, beta distributed: as
    uncertain as ``counted`` eggs leave it, inf where it is exact."""

    share: float = 1.0
    counted: float = math.inf

    @property
    def is_exact(self) -> bool:
        return self.counted == math.inf or self.share >= 1


ALL_FOUND = ShareFound()


@lru_cache(maxsize=256)
def _over_share(found: ShareFound) -> tuple[tuple[float, float], ...]:
    """What the share may be, beside its mean, and how likely; so that the mean stays one."""
    if found.is_exact:
        return ((1.0, 1.0),)
    a, b = found.share * found.counted, (1 - found.share) * found.counted
    parts = [(max(beta_quantile(part, a, b), 1e-9), weight) for part, weight in ways_seen()]
    mean = sum(share * weight for share, weight in parts)
    return tuple((share / mean, weight) for share, weight in parts)


class Rate(Struct, frozen=True):
    """Eggs per female-day, between a low and a high limit; the female-days are each times the share
    found."""

    eggs: int
    female_days: float
    value: float
    low: float
    high: float

    @property
    def enough(self) -> bool:
        """Whether the exposure is enough to say anything."""
        return self.female_days >= LEAST_FEMALE_DAYS


def laying_rate(
    *, eggs: int, female_days: float, confidence: float = 0.95, found: ShareFound = ALL_FOUND
) -> Rate:
    """Eggs laid per female-day with exact Poisson limits, two-sided, by those found.

    Garwood 1936, Biometrika 28:437-442. Where the share found is uncertain the two tails are
    averaged over it (a mixed Poisson count: Johnson, Kemp & Kotz 2005, Univariate Discrete
    Distributions, 8.3; from memory).
        Where none were found the limits are nought and, of an exact share, -ln((1 - confidence) /
        2) / exposure.

        Raises:
            ValueError: eggs without exposure, or out of range.
    """
    within("eggs", eggs, 0, 1e7)
    within("female-days", female_days, 0, 1e7)
    within("confidence", confidence, 0.5, 0.9999)
    within("share found", found.share, 1e-9, 1)
    if female_days == 0:
        raise ValueError(
            f"{eggs} {'egg' if eggs == 1 else 'eggs'} in 0 female-days; give the time that females"
            " were with the host"
        )
    days, tail = female_days * found.share, (1 - confidence) / 2
    low = gamma_quantile(tail, eggs) if eggs else 0.0
    high = gamma_quantile(1 - tail, eggs + 1)
    shares = _over_share(found)
    if len(shares) > 1:

        def more(mean: float) -> float:
            return sum(weight * regularised_gamma_lower(eggs, mean * of) for of, weight in shares)

        def fewer(mean: float) -> float:
            return sum(
                weight * regularised_gamma_upper(eggs + 1, mean * of) for of, weight in shares
            )

        low = _where(more, tail, low / FARTHEST, low * FARTHEST) if eggs else 0.0
        high = _where(lambda mean: -fewer(mean), -tail, high / FARTHEST, high * FARTHEST)
    return Rate(eggs, days, eggs / days, low / days, high / days)


def _where(rising: Callable[[float], float], aim: float, low: float, high: float) -> float:
    """Where a function that rises reaches an aim, between two numbers above nought."""
    low, high = math.log(low), math.log(high)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if rising(math.exp(middle)) < aim else (low, middle)
    return math.exp((low + high) / 2)


def chance_of_none_seen(
    *, usual_rate: float, female_days: float, share_found: float, share_counted: float = math.inf
) -> float:
    """The chance of having seen no egg by now at a usual laying rate, where searches find a share
    of what is there.

    exp(-rate x female-days x share): the chance of nought in a thinned Poisson count (Kingman 1993,
    Poisson Processes, 5.1; from memory).

    Args:
        usual_rate: eggs per female-day. share_found: 0 to 1, as uncertain as ``share_counted`` eggs
            leave it: then the mean over what it may be.
    """
    within("usual rate", usual_rate, 0, 1000, "eggs per female-day")
    within("female-days", female_days, 0, 1e7)
    within("share found", share_found, 0, 1)
    seen = usual_rate * female_days * share_found
    if not share_found:
        return 1.0
    over = _over_share(ShareFound(share_found, share_counted))
    return sum(weight * math.exp(-seen * share) for share, weight in over)


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
    found_first: ShareFound = ALL_FOUND,
    found_second: ShareFound = ALL_FOUND,
) -> HostComparison:
    """Exact comparison of two laying rates, given their sum; and whether females, who differ, would
    give as much by themselves.

    Source: Przyborowski & Wilenski 1940, Biometrika 31:313-323: the first count is binomial with
        share
    t1 / (t1 + t2); two-sided by twice the smaller tail. Limits of the ratio from the exact limits
    of that share, whose tails are equal too, so that both say the same. Where the shares found are
    uncertain, of each plant by itself, the tails are averaged over them. The eggs of one female are
    no independent choices: see ``p_of_plants``.

    Args:
        females_first, females_second: how many laid, or could have, on each; 0 if not known.

    Raises:
        ValueError: eggs without exposure, or out of range.
    """
    first = laying_rate(eggs=eggs_first, female_days=female_days_first, found=found_first)
    second = laying_rate(eggs=eggs_second, female_days=female_days_second, found=found_second)
    total = eggs_first + eggs_second
    scale = second.female_days / first.female_days
    low, high, two = _ratio_limits(
        eggs_first, eggs_second, scale, _over_share(found_first), _over_share(found_second)
    )
    return HostComparison(
        first,
        second,
        first.value / second.value if eggs_second else None,
        low,
        high,
        two,
        first.enough and second.enough and total > 0,
        more_female_days_for_two_fold(
            eggs=total, female_days=first.female_days + second.female_days
        ),
        p_of_plants(
            ratio=(max(eggs_first, 0.5) / max(eggs_second, 0.5)) * scale,
            eggs=(eggs_first, eggs_second),
            females=(females_first, females_second),
            found=(found_first, found_second),
        ),
    )


_Parts = tuple[tuple[float, float], ...]


def _ratio_limits(
    first: int, second: int, scale: float, over_first: _Parts, over_second: _Parts
) -> tuple[float, float | None, float]:
    """Limits of the ratio of two rates, 95 %, and the chance of such counts where they are one."""
    total = first + second
    if not total:
        return 0.0, None, 1.0
    if len(over_first) == len(over_second) == 1:
        limits = exact_share(first, total)
        high = limits.high / (1 - limits.high) * scale if limits.high < 1 else None
        return (
            limits.low / (1 - limits.low) * scale,
            high,
            equal_tails(first, total, expected=1 / (1 + scale)),
        )
    odds = [
        (one / other / scale, weight * of_other)
        for one, weight in over_first
        for other, of_other in over_second
    ]

    def more(ratio: float) -> float:
        return sum(
            weight * regularised_beta(first, second + 1, at / (1 + at))
            for odd, weight in odds
            for at in (odd * ratio,)
        )

    def fewer(ratio: float) -> float:
        return sum(
            weight * regularised_beta(second, first + 1, 1 / (1 + odd * ratio))
            for odd, weight in odds
        )

    near = max(first, 0.5) / max(second, 0.5) * scale
    ends = near / FARTHEST, near * FARTHEST
    smaller = min(more(1.0) if first else 1.0, fewer(1.0) if second else 1.0)
    return (
        _where(more, 0.025, *ends) if first else 0.0,
        _where(lambda ratio: -fewer(ratio), -0.025, *ends) if second else None,
        min(1.0, max(2 * smaller, LEAST_CHANCE)),
    )


def p_of_plants(
    *,
    ratio: float,
    eggs: tuple[int, int],
    females: tuple[int, int],
    found: tuple[ShareFound, ShareFound] = (ALL_FOUND, ALL_FOUND),
) -> float | None:
    """How likely females that differ from each other give such a ratio of two rates by themselves,
    two-sided; None of fewer than three females on one of them, of whom nothing can be said.

    Each female's rate is gamma distributed about that of the plant, of shape ``FEMALES_VARY``; that
    of n females together then of shape n times that, and the variance of its logarithm is the
    trigamma function of it, 1 / (shape - 1/2) nearly (Abramowitz & Stegun 1964, 6.4.12; from
    memory). With the Poisson variance 1 / eggs of both, and that of the logarithm of the shares
    found, the logarithm of the ratio is taken as normal.
    """
    if min(females) < LEAST_FEMALES:
        return None
    variance = sum(
        1 / max(counted, 0.5) + 1 / (FEMALES_VARY * number - 0.5) + _log_varies(share)
        for counted, number, share in zip(eggs, females, found, strict=True)
    )
    return math.erfc(abs(math.log(ratio)) / math.sqrt(2 * variance))


def _log_varies(found: ShareFound) -> float:
    """The variance of the logarithm of a share."""
    logs = [(math.log(share), weight) for share, weight in _over_share(found)]
    mean = sum(log * weight for log, weight in logs)
    return sum(weight * (log - mean) ** 2 for log, weight in logs)


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
