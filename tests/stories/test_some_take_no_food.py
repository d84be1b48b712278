"""Adults that take no food, or feed at night, among others: food is reckoned, asked and taken for those that eat."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

MIXED = """
    taxon "Saturnia montis" no_adult_food
    taxon "Hyles vespera" night_fed
    P4 set up holding
    P4 founder M1 "Saturnia montis" male
    P4 founder M2 "Saturnia montis" male
    P4 founder H4 "Hyles vespera" male
    L2 set up laying
    L2 founder M5 "Saturnia montis" female
    """


async def test_food_is_mixed_for_those_that_drink(story: Story) -> None:
    tell(story, MIXED)
    async with story.screens((110, 40)) as screen:
        await screen.press("k")
        assert "P4 1 x 0.5" in screen.text
        assert "P4 3 x" not in screen.text


def test_the_helper_is_told_how_many_drink(story: Story) -> None:
    tell(story, MIXED)
    sheet = " ".join(story.shell("sheet", "--to", "+2d").out.split())
    assert "1 of the 3 takes food (Hyles vespera), the others none" in sheet


def test_where_all_drink_the_helper_is_told_nothing_more(story: Story) -> None:
    tell(story, "P4 set up holding\nP4 founder H4 'Hyles vespera' male")
    assert "the others none" not in " ".join(story.shell("sheet", "--to", "+2d").out.split())


@pytest.mark.parametrize(
    "line",
    ["L2 drank", "L2 refused", "P4 drank M1", "P4 drank 1 M1", "P4 drank female=M1", "L2 offered"],
)
def test_no_drink_is_taken_for_one_that_takes_none(story: Story, line: str) -> None:
    tell(story, MIXED)
    refused = story.refused(line)
    assert "Saturnia montis" in refused
    assert "no food" in refused
    assert "no_adult_food=no" in refused, "what would be right, if they do"


def test_those_that_drink_drank(story: Story) -> None:
    tell(story, MIXED)
    story.type("P4 drank", "P4 drank H4")
    story.type('taxon "Saturnia montis" no_adult_food=no', "L2 drank")


@pytest.mark.parametrize("purpose", ["holding", "laying"])
def test_moths_of_the_night_are_fed_at_the_last_round_wherever_they_are(
    story: Story, purpose: str
) -> None:
    story.at("2027-05-01 10:30")
    tell(
        story,
        f'taxon "Hyles vespera" night_fed\nP4 set up {purpose}\nP4 founder H4 "Hyles vespera" female',
    )
    assert story.due("P4")["drink"]["standing"] == "ok" if "drink" in story.due("P4") else True
    assert "due" not in {
        row["standing"] for check, row in story.due("P4").items() if check == "drink"
    }
    story.at("2027-05-01 18:30")
    assert story.due("P4")["drink"]["standing"] == "due"
    story.at("2027-05-01 21:30").type("P4 drank")
    story.at("2027-05-02 10:30")
    assert "due" not in {
        row["standing"] for check, row in story.due("P4").items() if check == "drink"
    }
    story.at("2027-05-02 19:30")
    assert story.due("P4")["drink"]["standing"] == "due"


def test_cool_and_dark_they_are_in_danger_no_sooner_than_others(story: Story) -> None:
    story.at("2027-05-01 20:00")
    tell(
        story,
        'taxon "Hyles vespera" night_fed\nP4 set up holding\nP4 founder H4 "Hyles vespera" female\nP4 drank',
    )
    story.later(hours=50)
    assert "in danger" not in next(
        line for line in story.shell("due").out.splitlines() if "drink" in line
    ).replace("in danger from", "")
    assert story.due("P4")["drink"]["standing"] == "red"
