"""A report of less food never makes danger later: hunger runs from when the larvae were last seen to have food enough."""

from __future__ import annotations

from typing import Any

import pytest

from tests.stories.telling import Story, tell

BOOK = "R7\t4 L5 Aglais io\tnettle\t06:00\tsill 2\nR8\t12 L1 Aglais io\tnettle\t06:00\tsill 2\n"


@pytest.fixture
def fed(story: Story) -> Story:
    """Last instars and first instars that were put in with food on Friday 11 June 2027 at 06:00."""
    story.at("2027-06-11 17:00")
    ran = story.shell("begin", "--list", "-", typed=f"code\tholds\tplant\tsince\tplace\n{BOOK}")
    assert ran.status == 0, ran.err
    story.reopen()
    return story


def food(story: Story, code: str = "R7") -> dict[str, Any]:
    """When the food of a cup is late, urgent and in danger."""
    row = story.due(code)["food"]
    return {name: row[name] for name in ("amber", "red", "harm")}


def harm(story: Story, code: str = "R7") -> str:
    """From when a cup is in danger of starving, in the time of the place."""
    return str(food(story, code)["harm"])[:16]


@pytest.mark.parametrize("said", ["bare", "limp", "left=little", "yellow", "mouldy"])
def test_a_report_of_less_leaves_danger_where_it_was(fed: Story, said: str) -> None:
    fed.at("2027-06-12 02:05")
    before = harm(fed)
    fed.type(f"R7 host seen {said}")
    assert harm(fed) == before


@pytest.mark.parametrize("said", ["bare", "limp", "left=little"])
def test_a_second_report_moves_nothing(fed: Story, said: str) -> None:
    fed.at("2027-06-11 18:00").type(f"R7 host seen {said}")
    fed.later(minutes=1)
    before = food(fed)
    fed.at("2027-06-12 07:00").type(f"R7 host seen {said}")
    assert food(fed) == before


def test_limp_after_bare_is_no_food(fed: Story) -> None:
    fed.at("2027-06-11 18:00").type("R7 host seen bare")
    before = food(fed)
    fed.later(hours=2).type("R7 host seen limp")
    assert food(fed) == before


def test_young_ones_are_urgent_no_later_for_limp_food(fed: Story) -> None:
    fed.at("2027-06-12 05:06")
    before = fed.due("R8").get("food")
    fed.type("R8 host seen limp")
    after = food(fed, "R8")
    fed.later(hours=20).type("R8 host seen limp")
    assert food(fed, "R8") == after
    assert before is None or before["red"] == after["red"]


@pytest.mark.parametrize("said", ["R7 host out", "R7 host seen bare; R7 host out"])
def test_food_taken_out_leaves_danger_where_it_was(fed: Story, said: str) -> None:
    fed.at("2027-06-12 02:05")
    before = harm(fed)
    fed.type(*said.split("; "))
    assert harm(fed) == before


def test_hunger_goes_with_them_to_a_cup_without_food(fed: Story) -> None:
    fed.at("2027-06-12 02:05")
    before = harm(fed)
    tell(fed, "R9 set up rearing\nR7 moved to R9 4")
    assert harm(fed, "R9") == before


def test_hunger_goes_with_them_to_a_cup_with_limp_food(fed: Story) -> None:
    tell(fed, "R9 set up rearing\nR9 host in nettle\nR9 host seen limp")
    fed.at("2027-06-12 02:05")
    before = harm(fed)
    fed.type("R7 moved to R9 4")
    assert harm(fed, "R9") == before


@pytest.mark.parametrize(
    "said", ["R7 host seen fresh", "R7 host seen left=plenty", "R7 host in nettle"]
)
def test_food_enough_ends_the_hunger(fed: Story, said: str) -> None:
    fed.at("2027-06-11 18:00").type("R7 host seen bare")
    before = harm(fed)
    fed.at("2027-06-12 02:05").type(said)
    fed.at("2027-06-13 03:00")
    assert harm(fed) > before


def test_one_limp_plant_says_nothing_of_the_other(fed: Story) -> None:
    fed.type("R7 host in poplar")
    fed.at("2027-06-12 10:00")
    before = harm(fed)
    fed.type("R7 host seen nettle limp")
    assert harm(fed) == before


async def test_the_key_in_the_round_moves_nothing(fed: Story) -> None:
    fed.at("2027-06-12 02:30")
    before = harm(fed)
    async with fed.screens() as screen:
        await screen.press("r")
        await screen.walk_to("food", "R7")
        await screen.press("e")
    assert harm(fed) == before


def test_a_plant_said_limp_again_is_no_fresher_for_females_either(fed: Story) -> None:
    tell(
        fed,
        "K1 set up laying\nK1 founder W1 'Aglais io' female\nK1 host in nettle kept=water\nK1 host seen limp",
    )
    fed.later(minutes=1)
    before = fed.due("K1")["host"]["red"]
    fed.later(hours=12).type("K1 host seen limp")
    assert fed.due("K1")["host"]["red"] == before
