"""Eggs found where only larvae or pupae stand are of their brood only if the keeper says so."""

from __future__ import annotations

import pytest

import rounds
from tests.stories.telling import Story

ASKED = "no laying female on record in R1; if the eggs are of a brood there, add"


@pytest.fixture(params=["9 L3", "9 pupae"])
def cup(request: pytest.FixtureRequest, story: Story) -> Story:
    """A cup in which later stages stand, of a brood that came from elsewhere."""
    story.at("2026-06-14 07:30").type(
        "R1 set up rearing", f"R1 {request.param} Zygaena levis on kidney vetch"
    )
    return story.later(minutes=10)


def eggs(story: Story) -> int:
    """How many eggs are on the bench."""
    story.reopen()
    return sum(one.count("egg") for one in story.desk.bench.standing())


@pytest.mark.parametrize("line", ["R1 searched 3", "R1 laid 12", "R1 searched 3 kidney vetch"])
def test_a_search_with_eggs_asks_whose_they_are(cup: Story, line: str) -> None:
    assert cup.refused(line).startswith(ASKED)
    ran = cup.shell("log", line)
    assert ran.status != 0
    assert ASKED in ran.err
    assert eggs(cup) == 0


def test_a_script_is_asked_too(cup: Story) -> None:
    book = rounds.open_book(cup.folder, keeper="KM", clock=cup.clock)
    with pytest.raises(rounds.Refused, match="no laying female on record in R1"):
        book.record("searched", container="R1", found=3)
    assert eggs(cup) == 0


@pytest.mark.parametrize("line", ["R1 7 eggs", "R1 eggs 7", "R1 counted 7 eggs"])
def test_a_bare_number_of_eggs_makes_none(cup: Story, line: str) -> None:
    cup.refused(line)
    assert eggs(cup) == 0


def test_the_brood_that_is_named_gets_them(cup: Story) -> None:
    cup.type("R1 searched 3 brood=ZYG-26-01")
    assert eggs(cup) == 3


def test_none_found_is_said_as_before(cup: Story) -> None:
    cup.type("R1 searched none")
    assert eggs(cup) == 0


async def test_the_question_of_the_stop_asks_it_too(cup: Story) -> None:
    async with cup.screens() as screen:
        screen.highlight("R1")
        await screen.press("e")
        await screen.press("3", "enter")
        assert "no laying female on record in R1" in screen.words, screen.text
    assert eggs(cup) == 0


def test_where_eggs_of_a_brood_lie_more_of_them_are_of_it(story: Story) -> None:
    story.at("2026-06-14 07:30").type("E1 set up eggs", "E1 9 eggs Zygaena levis", "E1 hatched 3")
    story.later(minutes=10).type("E1 searched 2")
    assert eggs(story) == 8
