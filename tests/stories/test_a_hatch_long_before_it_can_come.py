"""A hatch long before any can come is asked about once; a slip of the finger is likelier."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def eggs(story: Story) -> Story:
    """Eleven eggs found a day after the female came, at 20 C."""
    story.at("2027-06-01 18:30")
    tell(
        story,
        """
        L1 set up laying
        L1 founder W2 "Boloria lapidata" female
        L1 host in "Viola canina"
        room 20
        """,
    )
    story.at("2027-06-02 18:30").type("L1 searched 11")
    return story.at("2027-06-03 07:30")


def stock(story: Story) -> dict[str, int]:
    return {stage: story.desk.bench.containers["L1"].count(stage) for stage in ("egg", "larva")}  # type: ignore[arg-type]


def test_eggs_that_hatch_the_day_after_laying_are_asked_about(eggs: Story) -> None:
    asked = eggs.refused("L1 hatched 5")
    assert (
        "37 h after they began, and the first hatch of these eggs is not expected before" in asked
    )
    assert asked.endswith("add 'sure'")
    eggs.type("L1 hatched 5 sure")
    assert stock(eggs) == {"egg": 6, "larva": 5}


async def test_by_key_it_is_one_key_more(eggs: Story) -> None:
    async with eggs.screens((120, 40)) as screen:
        screen.highlight("L1")
        await screen.press("l", "5", "y")
        assert "Sure?" in screen.words
        assert "1 seen so" in screen.words
        await screen.press("y")  # the same key again confirms nothing
        assert stock(eggs) == {"egg": 11, "larva": 0}
        await screen.press("1")
    assert stock(eggs) == {"egg": 6, "larva": 5}


async def test_leaving_the_question_records_nothing(eggs: Story) -> None:
    async with eggs.screens((120, 40)) as screen:
        screen.highlight("L1")
        await screen.press("l", "5", "y", "escape")
    assert stock(eggs) == {"egg": 11, "larva": 0}


def test_the_same_hatch_days_later_is_taken(eggs: Story) -> None:
    eggs.at("2027-06-07 07:30").type("L1 hatched 5")
    assert stock(eggs) == {"egg": 6, "larva": 5}


def test_what_came_in_begun_is_not_asked_about(story: Story) -> None:
    tell(
        story,
        'R1 set up rearing\nbrood A1 taxon="Boloria lapidata"\nR1 stocked 10 eggs brood=A1\nroom 20',
    )
    story.later(hours=1).type("R1 hatched 4")


def test_a_line_about_earlier_is_held_against_that_time(eggs: Story) -> None:
    eggs.at("2027-06-09 07:30")
    assert "sure" in eggs.refused("L1 hatched 5 2027-06-03 07:30")
    eggs.type("L1 hatched 5 2027-06-07 07:30")


@pytest.fixture
def hatchlings(eggs: Story) -> Story:
    """Eggs of which five hatched, the larvae a day old."""
    eggs.at("2027-06-14 08:00").type("L1 moved all eggs to new E4", "E4 hatched 5")
    return eggs.at("2027-06-15 08:00")


def signs(story: Story) -> list[str]:
    return [line["sign"] for line in story.on_disk() if line["what"] == "looked"]


async def test_young_larvae_hang_up_only_where_that_is_sure(hatchlings: Story) -> None:
    async with hatchlings.screens((120, 40)) as screen:
        screen.highlight("E4")
        await screen.press("l", "5", "h")
        assert "Sure?" in screen.words
        await screen.press("escape")
    assert signs(hatchlings) == []
    for sign in ("hanging", "wandering"):
        assert "is not expected before" in hatchlings.refused(f"E4 3 {sign}")
    hatchlings.type("E4 3 wandering sure")
    assert signs(hatchlings) == ["wandering"]


def test_no_more_show_a_sign_than_are_there(hatchlings: Story) -> None:
    told = hatchlings.refused("E4 10 not moving")
    assert told == (
        "10 not moving, but E4 holds 5 larvae on record; give 5 or fewer, or count first"
    )
    hatchlings.type("E4 5 not moving")


def test_old_larvae_hang_up_whatever_their_moults_on_record(hatchlings: Story) -> None:
    hatchlings.at("2027-07-05 08:00").type("E4 4 hanging")
    assert signs(hatchlings) == ["hanging"]
