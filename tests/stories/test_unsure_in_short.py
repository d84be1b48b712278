"""What may be eggs is said in short, and more of it is added."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def cup(story: Story) -> Story:
    """A female at one plant."""
    story.type("L2 1 female Papilio machaon on fennel")
    return story.later(hours=12)


def unsure(story: Story) -> int:
    return sum(one.number for one in story.desk.bench.at("L2").unsure)


@pytest.mark.parametrize(
    "line", ["L2 maybe 6", "L2 6?", "L2 6 eggs?", "L2 perhaps 6 eggs", "L2 maybe 6 on fennel"]
)
def test_they_wait_for_a_lens(cup: Story, line: str) -> None:
    cup.type(line)
    assert unsure(cup) == 6
    assert cup.desk.bench.at("L2").count("egg") == 0


@pytest.mark.parametrize(
    "line",
    [
        "L2 6 more unsure",
        "L2 searched 6 more unsure",
        "L2 6 unsure more",
        "L2 6 more unsure on fennel",
    ],
)
def test_more_are_added(cup: Story, line: str) -> None:
    cup.type("L2 4 unsure")
    cup.later(hours=2).type(line)
    assert unsure(cup) == 10


def test_another_search_replaces_what_it_saw(cup: Story) -> None:
    cup.type("L2 4 unsure")
    cup.later(hours=2).type("L2 searched 6 unsure")
    assert unsure(cup) == 6


def test_of_several_plants_it_is_asked_which(story: Story) -> None:
    story.type("L2 1 female Papilio machaon on fennel", "L2 host in dill")
    story.later(hours=12).type("L2 4 unsure on fennel", "L2 2 unsure on dill")
    asked = story.refused("L2 6 more unsure")
    assert "L2 6 more unsure on fennel or L2 6 more unsure on dill" in asked
    story.type("L2 6 more unsure on dill", "L2 1 unsure more on fennel -- by the window")
    assert {one.plant: one.number for one in story.desk.bench.at("L2").unsure} == {
        "fennel": 5,
        "dill": 8,
    }


def test_where_they_wait_on_one_of_two_plants_more_are_of_it(story: Story) -> None:
    story.type("L2 1 female Papilio machaon on fennel", "L2 host in dill")
    story.later(hours=12).type("L2 4 unsure on fennel", "L2 6 more unsure -- on a leaf")
    assert [(one.plant, one.number) for one in story.desk.bench.at("L2").unsure] == [("fennel", 10)]
