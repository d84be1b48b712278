"""What animals need does not depend on what the container they happen to be in was set up for."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

KEPT = """
    S6 set up host store
    K2 set up laying
    K2 founder W2 "Boloria lapidata" female
    K2 host in viola
    room 23
    """


def test_young_larvae_hatched_in_a_host_store_are_fed_and_looked_at(story: Story) -> None:
    story.at("2027-06-01 18:30")
    tell(story, KEPT)
    story.type("K2 host out held", "K2 stems lot 1 to S6")
    story.at("2027-06-08 07:12").type(
        "S6 frass trace lot=1", "brood W2/A", "S6 stocked 2 eggs W2/A", "S6 hatched 2 W2/A"
    )
    story.type("S6 host out lots=all hatched")
    story.at("2027-06-09 18:30")
    asked = story.due("S6")
    assert {"food", "look"} <= set(asked)
    assert asked["food"]["standing"] in ("due", "amber", "red")
    story.at("2027-06-11 07:00")
    assert story.due("S6")["food"]["standing"] == "red"


def test_eggs_and_larvae_beside_kept_stems_in_a_host_store_are_asked_for_too(story: Story) -> None:
    story.at("2027-06-01 18:30")
    tell(story, KEPT)
    story.type("K2 host out held", "K2 stems lot 1 to S6")
    story.at("2027-06-08 07:12").type("brood W2/A", "S6 stocked 5 eggs W2/A", "S6 hatched 2 W2/A")
    story.at("2027-06-09 18:30")
    assert {"food", "look", "frass"} <= set(story.due("S6"))


@pytest.mark.parametrize(
    "cup", ["host store", "laying", "holding", "trial", "eggs", "pairing", "emergence"]
)
def test_larvae_are_fed_in_a_cup_for_anything(story: Story, cup: str) -> None:
    story.at("2027-06-01 18:30")
    tell(story, f"brood W1/A\nR1 set up {cup}\nR1 stocked 3 L2 W1/A")
    story.later(hours=36)
    assert {"food", "look"} <= set(story.due("R1"))


@pytest.mark.parametrize("cup", ["host store", "rearing", "eggs", "trial", "pairing"])
def test_a_female_drinks_in_a_cup_for_anything(story: Story, cup: str) -> None:
    story.at("2027-06-01 18:30")
    tell(story, f'R1 set up {cup}\nR1 founder W1 "Boloria lapidata" female')
    story.later(hours=24)
    assert "drink" in story.due("R1")


def test_the_stems_of_a_store_are_asked_for_as_before(story: Story) -> None:
    story.at("2027-06-01 18:30")
    tell(story, "brood W1/A\nS6 set up host store\nS6 host in viola")
    story.later(hours=48)
    before = set(story.due("S6"))
    story.type("S6 stocked 3 L2 W1/A")
    story.later(hours=49)
    assert before
    assert before <= set(story.due("S6"))
    assert {"food", "look"} <= set(story.due("S6"))
    assert "but the cup is set up as a host store" in story.due("S6")["look"]["arithmetic"]
