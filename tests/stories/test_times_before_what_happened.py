"""A time may stand before what happened, or be said as a span that is past; a date as it stands in a letter or on a permit."""

from __future__ import annotations

from datetime import datetime

import pytest

from tests.stories.telling import Story, tell

CUP = """
K2 set up laying
K2 founder W4 'Pieris orata' female place='Sorrel bluff'
K2 founder W5 'Pieris orata' female
"""


@pytest.fixture
def cup(story: Story) -> Story:
    """Two females in a cup since the day before, at 10:05."""
    tell(story.at("2027-05-01 07:05"), CUP)
    return story.at("2027-05-02 10:05")


def when(story: Story) -> datetime:
    """When what the last line says happened."""
    return datetime.fromisoformat(story.on_disk()[-1]["at"])


@pytest.mark.parametrize(
    "line",
    [
        "W4 at 7:20 drank",
        "at 7:20 W4 drank",
        "7:20 W4 drank",
        "7:20: W4 drank",
        "W4 7:20 drank",
        "today 7:20 W4 drank",
        "Sun 7:20 W4 drank",
        "2027-05-02 7:20 W4 drank",
        "on 2 May 7:20 W4 drank",
        "-2h45m W4 drank",
        "W4 -165m drank",
        "165 min ago W4 drank",
        "W4 drank 2.75 hours ago",
    ],
)
def test_the_time_stands_before_what_happened(cup: Story, line: str) -> None:
    cup.type(line)
    assert when(cup) == datetime.fromisoformat("2027-05-02T07:20+02:00")
    assert cup.on_disk()[-1]["what"] == "drank"


@pytest.mark.parametrize(
    "line", ["half an hour ago K2 drank", "K2 drank half an hour ago", "K2 drank 30 mins ago"]
)
def test_a_span_that_is_past_is_said_in_words(cup: Story, line: str) -> None:
    cup.type(line)
    assert when(cup) == datetime.fromisoformat("2027-05-02T09:35+02:00")


def test_a_span_of_many_digits_is_read_as_it_was_typed(cup: Story) -> None:
    assert "is too far away; give a date" in cup.refused("K2 drank 999999999999999 min ago")
    assert "times go from 1900" in cup.refused("K2 drank 99999999 min ago")


def test_what_is_meant_as_a_time_never_becomes_the_place_of_a_catch(cup: Story) -> None:
    assert "as 7:20" in cup.refused("W4 at 7 drank")
    cup.type("W4 at 7.20 drank")
    assert when(cup) == datetime.fromisoformat("2027-05-02T07:20+02:00")
    cup.type("W4 at 7 Mill Lane")
    assert "7 Mill Lane" in [one.get("place") for one in cup.on_disk()]


def test_two_times_are_one_too_many(cup: Story) -> None:
    assert "two times" in cup.refused("7:20 W4 drank 7:40")


async def test_at_the_prompt_that_begins_with_a_code(cup: Story) -> None:
    async with cup.screens() as screen:
        screen.highlight("K2")
        await screen.press("t")
        await screen.pilot.press(
            *("space" if letter == " " else letter for letter in "7:20 W4 drank"), "enter"
        )
        assert "drank" in screen.message
    assert when(cup) == datetime.fromisoformat("2027-05-02T07:20+02:00")


@pytest.mark.parametrize(
    "line",
    [
        "permit P2 expires 20 May",
        "permit P2 expires 20th May",
        "permit P2 expires=20 May females=4",
        "permit P2 expires 20 May 2027",
        "permit P2 expires May 20, 2027",
        "permit P2 expires 20.5.2027",
        "permit P2 expires 20.05.27",
        "permit P2 expires 20/5/27",
        "permit P2 expires 2027/05/20",
        "permit P2 expires=20.5.2027",
        "permit P2 until 20 May",
        "permit P2 valid until 2027-05-20",
    ],
)
def test_a_permit_expires_on_the_day_of_its_paper(cup: Story, line: str) -> None:
    cup.type(line)
    permit = cup.on_disk()[-1]
    assert permit["number"] == "P2"
    assert permit["expires"].startswith("2027-05-20")


def test_a_day_without_a_year_that_is_over_is_next_years(cup: Story) -> None:
    cup.type("permit P2 expires=1 Feb")
    assert cup.on_disk()[-1]["expires"].startswith("2028-02-01")


def test_of_a_day_just_over_the_year_is_asked(cup: Story) -> None:
    """A permit that ran out a month ago must not count for another year unasked."""
    assert "as 1 Apr 2027 or 1 Apr 2028" in cup.refused("permit P2 expires=1 Apr")


def test_of_two_figures_that_may_each_be_the_month_it_is_asked_which(cup: Story) -> None:
    said = cup.refused("permit P2 expires 5/6/27")
    assert "5 Jun or 6 May" in said
    assert "20 May 2027" in said
    cup.type("permit P2 expires 5.6.27")
    assert cup.on_disk()[-1]["expires"].startswith("2027-06-05")


def test_what_is_no_date_never_goes_into_the_number(cup: Story) -> None:
    assert "is not a time" in cup.refused("permit P2 expires spring")
    assert "is not a time" in cup.refused("permit P2 expires 31.2.2027")
