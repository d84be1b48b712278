"""Survival: Kaplan-Meier with limits and the log-rank test, for captive females and broods."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections import Counter
from collections.abc import Callable, Sequence

from msgspec import Struct

from rounds.biology.distributions import chi_square_survival, normal_quantile
from rounds.limits import within


class Step(Struct, frozen=True):
    """A step of the survival curve at a time: at risk, died, survival after it, standard error,
    limits."""

    time: float
    at_risk: int
    died: int
    survival: float
    se: float
    low: float
    high: float


class SurvivalCurve(Struct, frozen=True):
    """A survival curve: its steps, the median with limits (None where it is not reached), and how
    many."""

    steps: tuple[Step, ...]
    median: float | None
    median_low: float | None
    median_high: float | None
    number: int
    deaths: int


def _checked(times: Sequence[float], died: Sequence[bool]) -> None:
    if len(times) != len(died):
        raise ValueError(f"{len(times)} times but {len(died)} fates; give one fate for each time")
    if not times:
        raise ValueError("no animal was given; give at least one time with its fate")
    for time in times:
        within("time", time, 0, 1e6)


def kaplan_meier(
    times: Sequence[float],
    died: Sequence[bool],
    known_from: Sequence[float] | None = None,
    *,
    confidence: float = 0.95,
) -> SurvivalCurve:
    """The survival curve of animals that died or were lost from sight alive (released, escaped,
    still alive).

    Source: Kaplan & Meier 1958, J. Am. Stat. Assoc. 53:457-481; standard error Greenwood 1926;
        limits on the scale
    log(-log S) (Kalbfleisch & Prentice 1980). One censored at the time of a death counts as at risk
    then, one known from then on does not.

    Args:
        times: days from when each was first at risk. died: True where that is its death.
        known_from: days from which each was known of, and at risk: delayed entry (left truncation,
            Kalbfleisch & Prentice 1980); all from the first where it is not given.
    """
    _checked(times, died)
    within("confidence", confidence, 0.5, 0.9999)
    z = normal_quantile((1 + confidence) / 2)
    steps: list[Step] = []
    survival, greenwood = 1.0, 0.0
    # of those that were there from the first none is left out, were it to die at once
    ordered, came = sorted(times), sorted(since for since in known_from or () if since > 0)
    for time, deaths in sorted(
        Counter(time for time, dead in zip(times, died, strict=True) if dead).items()
    ):
        at_risk = len(ordered) - bisect_left(ordered, time)
        at_risk -= len(came) - bisect_left(came, time)
        survival *= 1 - deaths / at_risk
        if at_risk > deaths:
            greenwood += deaths / (at_risk * (at_risk - deaths))
        low, high = _limits(survival, greenwood, z)
        steps.append(
            Step(time, at_risk, deaths, survival, survival * math.sqrt(greenwood), low, high)
        )
    return SurvivalCurve(
        tuple(steps),
        _first_at_most_half(steps, lambda step: step.survival),
        _first_at_most_half(steps, lambda step: step.low),
        _first_at_most_half(steps, lambda step: step.high),
        len(times),
        sum(died),
    )


def _limits(survival: float, greenwood: float, z: float) -> tuple[float, float]:
    if survival <= 0:
        return 0.0, 0.0
    spread = z * math.sqrt(greenwood) / math.log(survival)
    centre = math.log(-math.log(survival))
    return math.exp(-math.exp(centre - spread)), math.exp(-math.exp(centre + spread))


def _first_at_most_half(steps: Sequence[Step], value: Callable[[Step], float]) -> float | None:
    return next((step.time for step in steps if value(step) <= 0.5 + 1e-12), None)


class LogRank(Struct, frozen=True):
    """The log-rank test of two curves: chi-square on one degree of freedom and the chance of it by
    chance alone."""

    chi_square: float
    p: float


def log_rank(
    times_first: Sequence[float],
    died_first: Sequence[bool],
    times_second: Sequence[float],
    died_second: Sequence[bool],
) -> LogRank:
    """Whether two groups survive alike.

    Mantel 1966; Peto & Peto 1972, with the hypergeometric variance.
        Raises:
            ValueError: no death in either group.
    """
    _checked(times_first, died_first)
    _checked(times_second, died_second)
    deaths = {
        time
        for time, dead in zip(
            (*times_first, *times_second), (*died_first, *died_second), strict=True
        )
        if dead
    }
    observed = expected = variance = 0.0
    for time in deaths:
        first = sum(value >= time for value in times_first)
        second = sum(one >= time for one in times_second)
        here = sum(dead and one == time for one, dead in zip(times_first, died_first, strict=True))
        both = here + sum(
            dead and one == time for one, dead in zip(times_second, died_second, strict=True)
        )
        total = first + second
        observed += here
        expected += both * first / total
        if total > 1:
            variance += both * (first / total) * (second / total) * (total - both) / (total - 1)
    if variance == 0:
        raise ValueError("no death tells the two groups apart; wait for more, or give more animals")
    chi = (observed - expected) ** 2 / variance
    return LogRank(chi, chi_square_survival(chi, 1))
