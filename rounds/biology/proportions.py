"""A share with its limits."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rounds.biology.distributions import (
    beta_quantile,
    binomial_at_least,
    binomial_at_most,
    binomial_chance,
    normal_quantile,
)
from rounds.biology.limits import within


@dataclass(frozen=True, slots=True)
class Share:
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


def wilson_share(count: int, of: int, *, confidence: float = 0.95) -> Share:
    """Score limits: Wilson 1927, J. Am. Stat. Assoc. 22:209-212."""
    _checked(count, of, confidence)
    z = normal_quantile((1 + confidence) / 2)
    share = count / of
    centre = (share + z * z / (2 * of)) / (1 + z * z / of)
    half = z * math.sqrt(share * (1 - share) / of + z * z / (4 * of * of)) / (1 + z * z / of)
    low = 0.0 if count == 0 else centre - half
    high = 1.0 if count == of else centre + half
    return Share(share, max(0.0, low), min(1.0, high), of)


@dataclass(frozen=True, slots=True)
class ExactTest:
    """Chances of what was seen or more extreme, if nothing but chance were at work."""

    two_sided: float
    less: float
    greater: float


def binomial_test(count: int, of: int, *, expected: float) -> ExactTest:
    """Exact binomial test; two-sided by summing all outcomes no likelier than what was seen.

    Args:
        expected: the share expected by chance, between 0 and 1.
    """
    _checked(count, of, 0.95)
    within("expected share", expected, 0, 1)
    seen = binomial_chance(count, of, expected) * (1 + 1e-7)
    two = sum(chance for k in range(of + 1) if (chance := binomial_chance(k, of, expected)) <= seen)
    return ExactTest(min(1.0, two), binomial_at_most(count, of, expected), binomial_at_least(count, of, expected))


def fisher_test(table: tuple[tuple[int, int], tuple[int, int]]) -> ExactTest:
    """Fisher's exact test of a two by two table; two-sided by summing all tables no likelier. Fisher 1935."""
    (a, b), (c, d) = table
    for cell in (a, b, c, d):
        within("a count", cell, 0, 1e6)
    first, second, column = a + b, c + d, a + c
    if first + second == 0:
        raise ValueError("the table is empty; give at least one count")
    low, high = max(0, column - second), min(first, column)

    def chance(k: int) -> float:
        return math.exp(_log_choose(first, k) + _log_choose(second, column - k) - _log_choose(first + second, column))

    chances = {k: chance(k) for k in range(low, high + 1)}
    seen = chances[a] * (1 + 1e-7)
    return ExactTest(
        min(1.0, sum(one for one in chances.values() if one <= seen)),
        min(1.0, sum(one for k, one in chances.items() if k <= a)),
        min(1.0, sum(one for k, one in chances.items() if k >= a)),
    )


def _log_choose(n: int, k: int) -> float:
    return math.lgamma(n + 1) - math.lgamma(k + 1) - math.lgamma(n - k + 1)
