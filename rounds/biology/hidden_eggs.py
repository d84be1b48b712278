"""Hidden eggs: how likely a sprig still bears viable eggs after searches that found none, and how long to keep it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rounds.biology.distributions import beta_quantile, normal_share
from rounds.limits import within

# How large a share of the eggs that are there one search finds, until own sprigs tell; our estimate, no source.
USUAL_DETECTION = {"naked eye": 0.3, "lens": 0.5, "macro photo": 0.6}
PRIOR_WEIGHT = 4.0  # the usual share counts as much as four eggs of one's own; our estimate


@dataclass(frozen=True, slots=True)
class Detection:
    """The share of eggs that one search with an aid finds, with limits, and on how many own eggs it rests."""

    share: float
    low: float
    high: float
    eggs: int


def learned_detection(*, usual: float, found: int, missed: int, confidence: float = 0.95) -> Detection:
    """The share found, learned from sprigs that later showed eggs: a beta-binomial update of the usual share.

    Source: conjugate updating of a beta distribution by counts (Gelman et al. 2013, Bayesian Data Analysis, 2.4).

    Args:
        usual: the share before, 0.01 to 0.99. found, missed: eggs that searches found or had missed.
    """
    within("usual share", usual, 0.01, 0.99)
    within("found", found, 0, 1e6)
    within("missed", missed, 0, 1e6)
    a, b = usual * PRIOR_WEIGHT + found, (1 - usual) * PRIOR_WEIGHT + missed
    tail = (1 - confidence) / 2
    return Detection(a / (a + b), beta_quantile(tail, a, b), beta_quantile(1 - tail, a, b), found + missed)


def chance_after_searches(*, prior: float, detections: Sequence[float]) -> float:
    """The chance that eggs are there after searches that found none: Bayes' rule with independent searches.

    prior x prod(1 - p) / (prior x prod(1 - p) + 1 - prior).
    """
    within("prior chance", prior, 0, 1)
    missed = math.prod(1 - within("share found", one, 0, 1) for one in detections)
    return _share(prior * missed, 1 - prior)


def _share(eggs: float, none: float) -> float:
    """The share of one of two weights; each is taken by itself, so that it cannot round above one."""
    return eggs / (eggs + none) if eggs + none > 0 else 1.0


def searches_needed(*, detection: float, certainty: float = 0.95) -> int | None:
    """How many searches without finding make it that certain that one egg would have been found.

    Source: McArdle 1990, Oikos 57:276-277; Reed 1996, Conserv. Biol. 10:1283-1285: n = ln(1 - certainty) / ln(1 - p).

    Returns:
        None where a search finds nothing ever.
    """
    within("share found", detection, 0, 1)
    within("certainty", certainty, 0.5, 0.999999)
    if detection == 0:
        return None
    if detection == 1:
        return 1
    return math.ceil(math.log(1 - certainty) / math.log(1 - detection) - 1e-12)


def searches_until(*, prior: float, detection: float, chance: float) -> int | None:
    """How many searches without finding bring the chance down to that; None where none can."""
    within("chance aimed at", chance, 1e-9, 0.999)
    within("prior chance", prior, 0, 1)
    within("share found", detection, 0, 1)
    if prior <= chance:
        return 0
    if detection == 0 or prior == 1:
        return None
    if detection == 1:
        return 1
    odds = (chance / (1 - chance)) * ((1 - prior) / prior)
    return math.ceil(math.log(odds) / math.log(1 - detection) - 1e-12)


def prior_from_laying(*, rate: float, female_days: float, found_share: float = 0.0) -> float:
    """The chance before any search that a sprig bears at least one egg: 1 - exp(-rate x female-days).

    Args:
        rate: eggs per female-day on this host. found_share: share of its eggs taken off already, 0 to 1.
    """
    within("rate", rate, 0, 1000, "eggs per female-day")
    within("female-days", female_days, 0, 1e6)
    within("found share", found_share, 0, 1)
    return -math.expm1(-rate * female_days * (1 - found_share))


@dataclass(frozen=True, slots=True)
class Hidden:
    """The chance of viable eggs on a sprig, and until when to keep it [degree-days from laying]."""

    chance: float
    hatched_share: float
    keep_until_dd: float | None


def hidden_viable(
    *,
    prior: float,
    detections: Sequence[float],
    viable_share: float,
    degree_days: float,
    hatch_dd: float,
    hatch_sd_dd: float,
    frass_seen_share: float = 0.9,
    aim: float = 0.01,
) -> Hidden:
    """The chance that a sprig still bears viable eggs after searches and degree-days without droppings.

    Eggs that were there and viable would by now have hatched with the chance that a normal hatch time lies below the
    degree-days gone by; had they hatched, droppings would have been seen with ``frass_seen_share``. What was not seen
    lowers the chance by Bayes' rule. It falls with every argument that speaks against eggs.

    Args:
        prior: chance of eggs before any search, 0 to 1.
        detections: the share that each search finds.
        viable_share: share of eggs that hatch, 0 to 1.
        degree_days: since the eggs were laid, by the latest reckoning.
        hatch_dd, hatch_sd_dd: mean and spread of hatching.
        aim: the chance under which the sprig may go.

    Returns:
        The chance, the share of hatches due by now, and the degree-days until which to keep it; None where no waiting
        brings it under the aim, 0 where it is under it already without waiting.
    """
    within("degree-days", degree_days, 0, 1e5)
    within("hatch", hatch_dd, 1e-6, 1e5, "degree-days")
    within("spread of hatch", hatch_sd_dd, 1e-6, 1e5, "degree-days")
    within("aim", aim, 1e-9, 0.5)
    due = normal_share((degree_days - hatch_dd) / hatch_sd_dd)
    chance = viable_unseen(
        prior=prior,
        detections=detections,
        viable_share=viable_share,
        hatched_share=due,
        frass_seen_share=frass_seen_share,
    )
    viable = chance_after_searches(prior=prior, detections=detections) * viable_share
    return Hidden(chance, due, _keep_until(viable, frass_seen_share, hatch_dd, hatch_sd_dd, aim))


def viable_unseen(
    *, prior: float, detections: Sequence[float], viable_share: float, hatched_share: float, frass_seen_share: float
) -> float:
    """The chance of viable eggs where of the hatches due by now none was seen: Bayes' rule, as in ``hidden_viable``.

    Args:
        hatched_share: of the viable eggs, how large a share should have hatched by now, 0 to 1.
        frass_seen_share: how likely frass of a hatch would have been seen, 0 to 1.
    """
    within("viable share", viable_share, 0, 1)
    within("share hatched", hatched_share, 0, 1)
    within("share of droppings seen", frass_seen_share, 0, 1)
    viable = chance_after_searches(prior=prior, detections=detections) * viable_share
    return _unseen(viable, hatched_share * frass_seen_share)


def _unseen(viable: float, would_show: float) -> float:
    return _share(viable * (1 - would_show), 1 - viable)


def _keep_until(viable: float, seen: float, mean: float, spread: float, aim: float) -> float | None:
    if _unseen(viable, 0.0) <= aim:
        return 0.0
    if _unseen(viable, seen) > aim:
        return None
    low, high = 0.0, mean + 10 * spread
    for _ in range(100):
        middle = (low + high) / 2
        if _unseen(viable, seen * normal_share((middle - mean) / spread)) > aim:
            low = middle
        else:
            high = middle
    return high
