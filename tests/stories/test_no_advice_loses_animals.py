"""What a refusal suggests leaves no animal out; a specimen and a move are taken as what they are."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def bench(story: Story) -> Story:
    """Larvae, eggs whose female was let go, and an egg cup."""
    story.at("2031-06-11 18:00").type(
        "R1 24 L3 Aglais io on nettle", "K1 1 female Satyrium spini on buckthorn", "Y1 set up eggs"
    )
    story.at("2031-06-12 07:00").type("K1 24 eggs", "K1 released 1 female")
    return story


@pytest.mark.parametrize(
    "line",
    [
        "R1 1 L3 kept as a specimen",
        "R1 1 L3 kept for the collection",
        "R1 1 L3 as a voucher",
        "R1 kept 1 L3 as a specimen",
        "R1 took 1 L3 for the collection",
    ],
)
def test_a_specimen_is_one(bench: Story, line: str) -> None:
    assert bench.type(line)[0].startswith("R1 preserved 1 larva L3")


@pytest.mark.parametrize("line", ["K1 8 eggs to Y1", "K1 8 eggs into new Y2"])
def test_eggs_go_to_a_cup(bench: Story, line: str) -> None:
    assert "moved 8 eggs to Y" in bench.type(line)[0]


def test_eggs_go_to_a_cup_that_is_to_be_set_up(bench: Story) -> None:
    assert "K1 moved 8 eggs to new Y2" in bench.refused("K1 8 eggs to Y2")


@pytest.mark.parametrize(
    "line",
    [
        "R1 1 L3 fallen off",
        "R1 1 L3 went to a friend",
        "R1 2 larvae green",
        "K1 8 eggs shrivelled",
        "K1 8 eggs to the box",
    ],
)
def test_some_are_no_count_of_all(bench: Story, line: str) -> None:
    assert "counted" not in bench.refused(line)


def test_all_may_be_a_count(bench: Story) -> None:
    assert "R1 counted 24 larvae" in bench.refused("R1 24 L3 green")


@pytest.mark.parametrize("words", ["washed up", "put away"])
def test_a_cup_that_is_put_away_has_its_lines(bench: Story, words: str) -> None:
    assert bench.refused(f"Y1 {words}").endswith("As: Y1 closed; Y1 cleaned")
