"""A share with its limits."""

from __future__ import annotations

from dataclasses import dataclass

from rounds.biology.distributions import (
    beta_quantile,
    binomial_chance,
)
from rounds.limits import within

LEAST_CHANCE = (
    5e-324  # what was seen can happen, however unlikely; the smallest number above nought
)


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


def binomial_test(count: int, of: int, *, expected: float) -> float:
    """Exact binomial test: the chance of what was seen or more extreme, by summing all outcomes no
    likelier than what was seen.

    Args:
        expected: the share expected by chance, between 0 and 1.
    """
    _checked(count, of, 0.95)
    within("expected share", expected, 0, 1)
    seen = binomial_chance(count, of, expected) * (1 + 1e-7)
    total = sum(
        chance for k in range(of + 1) if (chance := binomial_chance(k, of, expected)) <= seen
    )
    return min(1.0, max(total, LEAST_CHANCE))
