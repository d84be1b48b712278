"""Larvae that are said to be several instars on, or pupae, long before they can be, are asked about."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def young(story: Story) -> Story:
    """Nine larvae of two days."""
    story.at("2027-06-01 07:00").type("R2 9 eggs Kallima inachus on strobilanthes")
    for day in range(2, 7):
        story.at(f"2027-06-0{day} 07:00").type("R2 looked as usual")
    story.at("2027-06-07 07:00").type("R2 hatched 9")
    return story.at("2027-06-09 07:00")


def test_a_moult_to_a_later_instar_waits_for_those_between(young: Story) -> None:
    asked = young.refused("R2 moulted 9 to L5")
    assert "the first moult to L5 of these larvae is not expected before" in asked
    assert asked.endswith("add 'sure'")
    young.type("R2 moulted 9 to L2")


def test_what_was_sure_is_no_ground_for_pupation(young: Story) -> None:
    young.type("R2 moulted 9 to L5 sure")
    asked = young.later(minutes=5).refused("R2 pupated 1")
    assert "after they hatched, and the first pupation of these larvae is not expected" in asked
    young.type("R2 pupated 1 sure")


def test_nor_for_a_moult_step_by_step(young: Story) -> None:
    young.type("R2 moulted 9 to L2", "R2 moulted 9 to L4 sure")
    young.later(minutes=5)
    assert "after they hatched" in young.refused("R2 moulted 9 to L5")


async def test_by_key_it_is_one_key_more(young: Story) -> None:
    young.type("R2 moulted 9 to L4 sure")
    async with young.later(minutes=5).screens((120, 40)) as screen:
        screen.highlight("R2")
        await screen.press("l", "9", "m")
        assert "Sure?" in screen.words
        await screen.press("1")
    assert young.on_disk()[-1]["instar"] == 5


def test_in_its_time_it_is_taken(young: Story) -> None:
    young.at("2027-06-17 07:00").type("R2 looked as usual", "R2 moulted 9 to L4")
    young.at("2027-06-26 07:00").type("R2 moulted 9 to L5")
    young.at("2027-07-03 07:00").type("R2 pupated 3")


def test_what_came_in_begun_is_not_asked_about(story: Story) -> None:
    """Their own instar may end at once; those that they jump over take their time."""
    tell(story.at("2027-06-01 07:00"), "R5 4 L1 Boloria lapidata\nR6 4 L4 Boloria lapidata")
    story.later(hours=1).type("R5 moulted 1 L2", "R6 moulted 1 L5", "R6 pupated 1")
    assert "add 'sure'" in story.refused("R5 moulted 1 L4")
