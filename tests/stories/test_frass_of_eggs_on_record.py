"""Frass in a cup of eggs says that some have hatched: how many is asked."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def eggs(story: Story) -> Story:
    """Twelve eggs in a cup of their own, and the female in another."""
    story.type("K2 1 female Boloria dia on violet", "K2 searched 12", "K2 moved 12 eggs to new E2")
    return story.later(days=7)


@pytest.mark.parametrize(
    "line", ["E2 frass", "E2 frass of eggs on record", "frass from eggs on record"]
)
def test_how_many_hatched_is_asked(eggs: Story, line: str) -> None:
    assert "E2 hatched 1" in eggs.refused(line)


@pytest.mark.parametrize("line", ["E2 frass plain", "E2 some frass", "E2 frass seen"])
def test_it_is_told_beside_a_look_that_says_how_much(eggs: Story, line: str) -> None:
    assert "12 eggs on record; if some of these hatched: E2 hatched 1" in eggs.preview(line)
    eggs.type(line, "E2 hatched 1")
    assert "eggs on record" not in eggs.preview("E2 frass plain")


def test_no_more_are_named_than_are_there(eggs: Story) -> None:
    eggs.type("E2 died 4 eggs")
    assert eggs.refused("E2 hatching") == "how many are through by now? As: E2 hatched 8"


def test_under_which_stems_is_asked_where_some_are_kept(eggs: Story) -> None:
    eggs.type("K2 host changed violet")
    assert "K2 frass trace lot=1" in eggs.refused("K2 frass")
