"""Simulated broods: animals differ by 8 %, broods by 6 %, warmth goes up and down, looks are twice a day.

All numbers are assumed; the truth is drawn about the constant that is told, as far off as each basis may be. Nothing here
goes through the whole program: the estimator and the forecast are asked as the bench asks them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import exp, inf, pi, sin, sqrt
from random import Random
from statistics import median

from rounds.biology.degree_days import Thresholds
from rounds.biology.forecast import HeatTrace, forecast, trace_of
from rounds.biology.thermal_constants import SPREAD, any_error, near_error
from rounds.biology.thermal_time import StageEnds, estimated

ANIMALS, BROODS = 0.08, 0.06
LOWER_C, DAYS = 9.0, 60
LOOK = 0.5  # days between two looks
CHANGES = {"hatch": 70.0, "moult": 45.0, "emergence": 165.0}  # C day
NEVER = 0.15  # share of eggs and pupae that never end the stage


@dataclass(frozen=True, slots=True)
class Basis:
    """What a forecast rests on: how far off the constant is told to be, and is, and how many own broods."""

    name: str
    shorter: float
    longer: float
    broods: int


def bases() -> tuple[Basis, ...]:
    """Own broods, the constants of a paper or a relative, and those of any species."""
    near, far = near_error("egg"), any_error("egg")
    return (
        Basis("paper or relative", *near, 0),
        Basis("one own brood", *near, 1),
        Basis("three own broods", *near, 3),
        Basis("ten own broods", *near, 10),
        Basis("unknown", *far, 0),
        Basis("unknown, two own broods", *far, 2),
    )


@dataclass(frozen=True, slots=True)
class Score:
    """Share of animals inside the nine-in-ten window, how late half of them came, as a share of the stage, and the share of broods
    none of which came before the first may come."""

    inside: float
    bias: float
    animals: int
    not_before: float


def warmth(random: Random) -> HeatTrace:
    """A room that warms over the season, with days and nights."""
    of_day = [random.gauss(0, 1.6) for _ in range(DAYS + 1)]
    readings = [
        (
            step / 8,
            20 + 3 * step / 8 / DAYS + 2.5 * sin(2 * pi * (step / 8 - 0.3)) + of_day[step // 8],
        )
        for step in range(8 * DAYS)
    ]
    return trace_of(readings, above=Thresholds(LOWER_C))


def brood(
    random: Random, trace: HeatTrace, mean_dd: float, number: int
) -> tuple[float, list[float]]:
    """When a brood began, within half a day, and when each of its animals ended the stage; some never do."""
    begun, own = random.uniform(0, 2), mean_dd * exp(random.gauss(0, BROODS))
    ended = []
    for _ in range(number):
        start = begun + random.uniform(0, LOOK)
        day = trace.day_of(trace.heat_at(start) + own * max(0.6, random.gauss(1, ANIMALS)))
        ended.append(inf if day is None or random.random() < NEVER else day)
    return begun, ended


def seen(trace: HeatTrace, begun: float, ended: list[float], until: float) -> tuple[StageEnds, ...]:
    """What looks twice a day tell of a brood up to a day."""
    first, last = trace.heat_at(begun), trace.heat_at(begun + LOOK)
    found = []
    for day in ended:
        look = int(day / LOOK) * LOOK + LOOK if day < inf else inf
        if look <= until:
            found.append(
                StageEnds(max(0.0, trace.heat_at(look - LOOK) - last), trace.heat_at(look) - first)
            )
        else:
            found.append(StageEnds(max(0.0, trace.heat_at(until) - last), inf))
    return tuple(found)


def score(basis: Basis, constant_dd: float, *, seed: int, broods: int, number: int = 12) -> Score:
    """How often the window told when a brood begins holds the truth, over so many broods foretold."""
    random = Random(seed)
    inside = animals = bounded = 0
    late: list[float] = []
    for _ in range(broods):
        trace = warmth(random)
        deviate = random.gauss(0, 1)
        side = basis.longer if deviate > 0 else basis.shorter
        off = deviate * sqrt(side**2 - BROODS**2)  # that of what a brood needs, less that of broods
        mean = constant_dd * exp(off)
        past = [brood(random, trace, mean, number) for _ in range(basis.broods)]
        known = [seen(trace, begun, ended, DAYS - 1.0) for begun, ended in past]
        need = estimated(
            constant_dd,
            shorter=basis.shorter,
            longer=basis.longer,
            broods=known,
            spread=SPREAD,
            never=0.2,
        )
        begun, ended = brood(random, trace, mean, number)
        told = forecast(
            trace,
            begun_from=begun,
            begun_to=begun + LOOK,
            constant_dd=need.constant_dd,
            spread=need.spread,
            uncertainty=need.shorter,
            longer=need.longer,
            number=number,
        )
        assert told.low is not None
        assert told.half is not None
        assert told.high is not None
        assert told.not_before is not None
        there = [day for day in ended if day < inf]
        animals += len(there)
        bounded += min(there, default=inf) >= told.not_before
        inside += sum(told.low <= day <= told.high for day in there)
        late += [(day - told.half) / (told.half - begun) for day in there]
    return Score(inside / animals, median(late), animals, bounded / broods)


def table(broods: int) -> Iterator[tuple[str, str, Score]]:
    """Every change on every basis."""
    for change, constant_dd in CHANGES.items():
        for place, basis in enumerate(bases()):
            yield change, basis.name, score(basis, constant_dd, seed=1_000 + place, broods=broods)


if __name__ == "__main__":
    for change, name, found in table(1_000):
        print(
            f"{change:10} {name:25} inside {found.inside:.1%}, late by {found.bias:+.1%} of the stage, {found.animals} animals;"
            f" the first not before it may be in {found.not_before:.1%}"
        )
