"""Stems are eaten up by those who were there: those who leave, die or are not seen ate of them, and make no hungry cup calm, be there food in it or none."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BEGINS = """
taxon 'Pieris orata' instars=5
brood A-1 taxon='Pieris orata'
R1 set up rearing
R1 stocked 10 L5 A-1
R1 host in cress leaf water sprigs=5
"""


@pytest.mark.parametrize("gone", ["R1 moved 9 larvae to new R4", "R1 died 9 L5", "R1 counted 1"])
def test_a_hungry_cup_stays_hungry_when_its_eaters_go(story: Story, gone: str) -> None:
    story.at("2027-06-10 07:00")
    tell(story, BEGINS)
    story.later(hours=24)
    before = story.due("R1")["food"]
    story.type(gone)
    after = story.due("R1")["food"]
    assert (after["state"], after["due"]) == (before["state"], before["due"])


def test_those_who_left_early_eat_no_more(story: Story) -> None:
    """Nine of ten leave after an hour: five stems last the one that stays for a day at least."""
    story.at("2027-06-10 07:00")
    tell(story, BEGINS)
    story.later(hours=1)
    story.type("R1 moved 9 larvae to new R4")
    story.later(hours=22.8)
    assert "food" not in story.due("R1")


@pytest.mark.parametrize("gone", ["R1 died 9 L5", "R1 moved 9 L5 to new R4", "R1 pupated 9"])
def test_a_danger_that_has_passed_stays_when_the_oldest_are_gone(story: Story, gone: str) -> None:
    """Last instars are in danger 36 h after they were fed, the youngest 48 h: what they were fed
    with the nine had eaten."""
    story.at("2027-06-10 07:00")
    tell(
        story, BEGINS.replace("10 L5 A-1", "9 L5 A-1\nR1 stocked 1 L1 A-1").replace(" sprigs=5", "")
    )
    story.later(hours=37)
    story.type(gone)
    after = story.due("R1")["food"]
    assert after["state"] == "in danger"
    assert "last instar ate of it too" in after["arithmetic"]


def test_a_danger_that_had_not_come_goes_by_those_who_stay(story: Story) -> None:
    story.at("2027-06-10 07:00")
    tell(
        story, BEGINS.replace("10 L5 A-1", "9 L5 A-1\nR1 stocked 1 L1 A-1").replace(" sprigs=5", "")
    )
    story.later(hours=1)
    story.type("R1 moved 9 L5 to new R4")
    story.later(hours=22)
    assert "food" not in story.due("R1")


@pytest.mark.parametrize("gone", ["R1 died 9 L5", "R1 moved 9 L5 to new R4"])
def test_it_stays_though_all_food_was_taken_out_before(story: Story, gone: str) -> None:
    story.at("2027-06-10 07:00")
    tell(
        story, BEGINS.replace("10 L5 A-1", "9 L5 A-1\nR1 stocked 1 L1 A-1").replace(" sprigs=5", "")
    )
    story.later(hours=30).type("R1 host out cress")
    story.later(hours=7)
    before = story.due("R1")["food"]
    assert before["state"] == "in danger"
    story.type(gone)
    story.reopen()
    assert story.due("R1")["food"]["state"] == "in danger"
    story.later(hours=2).type("R1 host in cress")
    assert "food" not in story.due("R1"), "what comes in now was eaten by nobody"
