"""Limits of a laying rate by general libraries: those of a Poisson count, averaged over what the share found may be."""

from __future__ import annotations

import numpy as np
from scipy.optimize import brentq
from scipy.stats import beta, poisson

USUALLY_COUNTED = 4  # eggs that the usual share counts as


def limits_laid(
    eggs: int, days: float, share: float, counted: float = USUALLY_COUNTED
) -> tuple[float, float]:
    """Two-sided 95 %, eggs per female-day; the lower is nought of none."""
    shares = beta(share * counted, (1 - share) * counted).ppf((np.arange(10_000) + 0.5) / 10_000)

    def limit(tail: object) -> float:
        return float(brentq(lambda rate: tail(rate * days * shares).mean() - 0.025, 1e-6, 1e5))  # type: ignore[operator]

    low = limit(lambda mean: poisson.sf(eggs - 1, mean)) if eggs else 0.0
    return low, limit(lambda mean: poisson.cdf(eggs, mean))
