"""Frass once seen under kept stems stays seen until the young larvae are found, or it is crossed out."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story, shown, tell


def a_female_on_stems(story: Story) -> None:
    """A female laying in K2 from the 1st on, and a cup for the stems."""
    story.at("2027-05-01 08:00")
    tell(
        story,
        """
        K2 set up laying
        K2 founder W3 "Callophrys montana"
        K2 host in Vaccinium 3 sprigs
        B2 set up eggs
        """,
    )


def two_lots_one_with_frass(story: Story) -> None:
    """Two lots of K2 kept in B2; in the morning of the 8th frass is plain under the first."""
    a_female_on_stems(story)
    for day in (2, 3):
        story.at(f"2027-05-0{day} 08:00").type(
            "K2 host out Vaccinium held_in=B2", "K2 host in Vaccinium 4 sprigs"
        )
    story.at("2027-05-08 08:00").type("B2 frass plain lot=1")


async def test_none_in_the_evening_leaves_the_alarm_of_the_morning(story: Story) -> None:
    two_lots_one_with_frass(story)
    story.at("2027-05-08 19:30")
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("frass", "B2")
        await screen.press("space")
    assert story.on_disk()[-1]["level"] == "none"
    assert story.due("B2")["turn"]["standing"] == "late"
    assert "since 08:00" in story.due("B2")["turn"]["arithmetic"], "unfed since the morning"
    assert "frass seen" in await shown(story, "B2")


async def test_the_round_asks_for_the_larvae_before_the_next_look(story: Story) -> None:
    two_lots_one_with_frass(story)
    story.at("2027-05-09 07:30")
    checks = []
    async with story.screens() as screen:
        await screen.press("r")
        for _ in range(40):
            checks += [check for check in screen.checks if check in ("frass", "turn")]
            await (screen.press("minus", "m") if screen.check else screen.press("enter"))
    assert checks[:2] == ["turn", "frass"]


async def test_a_trace_under_a_lot_not_known_does_not_weaken_the_one_that_is(story: Story) -> None:
    two_lots_one_with_frass(story)
    story.later(hours=4).type("B2 frass trace")
    assert "lot 1" in story.due("B2")["turn"]["arithmetic"]
    story.later(hours=4).type("B2 frass none")
    assert "lot 1" in story.due("B2")["turn"]["arithmetic"]


async def test_frass_of_a_lot_not_known_stays_too(story: Story) -> None:
    two_lots_one_with_frass(story)
    story.later(hours=1).type("B2 frass none")
    entry = next(line for line in story.on_disk() if line.get("level") == "plain")
    story.type(f"strike {entry['id']} why=wrong lot", "B2 frass trace")
    story.later(hours=9).type("B2 frass none", "B2 frass none lot=1")
    assert "the lot is not known" in story.due("B2")["turn"]["arithmetic"]
    await find_the_larvae(story)
    assert "turn" not in story.due("B2")


async def find_the_larvae(story: Story) -> None:
    """In a round the young larvae of the lots that showed frass are found."""
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("turn", "B2")
        await screen.press("2", "y")


async def test_it_ends_with_the_larvae_that_are_found(story: Story) -> None:
    two_lots_one_with_frass(story)
    await find_the_larvae(story)
    assert "turn" not in story.due("B2")


def test_it_ends_with_the_larvae_that_are_put_on_record_in_words(story: Story) -> None:
    two_lots_one_with_frass(story)
    story.type("brood W3/A mothers=W3", "B2 stocked 2 L1 W3/A")
    assert "turn" not in story.due("B2")


def test_it_ends_once_it_is_crossed_out(story: Story) -> None:
    two_lots_one_with_frass(story)
    story.later(hours=1).type("B2 frass none")
    entry = next(line for line in story.on_disk() if line.get("level") == "plain")
    story.type(f"strike {entry['id']} why=soil")
    assert "turn" not in story.due("B2")


def test_no_frass_is_looked_for_before_any_egg_can_hatch(story: Story) -> None:
    a_female_on_stems(story)
    story.type("air 16C")
    story.at("2027-05-02 08:00").type("K2 host out Vaccinium held_in=B2")
    story.at("2027-05-05 21:00")
    assert "frass" not in story.due("B2"), (
        "not looked at for three days, but nothing can have hatched yet"
    )
    seen = {}
    for day in range(6, 25):
        story.at(f"2027-05-{day:02d} 21:00")
        due = story.due("B2").get("frass")
        seen[day] = due["standing"] if due else ""
        if due:
            assert "few can hatch before " in due["arithmetic"]
    days = [day for day, standing in seen.items() if standing]
    assert 8 <= days[0] <= 14, (
        "eggs at 16 C take about eleven days: by the assumed need of all families"
    )
    assert days == list(range(days[0], 25))
    assert seen[24] == "red"
    assert story.due("B2")["frass"]["hours_until_harm"] < 0
    story.type("B2 frass none")
    assert "frass" not in story.due("B2")
    assert "frass" in story.later(hours=36).due("B2"), (
        "once they can have hatched it is looked for every day"
    )


async def test_a_frass_look_that_was_made_is_not_called_not_yet(story: Story) -> None:
    two_lots_one_with_frass(story)
    story.at("2027-05-08 19:30")
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("frass", "B2")
        await screen.press("1")
        row = next(
            (line for line in screen.text.splitlines() if "frass" in line and "done" in line), ""
        )
        assert "never" not in row
    assert "it was last recorded 19:30: frass" in str(
        story.shell("due", "--json", "--within", "48h").out
    )


def test_leaf_and_frass_count_from_the_same_first_hatch(story: Story) -> None:
    """Nine eggs cut out of the stems that are kept beside them: what may hatch first is one date, that before which 95 of
    100 such nine have none; one egg's own bound, a day later, was told of the stems."""
    a_female_on_stems(story)
    story.type("air 16C")
    story.at("2027-05-02 08:00")
    story.type("K2 searched 9", "K2 host out Vaccinium held_in=B2", "K2 moved 9 eggs to B2")
    due = story.at("2027-05-06 21:00").due("B2")
    leaf = re.search(r"at the earliest (\d\d):(\d\d)", due["leaf"]["arithmetic"])
    frass = re.search(r"few can hatch before (\d\d):(\d\d)", due["frass"]["arithmetic"])
    assert leaf
    assert frass
    hours = [int(one[1]) + int(one[2]) / 60 for one in (leaf, frass)]
    assert hours[0] == pytest.approx(hours[1], abs=0.5)
