"""How far published lines are off that foretell what was left out of them: what ``near_error`` and ``any_error`` keep."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from functools import lru_cache
from math import log
from statistics import median

from rounds.biology.thermal_constants import (
    HIGH_C,
    LOW_C,
    WHOLE,
    Z90,
    Constants,
    combined,
    lines_of,
    of_studies,
)

Sides = tuple[float, float]
MEASURED_AT = (17.0, 21.0, 25.0)  # where errors are measured [C]
LEAST_ERROR = 0.05  # a measured error under this is luck; our estimate
FEWEST_STUDIES = 2  # to tell how far populations of a species lie apart


def near_error(stage: str, out: str, studies: int = 1) -> Sides:
    """As that of the program, without one species."""
    shorter, longer = measured(_whole(stage), out)[0]
    return shorter * of_studies(studies), longer * of_studies(studies)


def any_error(stage: str, out: str) -> Sides:
    """As that of the program, without one species."""
    return measured(_whole(stage), out)[1]


def _whole(stage: str) -> str:
    return stage if stage in WHOLE else next((one for one in WHOLE if one in stage), "larva")


@lru_cache(maxsize=64)
def own_lines(stage: str) -> dict[str, Constants]:
    """Each species' own line of a stage."""
    return {species: combined(lines) for species, lines in lines_of(stage).items()}


def _off(true: Constants, told: Constants) -> list[float]:
    """Logarithms of true over foretold days at some temperatures; none where either would not
    develop."""
    rates = [(told.rate(at), true.rate(at)) for at in MEASURED_AT]
    return [
        log(told_rate / true_rate)
        for told_rate, true_rate in rates
        if told_rate > 0 and true_rate > 0
    ]


def _sides(errors: Iterable[list[float]]) -> tuple[float, float]:
    """How far off on the short and the long side, as deviates of nine in ten; each case weighs one,
    however often measured.

    The 5th and 95th percentile stand at the ranks (n + 1) p, so that a new case of the same kind
    falls outside as often as said (conformal prediction, Vovk, Gammerman & Shafer 2005, from
    memory); at most the furthest off of those measured.
    """
    cases = [one for one in errors if one]
    weighed = sorted((error, 1 / len(case)) for case in cases for error in case)
    if not weighed:
        return 0.35, 0.35
    ranks, so_far = [], 0.0
    for _, weight in weighed:
        ranks.append(so_far + (weight + 1) / 2)  # among n cases of one error each: 1 to n
        so_far += weight

    def at(share: float) -> float:
        rank = (len(cases) + 1) * share
        above = min(bisect_left(ranks, rank), len(ranks) - 1)
        below = max(0, above - 1)
        if above == 0 or ranks[above] <= rank:
            return weighed[above][0]
        part = (rank - ranks[below]) / (ranks[above] - ranks[below])
        return weighed[below][0] + part * (weighed[above][0] - weighed[below][0])

    return max(LEAST_ERROR, -at(0.05) / Z90), max(LEAST_ERROR, at(0.95) / Z90)


@lru_cache(maxsize=64)
def _own_rates(stage: str) -> tuple[list[float], list[float]]:
    """The rates at 18 and 26 C of every species' own line of a stage [1/day], each from slow to
    fast."""
    slow, fast = (
        sorted(one.rate(at) for one in own_lines(stage).values()) for at in (LOW_C, HIGH_C)
    )
    return slow, fast


def _of_any(stage: str, *but: str) -> Constants | None:
    """The line of all species but some, as ``combined`` gives it; None where there is no other."""
    own = own_lines(stage)
    missing = [own[name] for name in dict.fromkeys(but) if name in own]
    if len(own) - len(missing) < 2:
        return next((line for name, line in own.items() if name not in but), None)
    medians = []
    for at, rates in zip((LOW_C, HIGH_C), _own_rates(stage), strict=True):
        rest = rates.copy()
        for one in missing:
            del rest[bisect_left(rest, one.rate(at))]
        medians.append(median(rest))
    low, high = medians
    constant = (HIGH_C - LOW_C) / (high - low)
    return Constants("", "", stage, LOW_C - low * constant, constant, "")


def _study_errors(lines: Sequence[Constants]) -> list[float]:
    """Errors of the studies of one stage of one species, as by one other; none where one study is
    all."""
    studies = sorted({constants.study for constants in lines})
    if len(studies) < FEWEST_STUDIES:
        return []
    found = []
    for study in studies:
        rest = combined([one for one in lines if one.study != study])
        own = combined([line for line in lines if line.study == study])
        found += as_by_one(_off(own, rest), len(studies) - 1)
    return found


def as_by_one(errors: Iterable[float], lines: int) -> list[float]:
    """How far off they would be by one line where they are by so many."""
    return [error / of_studies(lines) for error in errors]


@lru_cache(maxsize=1024)
def measured(whole: str, out: str = "") -> tuple[Sides, Sides]:
    """How far the near and how far any are off. What is nearer is never told less sure: a side on
    which the near came out further off by the few there are is measured over all (isotonic
    regression by pooling: Barlow et al. 1972, Statistical Inference under Order Restrictions, from
    memory)."""
    own = {name: line for name, line in own_lines(whole).items() if name != out}
    near = [_study_errors(lines) for name, lines in lines_of(whole).items() if name != out]
    far = []
    for name, line in own.items():
        genus = name.split(" ")[0]
        if of_genus := [
            other for known, other in own.items() if known != name and known.split(" ")[0] == genus
        ]:
            near.append(as_by_one(_off(line, combined(of_genus)), len(of_genus)))
        if of_any := _of_any(whole, name, out):
            far.append(_off(line, of_any))
    sides = zip(_sides(near), _sides(far), _sides([*near, *far]), strict=True)
    in_order = [(one, other) if one <= other else (both, both) for one, other, both in sides]
    return (in_order[0][0], in_order[1][0]), (in_order[0][1], in_order[1][1])
