"""One keeper's season: rounds at seven and six, sometimes late, sometimes missed, the same for all keepers of a seed."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import Protocol

from tests.season.bench import Bench
from tests.season.numbers import World

MISSED = 0.04  # of rounds; assumed
LATE = 0.15  # by one to three hours; assumed
DAYS = 68


class Keeper(Protocol):
    """Whoever walks the bench."""

    def round(self) -> None:
        """One round, now."""


@dataclass(frozen=True)
class Season:
    """What came of one season."""

    brought_out: int
    minutes_a_day: float
    lost: dict[str, int]
    laid: int
    discarded_viable: int
    disturbed: int


def rounds_of(seed: int, days: int = DAYS) -> set[int]:
    """The hours at which rounds are walked."""
    random = Random(f"rounds {seed}")
    hours = set()
    for day in range(days):
        for of_day in (7, 18):
            if random.random() < MISSED:
                continue
            late = random.randint(1, 3) if random.random() < LATE else 0
            hours.add(24 * day + of_day + late)
    return hours


def play(keeper: Keeper, bench: Bench, seed: int) -> Season:
    """Let a season pass."""
    walked = rounds_of(seed, bench.days)
    for hour in range(24 * bench.days):
        if hour in walked:
            keeper.round()
        bench.truth.pass_hour()
    truth = bench.truth
    return Season(
        truth.brought_out,
        bench.seconds / 60 / bench.days,
        dict(truth.lost),
        truth.laid,
        truth.discarded_viable,
        truth.lost.get("larva: disturbed moult", 0),
    )


def bench_of(world: World, seed: int, days: int = DAYS) -> Bench:
    """A bench of its own for each keeper; the world is the same."""
    return Bench(world, seed, days)
