"""Increase: net reproductive rate, generation time and the rate r of a stock."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from rounds.limits import within

# the exponent above which a number says no more than 'far too many'; e to the 709 is the largest
# there is
MOST = 600.0


class Increase(Struct, frozen=True):
    """How a stock grows: daughters per female, ages and rates in the unit of time that the ages are
    given in."""

    r0: float
    cohort_time: float
    r: float
    generation_time: float | None
    growth: float
    doubling_time: float | None
    r_shortcut: float


def increase(ages: Sequence[float], daughters: Sequence[float]) -> Increase:
    """R0, T and r from ages and the daughters that a new-born female leaves at each: l(x) m(x).

    Source: Lotka 1907; Birch 1948, J. Anim. Ecol. 17:15-26: r solves sum of exp(-r x) l m = 1.
        Found by halving.
    The shortcut ln(R0) / cohort time can be far from it and is given to show how far.

    Args:
        ages: above 0. daughters: l(x) times m(x), none below 0, at least one above.

    Raises:
        ValueError: unequal lengths, no offspring, growth past telling, or out of range.
    """
    if len(ages) != len(daughters) or not ages:
        raise ValueError(
            f"{len(ages)} ages but {len(daughters)} numbers of daughters; give one for each age"
        )
    for age, number in zip(ages, daughters, strict=True):
        within("age", age, 1e-9, 1e5)
        within("daughters", number, 0, 1e7)
    r0 = sum(daughters)
    if r0 == 0:
        raise ValueError("no daughter at any age; a rate of increase needs at least one")
    cohort = sum(age * number for age, number in zip(ages, daughters, strict=True)) / r0

    def left(r: float) -> float:
        return (
            math.fsum(
                number * math.exp(min(-r * age, MOST))
                for age, number in zip(ages, daughters, strict=True)
            )
            - 1
        )

    bound = (abs(math.log(r0)) + 1) / min(ages)
    low, high = -bound, bound
    for _ in range(200):
        middle = (low + high) / 2
        if left(middle) > 0:
            low = middle
        else:
            high = middle
    r = 0.0 if abs(r0 - 1) < 1e-15 else (low + high) / 2
    if r > MOST:
        raise ValueError(
            f"so many daughters at age {min(ages):g} grow faster than can be told; check the ages"
            " and their unit"
        )
    return Increase(
        r0,
        cohort,
        r,
        math.log(r0) / r if abs(r) > 1e-12 else None,
        math.exp(r),
        math.log(2) / r if r > 1e-12 else None,
        math.log(r0) / cohort,
    )
