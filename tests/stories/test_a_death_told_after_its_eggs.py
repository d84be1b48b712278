"""Eggs are of the females that sat there between two searches, whenever a line about them is typed;
where eggs have their brood already, the check says which line mends just those."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story, tell

TWO = """
M3 set up laying
N4 set up laying
M3 founder W7 "Polyommatus icarus" female
M3 founder W8 "Polyommatus icarus" female
M3 host in "Lotus corniculatus" 3 sprigs
"""


@pytest.fixture
def searched(story: Story) -> Story:
    """Two females in one cup; eggs on the 2nd, none on the 4th, twelve on the 5th."""
    tell(story.at("2027-05-01 08:00"), TWO)
    story.at("2027-05-02 08:00").type("M3 searched 4")
    story.at("2027-05-04 08:00").type("M3 searched 0")
    story.at("2027-05-05 08:00").type("M3 searched 12")
    return story.at("2027-05-06 08:00")


def eggs(story: Story) -> dict[str, int]:
    """The eggs of M3 by their brood."""
    lots = story.desk.bench.containers["M3"].lots_of("egg")
    return {lot.brood: lot.number for lot in lots}


def line_to_mend(story: Story) -> str:
    """The line that the one finding of the check says mends it."""
    checked = story.shell("check")
    assert (checked.status, checked.out.count("disagreement")) == (1, 1), checked.out
    told = re.search(r"as: (.+?) \(line", checked.out)
    assert told, checked.out
    return told[1]


@pytest.mark.parametrize("left", ["M3 W7 died 3 May 08:00", "M3 W7 moved to N4 3 May 08:00"])
def test_one_that_was_gone_by_then_is_said_later(searched: Story, left: str) -> None:
    told = searched.type(left)[0]
    assert "1 line does not fit" in told
    mends = line_to_mend(searched)
    searched.type(mends)
    assert eggs(searched) == {"W7+/A": 4, "W8/A": 12}
    assert searched.desk.bench.broods["W8/A"].mothers == ("W8",)
    assert searched.shell("check").status == 0
    assert searched.type("undo")
    assert eggs(searched) == {"W7+/A": 16}
    searched.type(mends)
    searched.reopen()
    assert eggs(searched) == {"W7+/A": 4, "W8/A": 12}


def test_the_day_on_which_she_was_gone_is_crossed_out(searched: Story) -> None:
    searched.at("2027-05-06 08:00").type("M3 W7 died")
    searched.at("2027-05-07 08:00").type("M3 searched 0")
    searched.at("2027-05-09 08:00").type("M3 searched 6")
    assert searched.desk.bench.broods["W8/A"].mothers == ("W8",)
    died = next(line for line in searched.on_disk() if line["what"] == "died")
    searched.desk.strike(died["id"])
    mends = line_to_mend(searched)
    assert mends == "W8/A is of W7, W8"
    searched.type(mends)
    assert searched.shell("check").status == 0


def test_one_that_had_come_before_is_said_later(searched: Story) -> None:
    searched.type('M3 founder W9 "Polyommatus icarus" female 4 May 09:00')
    searched.type(line_to_mend(searched))
    assert eggs(searched) == {"W7+/A": 4, "W7+/B": 12}
    assert searched.desk.bench.broods["W7+/B"].mothers == ("W7", "W8", "W9")
    assert searched.shell("check").status == 0


def test_a_search_between_is_said_later(story: Story) -> None:
    tell(story.at("2027-05-01 08:00"), TWO)
    story.at("2027-05-02 08:00").type("M3 searched 4")
    story.at("2027-05-03 08:00").type("M3 W7 died")
    story.at("2027-05-05 08:00").type("M3 searched 12")
    assert "W8/A" not in eggs(story)
    told = story.at("2027-05-06 08:00").type("M3 searched 0 4 May 08:00")[0]
    assert "does not fit" in told
    assert line_to_mend(story) == "W7+/B is of W8"  # all of it was found then
    story.type(line_to_mend(story))
    assert story.desk.bench.broods["W7+/B"].mothers == ("W8",)
    assert story.shell("check").status == 0


def test_whose_they_are_as_it_was_named_stays(story: Story) -> None:
    tell(story.at("2027-05-01 08:00"), TWO)
    story.at("2027-05-02 08:00").type("M3 searched 4")
    story.at("2027-05-04 08:00").type("M3 searched 0")
    story.at("2027-05-05 08:00").type("M3 searched 12 brood=W8", "M3 searched 3 brood=W7+/A")
    story.at("2027-05-06 08:00").type("M3 W7 died 3 May 08:00")
    assert story.shell("check").status == 0
    died = story.on_disk()[-1]
    story.desk.strike(died["id"])
    assert story.shell("check").status == 0


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("M3 eggs are of W8 6 May 07:00", "no eggs were found in M3 then"),
        ("M3 eggs are of W8", "as: M3 eggs are of W8 2027-05-05 08:00"),
        ("M3 eggs are of", "of whom? As: M3 eggs are of W7"),
    ],
)
def test_a_time_at_which_none_were_found(searched: Story, line: str, told: str) -> None:
    assert told in searched.refused(line)
