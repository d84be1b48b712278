"""Eggs and larvae of two species in one box: each has its leaf and its food from a plant of its own."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def box(story: Story) -> Story:
    story.at("2027-05-10 09:00")
    tell(
        story,
        """
        K1 1 female Melitaea cinxia on plantain
        K2 1 female Cupido minimus on kidney vetch
        K1 searched 10
        K2 searched 10
        K1 moved 10 eggs to new E5
        K2 moved 10 eggs to E5
        """,
    )
    return story


def test_a_leaf_is_in_once_there_is_one_for_each(box: Story) -> None:
    box.at("2027-05-16 09:00")
    assert "leaf" in box.due("E5")
    box.type("E5 host in kidney vetch")
    assert "leaf" in box.due("E5"), "the eggs of Melitaea cinxia have none"
    box.type("E5 host in plantain")
    assert "leaf" not in box.due("E5")


def test_a_plant_that_nobody_knows_is_taken_for_all(box: Story) -> None:
    box.at("2027-05-16 09:00").type("E5 host in bramble")
    assert "leaf" not in box.due("E5")


async def test_food_of_one_is_none_of_the_others(box: Story) -> None:
    box.at("2027-05-16 09:00").type("E5 host in kidney vetch")
    box.at("2027-05-17 09:00").type("E5 hatched 10 MEL-27-01/A")
    box.at("2027-05-18 08:00").type("E5 host in kidney vetch")
    assert box.due("E5")["food"]["state"] == "urgent"
    async with box.screens((100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("food", "E5")
        assert "No food is recorded here" in screen.words
        assert "no food in for Melitaea cinxia" in screen.words
    box.type("E5 host in plantain")
    assert "food" not in box.due("E5")


async def test_a_key_puts_in_what_is_wanting(box: Story) -> None:
    box.at("2027-05-16 09:00").type("E5 host in kidney vetch")
    async with box.screens((100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("leaf", "E5")
        assert "why Melitaea cinxia: may hatch" in screen.words
        await screen.press("a")
        assert "which plant? 1 kidney vetch 2 plantain 3 both" in screen.words
        await screen.press("2")
    assert {host.plant for host in box.desk.bench.containers["E5"].hosts} == {
        "kidney vetch",
        "plantain",
    }
    assert "leaf" not in box.due("E5")
