"""What is at stake names no female that is a male, or may be one; no male is taken for a mother."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def cup(story: Story) -> Story:
    """Of three females and two males one was found dead, and nobody knows which."""
    story.type("R7 3 females Boloria dia on violet", "R7 2 males Boloria dia")
    story.later(hours=3).type("R7 died 1 not known which")
    return story


def test_a_lone_male_puts_no_female_at_stake(story: Story) -> None:
    story.type("R8 1 male Boloria dia")
    story.later(hours=30)
    assert "0 females" not in str(story.due("R8"))


def test_no_more_may_be_females_than_came_in(cup: Story) -> None:
    told = str(cup.later(hours=30).due("R7"))
    assert "4 females at stake" not in told
    assert "4 adults" not in told
    assert "3 adults that may be females at stake" in told
    assert "6 eggs to be laid at stake" in told


def test_no_male_is_a_mother(cup: Story) -> None:
    cup.later(hours=30).type("R7 searched 5 on violet")
    begun = next(iter(cup.desk.bench.broods.values()))
    assert begun.mothers == ("BOL-27-01", "BOL-27-02", "BOL-27-03")
    (host,) = cup.desk.bench.at("R7").hosts
    assert not {"BOL-27-04", "BOL-27-05"} & {*host.mothers, *cup.desk.bench.at("R7").stood}


def test_those_left_of_one_sex_are_of_it(cup: Story) -> None:
    for code in ("BOL-27-01", "BOL-27-02", "BOL-27-03"):
        cup.later(hours=1).type(f"R7 {code} released")
    told = cup.desk.bench.at("R7").lots
    assert [(lot.number, lot.sex) for lot in told] == [(1, "male")]


async def test_the_lines_of_danger_give_no_sex_that_nobody_knows(story: Story) -> None:
    story.type("R9 1 female Boloria dia on violet", "R9 1 male Boloria dia")
    story.later(hours=1).type("R9 died 1 not known which")
    async with story.later(hours=30).screens((120, 40)) as screen:
        assert "since it came" in screen.words
        assert "since she came" not in screen.words
