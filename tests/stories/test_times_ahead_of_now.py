"""A clock time a little ahead of now is asked about: it never becomes yesterday without a word."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


def test_a_quarter_of_an_hour_ahead_is_not_yesterday(story: Story) -> None:
    story.at("2027-06-10 18:22").type(
        "L3 set up laying", 'L3 founder W4 "Polyommatus icarus"', "L3 host in Lotus leaf"
    )
    story.at("2027-06-11 18:30").type('L3 founder W5 "Polyommatus icarus"')
    story.at("2027-06-11 18:31")
    line = story.refused("L3 searched 9 eye 18:45")
    assert "18:45 is ahead of now (18:31)" in line
    assert "yesterday 18:45" in line
    assert "20:15 is ahead of now" in story.refused("L3 died 1 brood=W4 20:15")
    assert "mothers W4, " in f"{story.type('L3 searched 9 eye yesterday 18:45')[0]}, ", (
        "W5 had not come yet"
    )
    assert story.desk.bench.broods["W4/A"].mothers == ("W4",)


def test_the_evening_before_is_said_in_the_morning(story: Story) -> None:
    story.at("2027-06-10 18:22").type("L3 set up laying", 'L3 founder W4 "Polyommatus icarus"')
    story.at("2027-06-11 07:05").type("L3 drank 21:30")
    assert story.on_disk()[-1]["at"].startswith("2027-06-10T21:30")


def test_those_who_were_there_at_the_time_may_have_laid(story: Story) -> None:
    """A find that is put on record late is of those who sat there then: not of one who came since, also of one who left since."""
    story.at("2027-06-08 08:00").type(
        "L3 set up laying", 'L3 founder W4 "Polyommatus icarus"', "L3 host in Lotus leaf"
    )
    story.at("2027-06-10 08:00").type("L3 W4 died", 'L3 founder W5 "Polyommatus icarus"')
    story.at("2027-06-11 08:00").type("L3 searched 9 2027-06-09 08:00")
    assert [one.mothers for one in story.desk.bench.broods.values()] == [("W4",)]


@pytest.mark.parametrize(
    "when", ["9 Jun 09:00", "Wed 9 Jun 09:00", "9 June 09:00", "wed 09:00", "2027-06-09 09:00"]
)
def test_a_date_as_the_program_tells_it(story: Story, when: str) -> None:
    story.at("2027-06-01 08:00").type(
        "E1 set up eggs", 'brood A1 taxon="Polyommatus icarus"', "E1 stocked 20 eggs A1"
    )
    story.at("2027-06-10 08:00").type(f"E1 10 hatched {when}")
    assert story.on_disk()[-1]["at"].startswith("2027-06-09T09:00")
    assert story.on_disk()[-1]["number"] == 10
