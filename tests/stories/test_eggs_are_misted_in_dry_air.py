"""Eggs, kept stems and pupae are misted the oftener the drier the air was read to be."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
brood B1 taxon='Boloria dia'
E3 set up eggs
E3 stocked 20 eggs B1
K2 set up laying
K2 founder W2 'Boloria dia' female
K2 host in violet leaf water
S2 set up eggs
K2 host out held_in=S2
"""


def test_in_dry_air_eggs_and_kept_stems_are_misted_every_day(story: Story) -> None:
    tell(story, BENCH)
    story.type("air 25 humidity=42")
    story.later(hours=23)
    assert "mist" not in story.due("E3")
    story.later(hours=2)
    assert "mist" in story.due("E3")
    assert "mist" in story.due("S2")
    story.type("E3 misted")
    assert "mist" not in story.due("E3")


def test_in_damp_air_or_where_nobody_read_it_they_are_misted_half_as_often(story: Story) -> None:
    tell(story, BENCH)
    story.later(hours=60)
    assert "mist" not in story.due("E3")
    story.type("air 24 humidity=42", "air 20 humidity=74")
    assert "mist" not in story.due("E3")
    story.type("air container=E3 24 humidity=40")
    assert "mist" in story.due("E3")
    assert "mist" not in story.due("S2")
    story.later(hours=13)
    assert "mist" in story.due("S2")


def test_a_reading_of_long_ago_tells_nothing(story: Story) -> None:
    tell(story, BENCH)
    story.type("air 24 humidity=42")
    story.later(days=8).type("E3 misted")
    story.later(hours=37)
    assert "mist" not in story.due("E3")


def test_pupae_are_misted_among_larvae_too(story: Story) -> None:
    tell(
        story,
        "brood B1 taxon='Boloria dia'\nR4 set up rearing\nR4 stocked 4 L5 B1\nR4 host in violet leaf water",
    )
    story.type("R4 pupated 2")
    story.later(hours=37)
    assert "mist" in story.due("R4")


def test_kept_stems_come_dry_from_the_laying_cup_and_larvae_that_leave_them_mist_nothing(
    story: Story,
) -> None:
    """Eggs on stems that stood with her two days were misted by nobody; what hatches there is taken out each day."""
    tell(story, BENCH)
    story.type("K2 host in violet leaf water", "air 20 humidity=72", "S2 misted")
    story.later(hours=58).type("S2 misted")
    story.later(hours=1).type("K2 host out held_in=S2")
    story.later(hours=12)
    assert "mist" in story.due("S2")
    story.type("S2 misted")
    for _ in range(3):
        story.later(hours=24).type(
            "S2 stocked 1 egg brood=B1", "S2 hatched 1", "S2 moved 1 larva to E3"
        )
    story.later(hours=1)
    assert "mist" in story.due("S2")


def test_eggs_among_others_dry_as_eggs_by_themselves_do(story: Story) -> None:
    """It goes by what is in the cup, whatever it is set up for; pupae there are misted no later."""
    tell(story, BENCH)
    tell(
        story, "R4 set up rearing\nR4 stocked 20 eggs B1\nR5 set up rearing\nR5 stocked 2 pupae B1"
    )
    story.type("R5 stocked 20 eggs B1")
    story.later(hours=60)
    assert "mist" not in story.due("R4")
    assert "mist" in story.due("R5")
    story.type("air 25 humidity=20", "R4 misted")
    story.later(hours=25)
    assert "mist" in story.due("R4")


def test_the_arithmetic_says_by_which_air(story: Story) -> None:
    """0.5 x 3.17 kPa at 25 C (FAO-56) is 1.58; 36 h for 1.2 kPa are 27.3 h by that."""
    tell(story, BENCH)
    story.later(hours=80)
    told = story.due("E3")["mist"]["arithmetic"]
    assert "nobody read how damp the air is: hours x 2.00 = 72.0 h" in told
    story.type("air 25 humidity=50")
    told = story.due("E3")["mist"]["arithmetic"]
    assert "air of 25 C and 50 %, 1.58 kPa deficit (1.2 as the hours are for)" in told
    assert "hours x 0.76 = 27.3 h" in told


@pytest.mark.parametrize("lines", [["N 31/37 40%"], ["N 31/37", "N 40 %"]])
def test_lowest_and_highest_say_how_warm_the_dry_air_is(story: Story, lines: list[str]) -> None:
    """At 34 C saturated air holds 5.32 kPa (FAO-56): at 40 % it takes 3.19 more; 1.2 of that is 0.38."""
    story.type("shelf set up N", "E2 set up rearing shelf=N", *lines)
    story.type("E2 20 eggs Zygaena transalpina laid today")
    mist = story.later(hours=30).due("E2")["mist"]["arithmetic"]
    assert "air of 34 C (mean of 31 to 37 C) and 40 %, 3.19 kPa deficit" in mist
    assert "hours x 0.67 (by the air 0.38, at least 0.67) = 24.0 h" in mist
