"""How a winter rest ends, in a keeper's words, and what a line says that has less to say."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.mark.parametrize(
    "words",
    [
        "out of diapause",
        "diapause ended",
        "rest ended",
        "winter rest over",
        "taken in",
        "no longer in diapause",
    ],
)
def test_what_wakes_needs_another_cup(story: Story, words: str) -> None:
    tell(story, "W7 set up pupation shelf=loft\nW7 20 pupae Melitaea athalia\nW7 in diapause")
    story.later(days=90).type(f"W7 {words}")
    assert story.desk.bench.containers["W7"].purpose == "emergence"


def test_what_did_not_rest_is_only_carried(story: Story) -> None:
    tell(story, "W7 set up pupation\nW7 20 pupae Melitaea athalia")
    assert "not kept for winter" in story.refused("W7 taken in")
    assert story.desk.bench.containers["W7"].purpose == "pupation"


def test_the_guide_says_how_a_rest_ends(story: Story) -> None:
    assert "out of diapause" in story.shell("help", "species").out


def test_no_place_on_a_shelf_is_told_that_nobody_said(story: Story) -> None:
    assert story.type("W7 set up pupation shelf=loft") == ["W7 set up for pupation, shelf loft"]
    (told,) = story.type("W8 set up pupation shelf=loft place=2")
    assert told.endswith("shelf loft place 2")


def test_a_book_begins_with_the_first_line_that_is_recorded(story: Story) -> None:
    assert "new book" not in story.shell("log", "K3", "nonsense").err
    story.reopen()
    assert "new book" not in story.shell("log", "-", typed="K3 nonsense\n").err
