"""Eggs that are cut off into another cup are moved: they were counted when they were found, and count once."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def laid(story: Story) -> Story:
    """A female laid, the eggs were found on the leaves."""
    tell(
        story,
        """
        K2 set up laying
        K2 founder W2 "Melitaea cinxia" female
        E2 set up eggs
        K2 host in Plantago 3 sprigs
        K2 searched 84
        """,
    )
    return story.later(hours=1)


@pytest.mark.parametrize(
    "line",
    [
        "K2 84 eggs cut off into E2",
        "K2 84 eggs cut off to E2",
        "K2 eggs 84 leaf cut off E2",
        "K2 searched 84 cut off into E2",
        "K2 cut off 84 eggs into E2",
        "K2 84 eggs cut off with the leaf and put into E2",
        "84 eggs cut off from K2 into E2",
    ],
)
def test_cut_off_into_a_cup_is_moved(laid: Story, line: str) -> None:
    assert "moved 84 eggs" in laid.type(line)[0]
    told = laid.on_disk()[-1]
    assert (told["what"], told["container"], told["number"], told["to"]) == (
        "moved",
        "K2",
        84,
        "E2",
    )
    assert laid.desk.bench.containers["K2"].count("egg") == 0
    assert laid.desk.bench.containers["E2"].count("egg") == 84


@pytest.mark.parametrize(
    "line",
    [
        "K2 searched 20 cut off into E9",
        "K2 20 eggs cut off to E9",
        "K2 20 eggs cut off in a new cup E9",
    ],
)
def test_a_cup_that_is_not_there_is_refused(laid: Story, line: str) -> None:
    assert "E9" in laid.refused(line)
    assert laid.on_disk()[-1]["what"] == "searched"


def test_a_cup_that_is_called_new_is_set_up(laid: Story) -> None:
    laid.type("K2 20 eggs cut off into new E9")
    cup = laid.desk.bench.containers["E9"]
    assert (cup.purpose, cup.count("egg")) == ("eggs", 20)


def test_more_than_there_are_is_refused(laid: Story) -> None:
    assert "84" in laid.refused("K2 90 eggs cut off into E2")


def test_the_time_behind_stays(laid: Story) -> None:
    laid.type("K2 84 eggs cut off into E2 -20m")
    assert laid.on_disk()[-1]["at"] != laid.on_disk()[-1]["logged"]
