"""Seasons by policy, over paired seeds: adults brought out, minutes a day, losses by cause. A simulation, not a trial.

    python -m tests.season --seeds 20                 all keepers in all worlds
    python -m tests.season --seeds 5 --off            what each check costs and saves, turned off in turn
    python -m tests.season --seeds 5 --drawn          worlds drawn anew within twice the range of their rates

A season of a keeper who follows the program takes ten to sixty seconds, the more live the longer; ``TMPDIR`` on a disk in memory makes it faster.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from math import sqrt
from pathlib import Path
from random import Random
from statistics import mean, stdev

from rounds.checks.registry import CHECKS
from tests.season.follow import (
    FOLLOWS,
    SHORT_AS_WALKED,
    SHORT_BY_SHELF,
    SHORT_BY_WORTH,
    Policy,
    ProgramKeeper,
)
from tests.season.habits import AROUND, EVERYTHING, GOOD, HURRIED, SHORT_KEPT, HabitKeeper, Habits
from tests.season.numbers import WORLDS, World, drawn_anew
from tests.season.play import DAYS, Season, bench_of, play

Play = Callable[[World, int, int], Season]
UNSEEN = 1000  # the first seed: those below were looked at while the program was made


def by_habit(habits: Habits) -> Play:
    """A season of a keeper who goes by habit."""

    def season(world: World, seed: int, days: int) -> Season:
        bench = bench_of(world, seed, days)
        return play(HabitKeeper(bench, habits), bench, seed)

    return season


def by_program(policy: Policy) -> Play:
    """A season of a keeper who follows the program, with a book of its own."""

    def season(world: World, seed: int, days: int) -> Season:
        with tempfile.TemporaryDirectory(prefix="season-") as folder:
            os.environ["XDG_STATE_HOME"] = str(Path(folder) / "state")
            bench = bench_of(world, seed, days)
            keeper = ProgramKeeper(bench, policy, Path(folder) / "book")
            found = play(keeper, bench, seed)
        if len(keeper.refused) > found.laid:
            raise AssertionError(
                f"{len(keeper.refused)} lines were refused, as {keeper.refused[:3]}"
            )
        return found

    return season


KEEPERS: dict[str, Play] = {
    EVERYTHING.name: by_habit(EVERYTHING),
    GOOD.name: by_habit(GOOD),
    AROUND.name: by_habit(AROUND),
    SHORT_KEPT.name: by_habit(SHORT_KEPT),
    HURRIED.name: by_habit(HURRIED),
    FOLLOWS.name: by_program(FOLLOWS),
    SHORT_BY_WORTH.name: by_program(SHORT_BY_WORTH),
    SHORT_AS_WALKED.name: by_program(SHORT_AS_WALKED),
    SHORT_BY_SHELF.name: by_program(SHORT_BY_SHELF),
}


def interval(values: Sequence[float]) -> str:
    """The mean with its 95 % interval, normal approximation."""
    half = 1.96 * stdev(values) / sqrt(len(values)) if len(values) > 1 else 0.0
    return f"{mean(values):.1f} +- {half:.1f}"


def row(name: str, seasons: Sequence[Season], beside: Sequence[Season]) -> str:
    """A line of the table; ``beside`` is the keeper that it is compared with, seed by seed."""
    more = [one.brought_out - other.brought_out for one, other in zip(seasons, beside, strict=True)]
    causes: dict[str, float] = {}
    for season in seasons:
        for cause, number in season.lost.items():
            causes[cause] = causes.get(cause, 0.0) + number / len(seasons)
    worst = sorted(
        ((n, c) for c, n in causes.items() if c != "female: old age" and n >= 0.05), reverse=True
    )[:7]
    told = ", ".join(f"{cause} {number:.1f}" for number, cause in worst)
    adults, minutes = (
        interval([one.brought_out for one in seasons]),
        mean(one.minutes_a_day for one in seasons),
    )
    return f"| {name} | {adults} | {interval(more)} | {minutes:.1f} | {mean(one.discarded_viable for one in seasons):.1f} | {told} |"


def table(
    world: World, keepers: dict[str, Play], seeds: Iterable[int], days: int, beside: str
) -> None:
    """Print what came of each keeper in one world, each as soon as it is known."""
    seeds = list(seeds)
    print(f"\n{world.name}, {len(seeds)} paired seasons of {days} days (a simulation)\n")
    print(
        f"| keeper | adults | more than {beside} | min a day | viable eggs discarded | lost of |\n| --- | --- | --- | --- | --- | --- |"
    )
    compared = [keepers[beside](world, seed, days) for seed in seeds]
    for name, season in keepers.items():
        seasons = compared if name == beside else [season(world, seed, days) for seed in seeds]
        print(row(name, seasons, compared), flush=True)


def main(arguments: Sequence[str]) -> None:
    """Run the seasons that were asked for."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.season", description="seasons by policy in simulated worlds"
    )
    parser.add_argument("--seeds", type=int, default=5, help="how many paired seasons a world")
    parser.add_argument("--first", type=int, default=UNSEEN, help="the first seed")
    parser.add_argument("--days", type=int, default=DAYS)
    parser.add_argument("--world", choices=[world.name for world in WORLDS], help="one world only")
    parser.add_argument(
        "--keeper",
        action="append",
        choices=list(KEEPERS),
        help="this keeper only; may be given again",
    )
    parser.add_argument("--off", action="store_true", help="each check turned off in turn")
    parser.add_argument(
        "--drawn", action="store_true", help="the rates of each world drawn anew for these seeds"
    )
    options = parser.parse_args(arguments)
    keepers, beside = KEEPERS, GOOD.name
    if options.keeper:
        keepers = {name: KEEPERS[name] for name in (GOOD.name, *options.keeper)}
    if options.off:
        asked = [
            FOLLOWS,
            *(replace(FOLLOWS, name=f"without {name}", off=(name,)) for name in CHECKS),
        ]
        keepers, beside = {policy.name: by_program(policy) for policy in asked}, FOLLOWS.name
    for world in WORLDS:
        if options.world in (None, world.name):
            there = drawn_anew(world, Random(f"drawn {options.first}")) if options.drawn else world
            table(
                there,
                keepers,
                range(options.first, options.first + options.seeds),
                options.days,
                beside,
            )


if __name__ == "__main__":
    main(sys.argv[1:])
