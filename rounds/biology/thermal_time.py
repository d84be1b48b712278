"""How much warmth a stage takes, from animals that were only looked at now and then, and from some
that are not there yet.

The warmth that one animal needs is log-normal: log y = mu + brood + animal, with normal parts. Of
each animal is known between which two amounts of gathered warmth it ended the stage (two looks;
when it began is between
two looks too), or that it had not ended it by some amount. Leaving out the unfinished would measure
the quick ones only.

One brood: maximum of the likelihood of interval- and right-censored normal data with a conjugate
prior on mean and variance, by expectation and maximisation (Dempster, Laird & Rubin 1977, J. R.
Statist. Soc. B 39:1-38;
interval-censored: Turnbull 1976, J. R. Statist. Soc. B 38:290-295; information: Louis 1982, B
44:226-233). Some never end it
(infertile, resting, dead unseen), so that who is long overdue counts less and less: a cured share
(Boag 1949, B
11:15-53).

Several broods: random effects about the constant that was known before, averaged over how far
broods may differ, which few of them leave open (Gelman et al. 2013, Bayesian Data Analysis, 5.4 and
5.7). Titles and pages from memory.
The tests hold it against general libraries and against simulated broods of a known truth.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import erfc, exp, inf, log, pi, sqrt

from msgspec import Struct

from rounds.limits import within

# Standard deviation of the logarithm between broods, where none tells it; our estimate.
BROODS_DIFFER = 0.08
# What it may be, and how likely each is before any brood: a log-normal about 0.09 of which half lie
# between 0.056 and 0.144, our choice. So the window holds where broods differ by a twentieth and
# where by a seventh (tests/calibration/test_own_broods.py).
BROODS_MAY_DIFFER = tuple(0.02 * 1.35**step for step in range(11))
DIFFER_MIDDLE, DIFFER_VARIES = 0.09, 0.7
SPREAD_WEIGHS = 8.0  # animals that the usual spread counts for; our choice
NEVER = 0.1  # share of those not yet there that may never be; our estimate, no source
LEAST_HEAT, MOST_HEAT = 1e-3, 20_000  # of any constant [C day]
LEAST_SPREAD = 0.02
STEPS = 200
CLOSE = 1e-6


class StageEnds(Struct, frozen=True):
    """So many animals that ended a stage between two amounts of warmth [C day]; ``high`` is
    infinite for those not yet there."""

    low: float
    high: float
    number: int = 1


class Brood(Struct, frozen=True):
    """One brood: mean logarithm and its variance as the data alone have it, and what it says of the
    spread of animals.

    ``number`` animals, those not yet there in part, with ``squares`` about their mean.
    ``precision`` is nought where nothing is known.
    """

    mean: float
    precision: float
    spread: float
    number: float
    squares: float
    finished: int


class Estimate(Struct, frozen=True):
    """A constant and how sure it is, for animals of a brood.

    ``shorter`` and ``longer`` are standard deviations of the logarithm of what a brood needs on
    either side, the difference between broods among them; ``spread`` is of animals within a brood.
    ``weight`` is the share that own broods have in it.
    """

    constant_dd: float
    shorter: float
    longer: float
    spread: float
    broods: int
    weight: float


def half_took(constant_dd: float, spread: float = 0.1) -> tuple[StageEnds, ...]:
    """A brood of which is known what half of it took: as animals that differ as usual, as many as
    the usual spread counts for."""
    animals = int(SPREAD_WEIGHS)
    ends = (constant_dd * exp(spread), constant_dd * exp(-spread))
    return tuple(StageEnds(one, one, animals // 2) for one in ends)


def _upper(z: float) -> float:
    return 0.5 * erfc(z / sqrt(2))


def _density(z: float) -> float:
    return exp(-z * z / 2) / sqrt(2 * pi) if abs(z) < 38 else 0.0


def _between(low: float, high: float) -> tuple[float, float, float]:
    """Probability, mean and variance of a standard normal deviate that lies between two bounds."""
    if high < 0:  # from the side on which the tail is small, so that nothing cancels
        share, mean, variance = _between(-high, -low)
        return share, -mean, variance
    share = _upper(low) - (_upper(high) if high < inf else 0.0)
    if share < 1e-300 or high - low < 1e-4:
        middle = (max(low, -40.0) + min(high, 40.0)) / 2 if high - low < 1e-4 else min(high, 40.0)
        return max(share, 1e-300), middle, 0.0
    at_low, at_high = _density(low), _density(high) if high < inf else 0.0
    mean = (at_low - at_high) / share
    edge = (low * at_low if at_low else 0.0) - (high * at_high if at_high else 0.0)
    return share, mean, max(0.0, 1 + edge / share - mean * mean)


@lru_cache(maxsize=4096)
def one_brood(
    seen: tuple[StageEnds, ...],
    prior: float,
    prior_sd: float,
    spread: float = 0.1,
    never: float = NEVER,
) -> Brood:
    """What one brood says of the warmth that its animals need.

    Args:
        seen: its animals, those that ended the stage and those not yet there.
        prior, prior_sd: what was known of its mean logarithm before.
        spread: usual standard deviation of the logarithm of animals; it counts for eight of them.
        never: share that may never end the stage, 0 to 0.9.

    Raises:
        ValueError: bounds that are not in order, or out of range.
    """
    within("spread", spread, LEAST_SPREAD, 1)
    within("share that never ends it", never, 0, 0.9)
    within("standard deviation known before", prior_sd, 1e-4, 10)
    parts = [
        (
            log(max(LEAST_HEAT, ends.low)),
            log(max(LEAST_HEAT, ends.high)) if ends.high < inf else inf,
            ends.number,
        )
        for ends in seen
    ]
    for low, high, _ in parts:
        if high < low:
            raise ValueError(
                f"ended between {exp(low):g} and {exp(high):g} degree-days; the first must be the"
                " lower"
            )
    mean, sd = prior, spread
    number = squares = precision = 0.0
    for _ in range(STEPS):
        number = total = precision = 0.0
        moments = []
        for low, high, count in parts:
            share, middle, variance = _between((low - mean) / sd, (high - mean) / sd)
            there = 1.0 if high < inf else (1 - never) * share / (never + (1 - never) * share)
            weighs = count * there
            number += weighs
            total += weighs * (mean + sd * middle)
            precision += weighs * (1 - variance - (1 - there) * middle * middle) / (sd * sd)
            moments.append((weighs, mean + sd * middle, variance * sd * sd))
        held = sd * sd / (prior_sd * prior_sd)
        new = (total + held * prior) / (number + held)
        squares = sum(weighs * ((at - new) ** 2 + variance) for weighs, at, variance in moments)
        new_sd = max(
            LEAST_SPREAD, sqrt((SPREAD_WEIGHS * spread**2 + squares) / (SPREAD_WEIGHS + number))
        )
        moved = abs(new - mean) + abs(new_sd - sd)
        mean, sd = new, new_sd
        if moved < CLOSE:
            break
    finished = sum(one.number for one in seen if one.high < inf)
    if precision <= CLOSE / (prior_sd * prior_sd):
        return Brood(mean, 0.0, sd, number, squares, finished)
    pull = (mean - prior) / (prior_sd * prior_sd)  # equal to the data's own pull, at the maximum
    return Brood(mean + pull / precision, precision, sd, number, squares, finished)


def estimated(
    constant_dd: float,
    *,
    shorter: float,
    longer: float,
    learning: float | None = None,
    broods: Sequence[tuple[StageEnds, ...]] = (),
    this: int | None = None,
    spread: float = 0.1,
    never: float = NEVER,
) -> Estimate:
    """A constant that was known before, drawn toward own broods, the more the more there are.

    Args:
        constant_dd: known before [C day]; ``shorter`` and ``longer`` its standard deviations of the
            logarithm on either side.
        learning: standard deviation of the logarithm that it has beside own broods; the wider, the
            sooner they count.
            Without it that of the side on which they lie.
        broods: the animals of each own brood.
        this: which of them the estimate is for; None for another brood.
        spread: usual standard deviation of the logarithm of animals within a brood.

    Raises:
        ValueError: out of range.
    """
    within("thermal constant", constant_dd, LEAST_HEAT, MOST_HEAT, "degree-days")
    for side in (shorter, longer):
        within("uncertainty", side, 1e-4, 2)
    known = log(constant_dd)
    wide = sqrt((learning**2 if learning else (shorter**2 + longer**2) / 2) + BROODS_DIFFER**2)
    told = [one_brood(seen, known, wide, spread, never) for seen in broods]
    weighs = SPREAD_WEIGHS + sum(one.number for one in told)
    squares = SPREAD_WEIGHS * spread**2 + sum(one.squares for one in told)
    animals = max(LEAST_SPREAD, sqrt(squares / weighs))
    speak = [
        (position, one, (animals / one.spread) ** 2 / one.precision)
        for position, one in enumerate(told)
        if one.precision > 0
    ]
    if not speak:
        below, above = (sqrt(value**2 + BROODS_DIFFER**2) for value in (shorter, longer))
        return Estimate(constant_dd, below, above, animals, 0, 0.0)
    others = [(one.mean, variance) for place, one, variance in speak if place != this]
    own = [(one.mean, variance) for place, one, variance in speak if place == this]
    usual = [(one.mean, BROODS_DIFFER**2 + variance) for _, one, variance in speak]
    side = learning or (longer if _drawn(known, inf, usual)[0] > known else shorter)
    likely, told_by = [], []
    for differ in BROODS_MAY_DIFFER:
        of_broods = differ**2
        seen_so = [(mean, of_broods + variance) for mean, variance in (*others, *own)]
        likely.append(_fits(known, side**2, seen_so) + _before(differ))
        mean, variance = _drawn(known, side**2, seen_so[: len(others)])
        told_by.append(_drawn(mean, variance + of_broods, own))
    top = max(likely)
    weights = [exp(one - top) for one in likely]
    mean, variance = _mixed(weights, told_by)
    mean = min(max(mean, log(LEAST_HEAT)), log(MOST_HEAT))
    of_broods = sum(w * d**2 for w, d in zip(weights, BROODS_MAY_DIFFER, strict=True)) / sum(
        weights
    )
    every = sum(1 / (of_broods + variance) for *_, variance in speak)
    finished = sum(1 for _, one, _ in speak if one.finished)
    off = sqrt(variance)
    return Estimate(exp(mean), off, off, animals, finished, every / (every + 1 / side**2))


def _before(differ: float) -> float:
    """How likely it is before any brood that broods differ so, as a logarithm; up to a constant."""
    return -(((log(differ) - log(DIFFER_MIDDLE)) / DIFFER_VARIES) ** 2) / 2


def _fits(mean: float, variance: float, data: Sequence[tuple[float, float]]) -> float:
    """The logarithm of the likelihood of normal data with a normal prior on their mean, one after
    another; up to a constant."""
    total = 0.0
    for at, own in data:
        total -= ((at - mean) ** 2 / (variance + own) + log(variance + own)) / 2
        mean, variance = _drawn(mean, variance, [(at, own)])
    return total


def _mixed(weights: Sequence[float], parts: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Mean and variance of a mixture of parts that each have theirs."""
    every = sum(weights)
    mean = sum(weight * at for weight, (at, _) in zip(weights, parts, strict=True)) / every
    squares = sum(
        weight * (variance + (at - mean) ** 2)
        for weight, (at, variance) in zip(weights, parts, strict=True)
    )
    return mean, squares / every


def _drawn(
    mean: float, variance: float, data: Sequence[tuple[float, float]]
) -> tuple[float, float]:
    """Mean and variance of a normal prior after normal data, each with its variance."""
    precision = 1 / variance + sum(1 / own for _, own in data)
    return (mean / variance + sum(at / own for at, own in data)) / precision, 1 / precision
