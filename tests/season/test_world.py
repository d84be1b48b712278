"""The simulated world itself: nothing appears or vanishes, and the same seed gives the same season."""

from __future__ import annotations

from random import Random

import pytest

from tests.season.habits import GOOD, SHORT_KEPT, HabitKeeper
from tests.season.life import speed
from tests.season.numbers import DRY_HOT, WORLDS, World, drawn_anew
from tests.season.play import bench_of, play

DAYS = 30


@pytest.mark.parametrize("world", WORLDS, ids=lambda world: world.name)
def test_every_egg_laid_is_alive_lost_or_brought_out(world: World) -> None:
    bench = bench_of(world, 3, DAYS)
    season = play(HabitKeeper(bench, GOOD), bench, 3)
    cups = bench.truth.cups.values()
    alive = sum(
        len(cup.animals) + cup.adults + sum(len(stems.eggs) for stems in cup.stems) for cup in cups
    )
    lost = sum(number for cause, number in season.lost.items() if not cause.startswith("female"))
    assert season.laid > 0
    assert alive + lost + season.brought_out == season.laid


def test_the_same_seed_gives_the_same_season() -> None:
    seasons = [
        play(HabitKeeper(bench, GOOD), bench, 5)
        for bench in (bench_of(DRY_HOT, 5, DAYS), bench_of(DRY_HOT, 5, DAYS))
    ]
    assert seasons[0] == seasons[1]


def test_stems_thrown_away_early_lose_viable_eggs() -> None:
    kept, early = (
        sum(
            play(HabitKeeper(bench, habits), bench, seed).discarded_viable
            for seed in range(4)
            for bench in [bench_of(DRY_HOT, seed, DAYS)]
        )
        for habits in (GOOD, SHORT_KEPT)
    )
    assert early > kept


def test_development_has_an_optimum_and_is_one_at_20_degrees() -> None:
    assert speed(DRY_HOT, 20.0) == pytest.approx(1.0)
    assert speed(DRY_HOT, 5.0) == speed(DRY_HOT, 40.0) == 0.0
    assert speed(DRY_HOT, 28.5) > speed(DRY_HOT, 35.0)


def test_a_world_drawn_anew_stays_within_twice_its_range() -> None:
    other = drawn_anew(DRY_HOT, Random(1))
    assert 0.5 <= other.thirst_hazard / DRY_HOT.thirst_hazard <= 2.0
    assert other.viable_share == DRY_HOT.viable_share
