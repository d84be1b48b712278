"""Eggs found on a plant that stands there are on it, however it is named; on two plants in one line they are two finds."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

CUP = """
L3 set up laying
L3 founder W4 "Polyommatus icarus"
L3 host in "Lotus corniculatus" 3 sprigs
L3 host in "Onobrychis viciifolia" 2 sprigs
"""


@pytest.fixture
def cup(story: Story) -> Story:
    story.at("2027-06-10 08:00")
    tell(story, CUP)
    return story.at("2027-06-12 08:00")


def finds(story: Story) -> list[tuple[str, int, str]]:
    return [
        (one.get("plant", ""), one["found"], one.get("where", ""))
        for one in story.on_disk()
        if one["what"] == "searched"
    ]


@pytest.mark.parametrize(
    "line",
    [
        "L3 3 eggs on Lotus corniculatus, 5 on Onobrychis viciifolia",
        "L3 3 eggs on Lotus corniculatus, 5 eggs on Onobrychis viciifolia",
        "L3 searched 3 on Lotus corniculatus and 5 on Onobrychis",
        "L3 searched 3 on Lotus, 5 on the Onobrychis lens",
    ],
)
def test_two_plants_in_one_line_are_two_finds(cup: Story, line: str) -> None:
    cup.type(line)
    assert finds(cup) == [("Lotus corniculatus", 3, ""), ("Onobrychis viciifolia", 5, "")]
    assert cup.desk.bench.containers["L3"].count("egg", "W4/A") == 8
    assert (
        len({one["aid"] for one in cup.on_disk() if one["what"] == "searched" and "aid" in one})
        <= 1
    )


@pytest.mark.parametrize(
    "line",
    [
        "L3 6 eggs on Onobrychis lens",
        "L3 6 eggs on the Onobrychis",
        "L3 6 eggs on onobrychis",
        "L3 6 eggs on viciifolia",
        "L3 searched 6 on Onobrychis viciifolia",
        "L3 searched 6 plant=Onobrychis",
        "6 eggs on the Onobrychis in L3",
    ],
)
def test_a_plant_that_stands_there_is_meant_by_a_word_of_its_name(cup: Story, line: str) -> None:
    cup.type(line)
    assert finds(cup) == [("Onobrychis viciifolia", 6, "")]


def test_a_word_that_fits_both_is_asked_about(cup: Story) -> None:
    cup.type('L3 host in "Lotus pedunculatus" 2 sprigs')
    assert "Lotus corniculatus or Lotus pedunculatus" in cup.refused("L3 6 eggs on Lotus")


def test_a_slip_in_its_name_is_asked_about(cup: Story) -> None:
    assert "Onobrychis viciifolia" in cup.refused("L3 6 eggs on Onobrichis viciifolia")


@pytest.mark.parametrize("where", ["the gauze", "gauze", "wall", "pot", "the lid of the cup"])
def test_a_place_stays_a_place(cup: Story, where: str) -> None:
    cup.type(f"L3 6 eggs on {where}")
    ((plant, found, place),) = [
        (one.get("plant", ""), one["found"], one["where"])
        for one in cup.on_disk()
        if one["what"] == "searched"
    ]
    assert (plant, found) == ("", 6)
    assert place == where.removeprefix("the ")


def test_more_is_no_place(cup: Story) -> None:
    cup.type(
        "L3 searched 7 more not known", "L3 7 more eggs not known", "L3 searched again 2 not known"
    )
    assert [one.get("where", "") for one in cup.on_disk() if one["what"] == "searched"] == [
        "",
        "",
        "",
    ]
