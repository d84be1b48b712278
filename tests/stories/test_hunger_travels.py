"""Hunger goes with the females: through moving, splitting, merging, not known which, missing and found again."""

from __future__ import annotations

import json

import pytest

from tests.stories.telling import Story, tell
from tests.stories.telling import shown as pane

FOUR = """
K2 set up laying
K2 founder W2 "Callophrys montana"
K2 founder W3 "Callophrys montana"
K2 founder W4 "Callophrys montana"
K2 founder W5 "Callophrys montana"
K3 set up laying
"""
ONE = """
H2 set up holding
C2 set up laying
H2 founder W2 "Callophrys montana"
"""


def drinking(story: Story, code: str) -> tuple[str, str]:
    """How pressing the drink of a container is, and its arithmetic, which says since when it counts."""
    rows = json.loads(story.shell("due", "--json", "--within", "24h").out)["due"]
    row = next(row for row in rows if (row["where"], row["check"]) == (code, "drink"))
    return row["standing"], row["arithmetic"]


def test_a_female_moved_daily_is_late_all_the_same(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, ONE)
    story.type("H2 drank")
    story.at("2027-05-01 19:50").type("H2 moved to C2 1")
    story.at("2027-05-01 20:05")
    state, since = drinking(story, "C2")
    assert (state, since[:11]) == ("due", "since 08:00"), (
        "she drank at eight, wherever she stands now"
    )
    story.at("2027-05-02 07:00").type("C2 moved to H2 1")
    story.at("2027-05-02 19:00").type("H2 moved to C2 1")
    assert drinking(story, "C2")[0] == "red", "35 hours without a drink"


def test_the_new_cup_says_when_she_drank(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, ONE)
    story.type("H2 drank")
    story.at("2027-05-01 20:00").type("H2 moved to C2 1")
    assert "1 of 1 drank 12 h 00 min ago" in story.due("C2")["drink"]["last"]


def test_never_drunk_since_her_capture_goes_with_her(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, ONE)
    story.at("2027-05-01 22:30").type("H2 moved to C2 1")
    state, since = drinking(story, "C2")
    assert (state, since[:11]) == ("late", "since 08:00")


def test_two_fed_and_two_that_are_not_in_one_cup(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, FOUR)
    story.type("K2 moved to K3 1 brood=W4", "K2 moved to K3 1 brood=W5", "K2 drank")
    story.at("2027-05-01 19:00").type("K2 merged sources=K3")
    assert "2 of 4 drank 12 h 00 min ago, 2 not yet" in story.due("K2")["drink"]["last"]
    assert "drink" in story.due("K2")


@pytest.mark.parametrize(
    "line",
    [
        "K2 moved to K3 1 brood=W3",
        "K2 split into K3,K4 1,0 brood=W3",
        "K2 moved to K3 1 not known",
        "K3 merged sources=K2",
    ],
)
def test_however_she_goes_her_hunger_goes_with_her(story: Story, line: str) -> None:
    story.at("2027-05-01 07:00")
    tell(story, FOUR)
    story.type("K4 set up laying", "K2 drank")
    story.at("2027-05-01 23:00").type(line)
    assert drinking(story, "K3")[1][:11] == "since 07:00"


def test_one_of_sisters_moved_when_two_of_three_drank_may_be_the_one_that_did_not(
    story: Story,
) -> None:
    story.at("2027-05-01 07:00")
    tell(
        story,
        """
        P2 set up pairing
        P3 set up laying
        brood WIL-27-02/A taxon="Callophrys montana"
        P2 stocked 3 adults WIL-27-02/A female
        P2 drank
        """,
    )
    story.at("2027-05-01 18:00").type("P2 drank 2", "P2 moved to P3 1 adult")
    assert drinking(story, "P3")[1][:11] == "since 07:00"
    assert drinking(story, "P2")[1][:11] == "since 07:00"


def test_one_missing_and_found_again_is_as_hungry_as_before(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, ONE)
    story.type("H2 moved to C2 1", "C2 drank")
    story.at("2027-05-01 17:00").type("C2 missing 1")
    story.at("2027-05-01 21:30").type("C2 settled found 1")
    assert drinking(story, "C2")[0] == "late"
    assert drinking(story, "C2")[1][:11] == "since 07:00"


async def test_the_same_one_twice_is_one(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, FOUR)
    story.type("K2 drank W2", "K2 drank W3", "K2 drank W2")
    assert "2 of 4" in await pane(story, "K2")
    story.type("K2 drank W4")
    assert "3 of 4" in await pane(story, "K2")
    story.later(hours=1).type("K2 drank W5")
    story.later(hours=9)
    assert "drink" not in story.due("K2"), "all have drunk"


def test_a_named_one_that_drank_takes_it_along(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, FOUR)
    story.later(minutes=30).type("K2 drank W3", "K2 moved to K3 1 brood=W3")
    assert "drink" not in story.due("K3")
    assert drinking(story, "K2")[0] == "due"


async def test_the_round_asks_again_for_one_that_came_hungry(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, ONE)
    story.type('C2 founder W3 "Callophrys montana"')
    story.at("2027-05-01 19:00")
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("drink", "C2")
        await screen.press("d")
        await screen.type("H2 moved to C2 1")
        await screen.walk_to("drink", "C2")


def test_males_among_themselves_are_fed_too(story: Story) -> None:
    tell(
        story,
        """
        P2 set up pairing
        brood WIL-27-02/A taxon="Callophrys montana"
        P2 stocked 2 adults WIL-27-02/A male
        """,
    )
    story.later(hours=13)
    assert "drink" in story.due("P2")
    story.type("P2 drank")
    assert "drink" not in story.due("P2")


async def test_in_the_evening_it_is_said_how_many_drank_in_the_morning(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, FOUR)
    story.type("K2 drank 3")
    story.at("2027-05-01 18:30")
    assert "3 of 4 drank, not known which, the others not yet" in story.due("K2")["drink"]["last"]
    async with story.screens(size=(110, 40)) as screen:
        assert "3 of 4 drank 11 h" in screen.words
        await screen.press("r")
        await screen.walk_to("drink", "K2")
        assert "3 of 4 drank, not known which" in screen.words
        assert "0 of 4" not in screen.words
    story.type("K2 drank")
    assert "of 4" not in story.at("2027-05-02 07:00").due("K2")["drink"]["last"]
