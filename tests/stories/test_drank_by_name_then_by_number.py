"""One that is named drank, then a number is typed: whether she is among them is asked, for else the
one that did not drink would count as fed."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def cup(story: Story) -> Story:
    """Three females, of which W7 drank this morning."""
    tell(
        story,
        """
        M3 set up laying
        M3 founder W7 "Polyommatus icarus" female
        M3 founder W8 "Polyommatus icarus" female
        M3 founder W9 "Polyommatus icarus" female
        """,
    )
    story.later(days=1).type("M3 W7 drank")
    return story.later(minutes=5)


def hungry(story: Story) -> set[str]:
    """Who has not drunk since she came in."""
    lots = story.desk.bench.containers["M3"].lots
    return {lot.brood for lot in lots if not all(one.drank for one in lot.hunger)}


@pytest.mark.parametrize("line", ["M3 drank 2", "M3 drank 2 of 3", "M3 drank 1", "M3 fed 2"])
def test_it_is_asked(cup: Story, line: str) -> None:
    told = cup.refused(line)
    assert "W7 drank already at 07:05; is she among them?" in told
    assert "M3 W8 drank" in told
    assert hungry(cup) == {"W8", "W9"}


def test_others_are_more(cup: Story) -> None:
    cup.type("M3 drank 2 more")
    assert not hungry(cup)


def test_the_one_that_drank_beside_her_is_named(cup: Story) -> None:
    cup.type("M3 W8 drank")
    assert hungry(cup) == {"W9"}


@pytest.mark.parametrize("line", ["M3 drank", "M3 drank 3", "M3 drank all"])
def test_all_of_them_are_not_asked_about(cup: Story, line: str) -> None:
    cup.type(line)
    assert not hungry(cup)


def test_of_a_later_feed_nothing_is_asked(cup: Story) -> None:
    cup.later(hours=11).type("M3 drank 1")


def test_of_those_that_have_no_names_nothing_is_asked(story: Story) -> None:
    story.type("P2 set up holding", "P2 5 adults Melitaea athalia")
    story.later(hours=26).type("P2 drank 2")
    story.later(minutes=1).type("P2 drank 2")
