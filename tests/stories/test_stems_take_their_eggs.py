"""Stems that leave a cup with eggs on record: it is said that the eggs stay on record there, and what moves them."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

SIXTY = "60 eggs stay on record in K2; if they are on these stems, type: K2 moved 60 eggs to E2"


@pytest.fixture
def laid(story: Story) -> Story:
    """A female laid sixty eggs, which were left on the stems."""
    story.at("2027-05-01 08:00")
    tell(
        story,
        """
        K2 set up laying
        K2 founder W2 "Melitaea cinxia" female
        E2 set up eggs
        K2 host in "Plantago lanceolata" 3 sprigs
        """,
    )
    story.later(hours=24).type("K2 searched 60")
    return story.later(hours=1)


async def test_the_round_says_that_the_eggs_stay_on_record(laid: Story) -> None:
    async with laid.screens() as screen:
        screen.highlight("K2")
        await screen.press("h", "c")
        assert laid.desk.bench.containers["E2"].held
        assert SIXTY in " ".join(screen.message.split())
        assert SIXTY in " ".join(screen.text.split()), "the whole message fits a small screen"


@pytest.mark.parametrize("line", ["K2 host out A held_in=E2", "K2 host out A 1 sprig held_in=E2"])
def test_a_line_says_that_the_eggs_stay_on_record(laid: Story, line: str) -> None:
    assert SIXTY in laid.preview(line)
    assert SIXTY in laid.type(line)[0]
    laid.type("K2 moved 60 eggs to E2")
    assert "stay on record" not in laid.preview('K2 host in "Plantago lanceolata" 3 sprigs')


def test_stems_kept_in_the_cup_first_and_moved_later(laid: Story) -> None:
    assert "stay on record" not in laid.type("K2 host out A")[0]
    laid.later(hours=5)
    assert SIXTY in laid.type("K2 kept stems to E2")[0]


def test_no_word_of_eggs_where_none_are_on_record(laid: Story) -> None:
    laid.type("K2 moved 60 eggs to E2")
    assert "eggs" not in laid.type("K2 host out A held_in=E2")[0]


def test_stems_discarded_leave_the_eggs_on_record(laid: Story) -> None:
    assert "60 eggs stay on record in K2" in laid.type("K2 host out A binned sure")[0]
