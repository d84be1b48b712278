"""A death that is typed a second time within the hour is asked about, for else it would count twice."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def dead(story: Story) -> Story:
    """One of ten larvae was found dead at seven."""
    tell(story.at("2027-07-24 05:00"), "R1 10 L3 Melitaea didyma on Plantago lanceolata 3 stems")
    story.at("2027-07-24 07:05").type("R1 died 1")
    return story.later(seconds=20)


@pytest.mark.parametrize(
    "line",
    ["R1 died 1", "R1 died", "R1 1 dead", "24 Jul 07:05 R1 died 1", "R1 died 1 starved -- leaf"],
)
def test_the_same_again_is_asked_about(dead: Story, line: str) -> None:
    asked = dead.refused(line)
    assert "R1 died 1 on Sat 24 Jul 07:05 already" in asked
    dead.type(asked.partition("if others, as: ")[2])
    assert dead.desk.bench.containers["R1"].count("larva") == 8


@pytest.mark.parametrize("line", ["R1 died 1 more", "R1 died 2", "24 Jul 05:30 R1 died 1"])
def test_others_are_taken(dead: Story, line: str) -> None:
    dead.type(line)


def test_two_causes_are_two_deaths(dead: Story) -> None:
    dead.type("R1 died 1 more starved")
    dead.type("R1 died 1 more eaten")
    assert "already" in dead.refused("R1 died 1 eaten")


def test_the_next_round_may_find_as_many(dead: Story) -> None:
    dead.later(hours=1).type("R1 died 1")
