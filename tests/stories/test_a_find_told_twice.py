"""A find of eggs that is typed a second time within the hour is asked about, for else it would count twice."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def found(story: Story) -> Story:
    """A female whose 120 eggs on a twig are on record since eight o'clock."""
    tell(
        story,
        """
        L4 set up laying
        L4 founder W1 Aglia tau female
        L4 host in "Prunus spinosa"
        """,
    )
    story.at("2027-05-01 08:00").type("L4 120 eggs on twig")
    return story.later(seconds=20)


@pytest.mark.parametrize(
    "line", ["L4 searched 120 on Prunus spinosa", "L4 120 eggs", "L4 searched 120 -- bark"]
)
def test_the_same_again_is_asked_about(found: Story, line: str) -> None:
    assert "L4 searched 120 on Sat 01 May 08:00 already" in found.refused(line)


@pytest.mark.parametrize(
    "line", ["L4 searched 120 more", "L4 120 more eggs", "L4 searched 121", "L4 searched 0"]
)
def test_others_are_taken(found: Story, line: str) -> None:
    found.type(line)


def test_the_next_search_may_find_as_many(found: Story) -> None:
    found.later(hours=1).type("L4 searched 120")
