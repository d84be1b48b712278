"""The helper's sheet tells what the keeper knows: fresh wings, a suspect, those that hang or wander, where a cup stands."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story
from tests.stories.test_sheet_dangers import sheet_of

HEADER = "code\tholds\tplant\tsince\tplace\n"
BLANK = "____________"


def sheet(
    story: Story, listed: str, *said: str, to: str = "+2d"
) -> tuple[dict[str, tuple[str, list[list[bool]]]], str]:
    """The sheet of a bench brought in as a list and of what was said since, on Friday 11 June 2027 at 17:50."""
    story.at("2027-06-11 17:50")
    ran = story.shell("begin", "--list", "-", typed=HEADER + listed)
    assert ran.status == 0, ran.err
    story.reopen()
    story.type(*said)
    return sheet_of(story, "--to", to)


PUPAE = "P3\t4 pupae Aglais io\t-\t1 Jun 06:00\tsill 2\n"
FIVE = "R3\t5 L5 Aglais io\tnettle\t06:00\tsill 2\n"
FOUR = "R6\t4 L4 Aglais io\tnettle\t06:00\tsill 2\n"


def test_fresh_wings_are_known_and_the_pupae_s_cup_is_opened_softly(story: Story) -> None:
    words = sheet(story, PUPAE, "P3 emerged 2")[0]["P3"][0]
    assert "The 2 with wings are known. More wings out? Do not touch, telephone." in words
    assert "Some may hang from the lid: lift it softly." in words
    assert "Open, fresh wet sugar pad" in words


def test_without_wings_any_are_told(story: Story) -> None:
    words = sheet(story, PUPAE)[0]["P3"][0]
    assert "Wings out? Do not touch, telephone." in words
    assert "known" not in words


def test_moths_that_take_no_food_are_told_so(story: Story) -> None:
    listed = "P4\t4 pupae Saturnia pavonia\t-\t1 Jun 06:00\tsill 2\nK2\t1 female Saturnia pavonia\t-\t10 Jun\tsill 1\n"
    found = sheet(story, listed, 'taxon "Saturnia pavonia" no_adult_food', "P4 emerged 2")[0]
    assert (
        "Do not open. The 2 with wings are known. More wings out? Do not touch, telephone. They take no food"
        in found["P4"][0]
    )
    assert "It takes no food: normal." in found["K2"][0]


def test_a_suspect_cup_says_what_was_seen_and_has_a_blank_for_its_tools(story: Story) -> None:
    found, warned = sheet(story, FOUR, "R6 not moving 1", "R6 suspect -- one limp, smells")
    words = found["R6"][0]
    assert "Known suspect: one limp, smells." in words
    assert "Own tools." in words
    told = story.shell("sheet", "--to", "+2d").out
    assert f"--- Wash your hands. Take only the tools kept for these, from {BLANK}. ---" in told
    assert "1 changes its skin, does not move: normal." in words
    assert "where the tools of R6 lie is not on record: write it on the sheet" in warned


def test_stems_are_for_those_who_still_eat(story: Story) -> None:
    words = sheet(story, FIVE, "R3 wandering 4")[0]["R3"][0]
    assert f"Open, add fresh nettle from {BLANK}: 1 stem." in words
    assert "4 wander, soon hang: normal." in words
    assert "Some may hang from the lid: lift it softly." in words


def test_those_that_hang_do_not_change_their_skin(story: Story) -> None:
    words = sheet(story, FIVE, "R3 hanging up 2", to="+3d")[0]["R3"][0]
    assert "2 hang, become pupae, do not move: normal." in words
    assert "skin" not in words
    assert "2 stems" in words
    assert "Some may hang from the lid: lift it softly." in words


def test_where_some_are_pupae_the_lid_is_lifted_softly(story: Story) -> None:
    words = sheet(story, FIVE, "R3 pupated 2")[0]["R3"][0]
    assert "Some may hang from the lid: lift it softly." in words
    assert "2 stems" in words


def test_cleaning_leaves_a_still_one_where_it_sits(story: Story) -> None:
    assert "brush out frass" in sheet(story, FIVE)[0]["R3"][0]
    told = " ".join(story.shell("sheet", "--to", "+2d").out.split())
    assert "as it changes its skin (leave it where it sits)" in told


def test_a_hot_room_has_the_telephone_and_cups_are_opened_behind_a_shut_door(story: Story) -> None:
    sheet(story, FIVE)
    told = " ".join(story.shell("sheet", "--to", "+2d").out.split())
    assert "curtain shut, door open (shut to open a cup), telephone." in told.replace("[ ] ", "")
    assert "window and door shut first" in told


@pytest.mark.parametrize("place", ["sill 2", ""])
def test_a_cup_without_a_place_has_a_blank_and_the_keeper_hears_of_it(
    story: Story, place: str
) -> None:
    listed = f"R3\t5 L5 Aglais io\tnettle\t06:00\t{place}\n"
    found, warned = sheet(story, listed)
    words = found["R3"][0]
    assert (f"R3 at {BLANK}: 5 caterpillars" in words) == (not place)
    assert ("where R3 stands is not on record: write it on the sheet" in warned) == (not place)


def test_specks_are_no_news_where_caterpillars_feed(story: Story) -> None:
    listed = "K1\t1 female Aglais io\tnettle\t1 Jun 06:00\tsill 1\nE3\t1 egg Aglais io\tnettle\t06:00\tsill 2\n"
    said = ("E3 stocked 5 L1 brood=AGL-27-01", "E3 host out kept", "E3 host in nettle")
    words = sheet(story, listed, *said)[0]["E3"][0]
    assert "kept stems" in words
    assert "Black specks" not in words


def test_eggs_known_to_be_dark_are_told(story: Story) -> None:
    listed = "E3\t12 eggs Aglais io\t-\t6 Jun\tsill 2\n"
    words = sheet(story, listed, "E3 darkening")[0]["E3"][0]
    assert "Some eggs are dark; they hatch soon." in words


async def test_half_by_gives_the_time_of_half(story: Story) -> None:
    sheet(story, "P3\t4 pupae Aglais io\t-\t20 May\tsill 2\n", "room 24 C")
    async with story.screens((120, 40)) as screen:
        await screen.press(".")
        await screen.press("enter")  # what should have happened is folded
        row = next(line for line in screen.text.splitlines() if line.startswith("   P3 emerg"))
        await screen.press("down", "w")
        page = screen.text
    assert "half by 25 May" in page
    assert row.rstrip().endswith("over by Thu 3 Jun"), (
        "till when the last may come: never the time of half"
    )
