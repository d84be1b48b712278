"""The keeper who follows the program, for a few days: nothing it says is refused, nothing vanishes, and the book learns."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.season.follow import FOLLOWS, SHORT_BY_WORTH, Policy, ProgramKeeper
from tests.season.numbers import DRY_HOT
from tests.season.play import Season, bench_of, play

DAYS = 14


def season(folder: Path, policy: Policy, seed: int = 3) -> tuple[Season, ProgramKeeper]:
    """Two weeks of one keeper."""
    bench = bench_of(DRY_HOT, seed, DAYS)
    keeper = ProgramKeeper(bench, policy, folder / "book")
    return play(keeper, bench, seed), keeper


@pytest.fixture(scope="module")
def followed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Season, ProgramKeeper]:
    """Two weeks of one who does what is asked, told once for all that is asked of them."""
    return season(tmp_path_factory.mktemp("followed"), FOLLOWS)


def test_what_is_asked_can_be_answered_and_no_egg_vanishes(
    followed: tuple[Season, ProgramKeeper],
) -> None:
    found, keeper = followed
    cups = keeper.bench.truth.cups.values()
    alive = sum(
        len(cup.animals) + cup.adults + sum(len(stems.eggs) for stems in cup.stems) for cup in cups
    )
    lost = sum(number for cause, number in found.lost.items() if not cause.startswith("female"))
    assert found.laid > 0
    assert alive + lost + found.brought_out == found.laid
    assert not keeper.refused
    assert not keeper.book.desk.bench.misfits


def test_the_book_has_the_animals_that_the_keeper_saw(
    followed: tuple[Season, ProgramKeeper],
) -> None:
    _, keeper = followed
    for container in keeper.book.containers():
        there = keeper.bench.cup(container.code)
        assert (
            sum(one.number for one in container.stock if one.stage == "egg")
            <= len(there.animals) + len(there.females) + 5
        )
        assert sum(one.number for one in container.stock if one.stage == "adult") >= len(
            there.females
        )


def test_seconds_and_finds_are_learned_from_the_rounds(
    followed: tuple[Season, ProgramKeeper],
) -> None:
    _, keeper = followed
    looks = [
        one for key, one in keeper.book.desk.bench.looks_made.items() if key.startswith("look|")
    ]
    timed, seconds = sum(one.timed for one in looks), sum(one.seconds for one in looks)
    world = keeper.bench.world
    assert timed > 20
    assert seconds / timed == pytest.approx(world.s_look + world.s_key, abs=8)


def test_a_round_with_a_limit_keeps_it_but_for_what_cannot_wait(tmp_path: Path) -> None:
    _, keeper = season(tmp_path, SHORT_BY_WORTH)
    walks = keeper.book.desk.bench.rounds
    spans = [(walk.ended - walk.started).total_seconds() / 60 for walk in walks]
    assert max(spans) < 30
