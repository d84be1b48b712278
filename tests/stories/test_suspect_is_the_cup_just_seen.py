"""``x`` after mould at the last check of a stop marks the cup at which it was seen, not the next one."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def two_cups(story: Story) -> Story:
    """Two cups of pupae of which only a look is asked."""
    story.at("2027-05-01 07:00")
    tell(
        story,
        """
        brood A1 taxon="Boloria lapidata"
        P1 set up pupation
        P2 set up pupation
        P1 stocked 4 pupae brood=A1
        P2 stocked 4 pupae brood=A1
        room 20
        """,
    )
    story.at("2027-05-02 06:30")
    tell(story, "P1 misted\nP2 misted")
    return story.at("2027-05-02 07:05")


def suspects(story: Story) -> list[str]:
    return [one.code for one in story.desk.bench.standing() if one.suspect_since is not None]


async def test_mould_and_x_are_of_one_cup(two_cups: Story) -> None:
    async with two_cups.screens() as screen:
        await screen.press("r")
        await screen.walk_to("look", "P1")
        await screen.press("g")
        assert "P2" in screen.text
        assert "suspect now means P1, where mould was seen just now" in screen.text
        await screen.press("x")
        assert suspects(two_cups) == ["P1"]
        assert "suspect now means" not in screen.text
        await screen.walk_to("look", "P2")
        await screen.press("x")
    assert suspects(two_cups) == ["P1", "P2"]


async def test_once_something_else_was_answered_x_is_of_the_cup_in_front(two_cups: Story) -> None:
    two_cups.type("P3 set up pupation", "P3 stocked 2 pupae brood=A1")
    two_cups.at("2027-05-03 07:05")
    async with two_cups.screens() as screen:
        await screen.press("r")
        await screen.walk_to("look", "P1")
        await screen.press("g")
        await screen.walk_to("look", "P2")
        await screen.press("space")
        await screen.walk_to("look", "P3")
        await screen.press("x")
    assert suspects(two_cups) == ["P3"]


async def test_a_cup_looked_at_on_purpose_is_meant(two_cups: Story) -> None:
    async with two_cups.screens() as screen:
        await screen.press("r")
        await screen.walk_to("look", "P1")
        await screen.press("g", "left", "right")
        assert "suspect now means" not in screen.text
        await screen.press("x")
    assert suspects(two_cups) == ["P2"]


def test_the_round_on_lines_says_the_same(two_cups: Story) -> None:
    printed = "\n".join(two_cups.plain(["- later", "g", "x"]))
    assert "suspect now means P1" in printed
    assert suspects(two_cups) == ["P1"]
