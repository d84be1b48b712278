"""Hunger goes with the larvae: through moves, splits, merges, a moult, and lots that nobody can tell apart."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest

from tests.stories.telling import ZONE, Story, tell

BASE = """
taxon 'Saturnia montis' short=montis instars=5
K4 set up laying
K4 founder W6 'Saturnia montis' sex=female
brood A-3 mothers=W6
"""
UNFED = """
R2 set up hatchlings
R3 set up hatchlings
R2 stocked A-3 20 larvae L1
"""


def food(story: Story, code: str) -> dict[str, Any]:
    """The food check of a container, as the shell lists it; empty where it is not due."""
    return story.due(code).get("food", {})


def begin(story: Story, lines: str) -> None:
    story.at("2027-05-01 07:00")
    tell(story, BASE + lines)


def danger(story: Story, code: str) -> datetime:
    return datetime.fromisoformat(food(story, code)["harm"]).astimezone(ZONE)


@pytest.mark.parametrize(
    "line",
    ["R2 moved 10 to R3", "R2 moved 20 to R3", "R2 split into R3 10", "R3 merged sources=R2"],
)
def test_larvae_that_were_unfed_are_as_hungry_where_they_go(story: Story, line: str) -> None:
    begin(story, UNFED)
    story.at("2027-05-02 02:00").type(line)
    story.at("2027-05-02 06:50")
    assert food(story, "R3")["standing"] in ("late", "red")
    assert danger(story, "R3") == datetime(2027, 5, 2, 7, 0, tzinfo=ZONE)


def test_they_are_as_hungry_after_two_moves_a_moult_and_when_nobody_knows_which(
    story: Story,
) -> None:
    begin(story, UNFED + "R5 set up rearing\nbrood B-3 mothers=W6\nR2 stocked B-3 5 larvae L1")
    story.at("2027-05-01 12:00").type("R2 moved 4 to R3 not known")
    story.at("2027-05-01 16:00").type("R3 moulted 4 to L2 not known")
    story.at("2027-05-01 20:00").type("R3 moved 4 larvae to R5 not known")
    assert danger(story, "R5") == datetime(2027, 5, 2, 7, 0, tzinfo=ZONE)


def test_those_that_stood_with_food_are_hungry_from_when_they_left_it(story: Story) -> None:
    begin(story, UNFED + "R2 host in 'Frangula alnus' sprigs=3")
    story.at("2027-05-01 20:00").type("R2 moved 10 to R3")
    story.at("2027-05-02 06:50")
    assert danger(story, "R3") == datetime(2027, 5, 2, 20, 0, tzinfo=ZONE)


def test_those_that_ate_all_are_hungry_from_when_that_was_seen(story: Story) -> None:
    begin(story, UNFED + "R2 host in 'Frangula alnus' sprigs=3")
    story.at("2027-05-01 18:00").type("R2 host seen eaten")
    story.at("2027-05-02 02:00").type("R2 moved 10 to R3")
    story.at("2027-05-02 07:00")
    assert danger(story, "R3") == datetime(2027, 5, 2, 18, 0, tzinfo=ZONE)


def test_food_where_they_go_ends_their_hunger_until_it_is_taken_away(story: Story) -> None:
    begin(story, UNFED + "R3 host in 'Frangula alnus' sprigs=3")
    story.at("2027-05-02 02:00").type("R2 moved 10 to R3")
    story.at("2027-05-02 06:50")
    assert food(story, "R3").get("standing", "") not in ("late", "red")
    story.at("2027-05-02 08:00").type("R3 host out binned sure")
    story.at("2027-05-02 15:00")
    # a day after it was taken away, or two since they were seen with food enough: whichever is sooner
    assert danger(story, "R3") == datetime(2027, 5, 3, 7, 0, tzinfo=ZONE)


def test_hungry_ones_that_join_others_are_asked_for_by_the_hungriest(story: Story) -> None:
    begin(story, UNFED)
    story.at("2027-05-02 01:00").type("R3 stocked A-3 5 larvae L2")
    story.at("2027-05-02 02:00").type("R2 moved 10 to R3")
    story.at("2027-05-02 06:50")
    assert danger(story, "R3") == datetime(2027, 5, 2, 7, 0, tzinfo=ZONE)


def test_missing_ones_that_turn_up_were_hungry_all_the_while(story: Story) -> None:
    begin(story, UNFED)
    story.type("R2 moved 10 to R3 arrived=8")
    story.at("2027-05-02 02:00").type("R2 settled found 2")
    story.at("2027-05-02 06:50")
    assert danger(story, "R2") == datetime(2027, 5, 2, 7, 0, tzinfo=ZONE)


def test_winter_without_food_is_no_hunger(story: Story) -> None:
    begin(story, "R2 set up overwintering\nR3 set up rearing\nR2 stocked A-3 20 larvae L3")
    story.at("2027-06-01 07:00").type("R2 moved 10 to R3")
    story.later(hours=1)
    assert danger(story, "R3") == datetime(2027, 6, 2, 7, 0, tzinfo=ZONE)


def test_discarded_kept_stems_feed_nobody(story: Story) -> None:
    begin(
        story,
        "K4 host in 'Frangula alnus' sprigs=3\nR2 set up hatchlings\nR2 stocked A-3 20 larvae L1",
    )
    story.at("2027-05-01 08:00").type("K4 host out held held_in=R2")
    story.at("2027-05-01 20:00").type("R2 host out binned sure")
    story.at("2027-05-02 06:50")
    assert danger(story, "R2") == datetime(2027, 5, 2, 7, 0, tzinfo=ZONE)
