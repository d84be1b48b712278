"""A share with its limits."""

from __future__ import annotations

from bisect import bisect_left

from msgspec import Struct

from rounds.biology.distributions import beta_quantile, binomial_chance, regularised_beta
from rounds.limits import within

# what was seen can happen, however unlikely; the smallest number above nought
LEAST_CHANCE = 5e-324


class Share(Struct, frozen=True):
    """A share of a whole, between a low and a high limit [0 to 1]."""

    value: float
    low: float
    high: float
    of: int


def _checked(count: int, of: int, confidence: float) -> None:
    within("whole", of, 1, 1e9)
    within("count", count, 0, of)
    within("confidence", confidence, 0.5, 0.9999)


def exact_share(count: int, of: int, *, confidence: float = 0.95) -> Share:
    """Exact limits: Clopper & Pearson 1934, Biometrika 26:404-413."""
    _checked(count, of, confidence)
    tail = (1 - confidence) / 2
    low = 0.0 if count == 0 else beta_quantile(tail, count, of - count + 1)
    high = 1.0 if count == of else beta_quantile(1 - tail, count + 1, of - count)
    return Share(count / of, low, high, of)


def equal_tails(count: int, of: int, *, expected: float) -> float:
    """Exact binomial test: twice the chance of what was seen or more on its side, so that it is
    under 0.05 where the equal-tailed limits of 95 % leave the expected share out.

    Args:
        expected: the share expected by chance, between 0 and 1.
    """
    _checked(count, of, 0.95)
    within("expected share", expected, 0, 1)
    low = regularised_beta(of - count, count + 1, 1 - expected) if count < of else 1.0
    high = regularised_beta(count, of - count + 1, expected) if count else 1.0
    return min(1.0, max(2 * min(low, high), LEAST_CHANCE))


def binomial_test(count: int, of: int, *, expected: float) -> float:
    """Exact binomial test: the chance of all outcomes no likelier than what was seen.

    These are the two tails, one up to what was seen, the other from where it is as unlikely; a tail
    is an incomplete beta function (A&S 26.5.24), so that no number is too large.

    Args:
        expected: the share expected by chance, between 0 and 1.
    """
    _checked(count, of, 0.95)
    within("expected share", expected, 0, 1)
    seen = binomial_chance(count, of, expected) * (1 + 1e-7)
    likeliest = min(of, int((of + 1) * expected))

    def unlikely(number: int) -> bool:
        return binomial_chance(number, of, expected) <= seen

    if unlikely(likeliest):
        return 1.0
    if count < likeliest:
        up_to, beyond = count, range(likeliest, of + 1)
        since = likeliest + bisect_left(beyond, True, key=unlikely)
    else:
        since, before = count, range(likeliest, -1, -1)
        up_to = likeliest - bisect_left(before, True, key=unlikely)
    low = regularised_beta(of - up_to, up_to + 1, 1 - expected) if up_to >= 0 else 0.0
    high = regularised_beta(since, of - since + 1, expected) if since <= of else 0.0
    return min(1.0, max(low + high, LEAST_CHANCE))
