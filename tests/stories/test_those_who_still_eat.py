"""A cup is fed for those who still eat, and not opened while any in it is seen not to move or hangs."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story, tell

THIRTY = """
R5 set up rearing
brood X2 taxon="Polyommatus icarus"
R5 stocked 30 L4 brood=X2
R5 host in Lotus corniculatus
"""


def begin(story: Story, lines: str = THIRTY) -> None:
    story.at("2027-07-10 08:00")
    tell(story, lines)
    story.at("2027-07-11 08:02")


def food_after(story: Story, said: str, days: float = 2.5) -> bool:
    begin(story)
    story.type(said)
    story.later(days=days)
    return "food" in story.due("R5")


@pytest.mark.parametrize(
    "said", ["R5 1 wandering", "R5 1 hanging", "R5 29 wandering", "R5 3 not moving"]
)
def test_the_others_are_fed(story: Story, said: str) -> None:
    assert food_after(story, said)


@pytest.mark.parametrize("said", ["R5 wandering", "R5 30 hanging"])
def test_where_all_have_stopped_no_food_is_asked(story: Story, said: str) -> None:
    assert not food_after(story, said)


def test_younger_ones_beside_wanderers_still_eat(story: Story) -> None:
    begin(story, THIRTY + "R5 stocked 2 L2 brood=X2")
    story.type("R5 wandering")
    assert "food" in story.later(days=2.5).due("R5")


def test_those_moved_in_are_fed_though_the_first_wander(story: Story) -> None:
    begin(story, THIRTY + "R6 set up rearing\nR6 stocked 4 L3 brood=X2")
    story.type("R5 wandering", "R6 moved 4 to R5")
    assert "food" in story.later(days=2.5).due("R5")


def test_the_helper_feeds_them(story: Story) -> None:
    begin(story)
    story.type("R5 1 wandering")
    sheet = story.at("2027-07-11 20:00").shell("sheet", "--to", "+3d").out
    cup = sheet.split("R5")[1]
    assert "add fresh Lotus corniculatus" in " ".join(cup.split())


async def test_a_number_goes_with_the_key_too(story: Story) -> None:
    begin(story)
    async with story.screens() as screen:
        screen.highlight("R5")
        await screen.press("l", "3", "r")
    assert [
        (line["sign"], line["number"]) for line in story.on_disk() if line["what"] == "looked"
    ] == [("wandering", 3)]
    story.later(days=2.5)
    assert "food" in story.due("R5")
    async with story.screens() as screen:
        screen.highlight("R5")
        await screen.press("l", "2", "h")
    assert story.on_disk()[-1]["number"] == 2


def test_each_that_is_seen_not_to_move_keeps_the_cup_closed(story: Story) -> None:
    begin(story)
    story.type("R5 1 not moving")
    story.later(hours=24)
    story.type("R5 2 not moving")
    story.later(minutes=1)
    assert "clean" not in story.due("R5")
    assert "count" not in story.due("R5")
    story.later(hours=23)
    assert "clean" not in story.due("R5")
    assert "food" in story.due("R5")
    story.later(hours=2)
    assert "clean" in story.due("R5")


def test_another_sign_does_not_open_it(story: Story) -> None:
    begin(story)
    story.type("R5 cleaned", "R5 2 not moving")
    story.later(hours=1).type("R5 1 weak")
    assert "clean" not in story.later(hours=22.5).due("R5")
    assert "clean" in story.later(hours=50).due("R5")


def test_seen_again_and_again_it_is_asked_about_not_kept_closed_for_ever(story: Story) -> None:
    """One that does not move for three days is dead, ill or resting: the look says so, and the others are cleaned."""
    begin(story)
    story.type("R5 not moving")
    for _ in range(8):
        story.later(hours=12).type("R5 not moving")
    assert "clean" in story.due("R5")


def test_at_stake_are_those_who_still_eat(story: Story) -> None:
    """15 of 20 wander: five starve where no food is put in."""
    story.type("R2 20 L5 Boloria dia on violet")
    story.later(minutes=1).type("R2 wandering 15")
    story.later(hours=20)
    worth = story.due("R2")["food"]["worth"]
    assert "5 larvae that eat at stake" in str(worth), worth


def test_a_round_in_few_minutes_says_what_may_be_lost_of_those_who_eat(story: Story) -> None:
    """Food at stake for those who eat is told in animals on the page of a short round as well."""
    story.type("R2 20 L5 Boloria dia on violet")
    story.later(hours=12)
    printed = story.shell("round", "--plain", "--minutes", "15").out
    assert re.search(r"R2, .*food.* larva", printed), printed
