"""A female that comes in fed has drunk: she is not asked for a drink minutes later, and no plant is called fed."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.mark.parametrize(
    "line",
    [
        "K4 1 female Melitaea cinxia on plantain, fed",
        "K4 1 female Melitaea cinxia, fed, on plantain",
        "K4 1 female Melitaea cinxia on plantain and drank",
        "K4 1 female Melitaea cinxia on plantain fed",
        "K4 2 females Melitaea cinxia on plantain, drank well",
        "K4 1 female Melitaea cinxia on plantain, fed -- worn",
    ],
)
def test_she_is_not_asked_for_a_drink_at_once(story: Story, line: str) -> None:
    story.at("2027-05-21 10:00").type(line)
    assert "drink" not in story.later(minutes=9).due("K4")
    assert {host.plant for host in story.desk.bench.at("K4").hosts} == {"plantain"}
    assert "drink" in story.later(hours=12).due("K4")


def test_another_that_drank_may_be_one_that_is_there(story: Story) -> None:
    story.at("2027-05-21 10:00").type("K1 2 females Melitaea cinxia on plantain")
    for line in ("K1 another female drank", "K1 1 more female fed"):
        told = story.refused(line)
        assert told.startswith("one that is there, or one that comes in? As: K1 drank 1; K1 ")
    assert story.desk.bench.at("K1").count("adult") == 2
    story.type("K1 drank 1", told.rpartition("; ")[2])
    assert story.desk.bench.at("K1").count("adult") == 3


def test_those_that_are_there_drink_as_ever(story: Story) -> None:
    story.at("2027-05-21 10:00").type("K1 2 females Melitaea cinxia on plantain")
    story.type("K1 2 females drank", "K1 females fed")
    assert story.desk.bench.at("K1").count("adult") == 2
