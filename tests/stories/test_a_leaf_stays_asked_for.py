"""A leaf for young larvae is asked for until one is in or nobody is left to hatch."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def eggs(story: Story) -> Story:
    story.at("2027-05-16 08:00").type("E4 10 eggs Lycaena phlaeas")
    return story


def test_it_does_not_end_by_itself(eggs: Story) -> None:
    for day in ("2027-05-24", "2027-05-25", "2027-05-27", "2027-06-03", "2027-06-18"):
        assert eggs.at(f"{day} 08:00").due("E4")["leaf"]["state"] == "late", day
    assert "hatch late" in eggs.due("E4")


@pytest.mark.parametrize("line", ["E4 host in sorrel", "E4 hatched 10", "E4 died 10 eggs"])
def test_a_leaf_a_hatch_or_the_death_of_all_ends_it(eggs: Story, line: str) -> None:
    eggs.at("2027-05-26 08:00").type(line)
    assert "leaf" not in eggs.due("E4")


def test_some_hatched_it_is_asked_for_the_others(eggs: Story) -> None:
    eggs.at("2027-05-26 08:00").type("E4 died 4 eggs")
    assert "leaf" in eggs.due("E4")


def test_a_leaf_for_those_long_past_is_not_renewed(eggs: Story) -> None:
    eggs.at("2027-05-24 08:00").type("E4 host in sorrel")
    assert "leaf" not in eggs.at("2027-06-10 08:00").due("E4")


async def test_put_off_it_is_asked_for_again_at_the_next_round(eggs: Story) -> None:
    """The first may hatch before the next round: no answer puts the leaf off beyond it."""
    eggs.at("2027-05-23 10:53")
    async with eggs.screens() as screen:
        await screen.press("r")
        await screen.walk_to("leaf", "E4")
        await screen.press("space")
    assert [one["check"] for one in eggs.on_disk() if one["what"] == "put off"] == ["leaf"]
    assert "leaf" not in eggs.due("E4")
    assert "leaf" in eggs.at("2027-05-23 18:40").due("E4")
