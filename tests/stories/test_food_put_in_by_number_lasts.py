"""Food that was put in by number is asked about when that number may be eaten, a day later at most; plenty seen is enough for a
day, whatever the number, and puts off no danger."""

from __future__ import annotations

import pytest

from rounds.checks.supplies import supplies
from tests.stories.telling import Story, tell

BEGINS = """
taxon 'Pieris orata' instars=5
brood A-1 taxon='Pieris orata'
R1 set up rearing
R1 stocked 4 L5 A-1
R1 host in cress leaf water sprigs=11
"""


def fed(story: Story, stems: str = "11") -> Story:
    story.at("2027-06-10 07:00")
    tell(story, BEGINS.replace("=11", f"={stems}"))
    return story


def test_eleven_stems_last_four_of_the_last_instar_a_day(story: Story) -> None:
    """Three quarters of 11 stems at 4 a day are 49 hours: asked about after 24, not after 12."""
    fed(story).later(hours=23.9)
    assert "food" not in story.due("R1")
    story.later(hours=0.2)
    assert story.due("R1")["food"]["state"] == "due"


@pytest.mark.parametrize("stems", ["11", "6"])
def test_plenty_seen_is_enough_for_a_day(story: Story, stems: str) -> None:
    fed(story, stems).later(hours=24)
    story.type("R1 food plenty")
    story.later(hours=23.9)
    assert "food" not in story.due("R1")
    story.later(hours=0.2)
    assert story.due("R1")["food"]["state"] == "due"


def test_plenty_puts_off_no_danger(story: Story) -> None:
    fed(story, "6").later(hours=24)
    story.type("R1 food plenty")
    story.later(hours=35.9)
    assert story.due("R1")["food"]["state"] != "in danger"
    story.later(hours=0.2)
    assert story.due("R1")["food"]["state"] == "in danger"


def test_half_left_is_asked_about_after_half_a_day(story: Story) -> None:
    fed(story, "6").later(hours=24)
    story.type("R1 food half")
    story.later(hours=12.1)
    assert "food" in story.due("R1")


def test_of_those_that_eat_each_other_plenty_is_asked_about_after_half_a_day(
    story: Story,
) -> None:
    fed(story, "6").later(hours=24)
    story.type("taxon 'Pieris orata' cannibalistic", "R1 food plenty")
    story.later(hours=12.1)
    assert "food" in story.due("R1")


def test_food_without_a_number_is_asked_about_after_half_a_day(story: Story) -> None:
    story.at("2027-06-10 07:00")
    tell(story, BEGINS.replace(" sprigs=11", ""))
    story.later(hours=12.1)
    assert "food" in story.due("R1")


def test_stems_known_too_few_bring_food_forward(story: Story) -> None:
    """One stem for 40 of the last instar, a stem a day each: gone in 0.6 h, and no look counts before three hours have passed; then it is late."""
    story.at("2027-06-10 07:00")
    tell(story, BEGINS.replace("4 L5", "40 L5").replace("=11", "=1"))
    story.later(hours=2.9)
    assert "food" not in story.due("R1")
    story.later(hours=0.2)
    food = story.due("R1")["food"]
    assert food["state"] == "late"
    assert "1 stem, enough for about 0.6 h at 1 stem a day each" in food["arithmetic"]
    story.later(hours=24)
    assert story.due("R1")["food"]["state"] == "in danger"


def test_more_that_move_in_bring_food_forward(story: Story) -> None:
    """Five stems last eight of the last instar 15 h, and 24 of them from then on a third of that."""
    story.at("2027-06-10 07:00")
    tell(story, BEGINS.replace("4 L5", "8 L5").replace("=11", "=5"))
    story.type("R2 set up rearing", "R2 stocked 16 L5 A-1", "R2 host in cress leaf water sprigs=40")
    story.later(hours=3)
    story.type("R2 moved 16 L5 to R1")  # a stem is eaten; four last them four hours
    story.later(hours=2.7)
    assert "food" not in story.due("R1")
    story.later(hours=0.1)
    food = story.due("R1")["food"]
    assert food["state"] == "due", "three quarters are eaten"
    assert "5 stems, enough for about 7.0 h" in food["arithmetic"]
    assert "asked once three quarters are eaten" in food["arithmetic"]
    story.later(hours=1.3)
    food = story.due("R1")["food"]
    assert food["state"] == "late", "the leaf is gone, as the basis says"
    assert "late is when the leaf is gone" in food["source"]


def test_stems_that_nobody_counted_bring_nothing_forward(story: Story) -> None:
    story.at("2027-06-10 07:00")
    tell(story, BEGINS.replace("4 L5", "40 L5").replace("=11", "=1"))
    story.type("R1 host in cress leaf water")
    story.later(hours=11.9)
    assert "food" not in story.due("R1")


def test_plenty_seen_is_better_than_a_number(story: Story) -> None:
    story.at("2027-06-10 07:00")
    tell(story, BEGINS.replace("4 L5", "40 L5").replace("=11", "=1"))
    story.later(hours=5)
    story.type("R1 food plenty")
    story.later(hours=23.9)
    assert "food" not in story.due("R1")


@pytest.mark.parametrize(("young", "hours"), [("40 L1", 24), ("40 L2", 24), ("40 L4", 3)])
def test_the_young_of_many_on_one_stem_wait_until_it_wilts(
    story: Story, young: str, hours: float
) -> None:
    """Of all that a larva eats the last two of five instars eat 97 %: what the young have wilts before it is eaten."""
    story.at("2027-06-10 07:00")
    tell(story, BEGINS.replace("4 L5", young).replace("=11", "=1"))
    story.later(hours=hours - 0.1)
    assert "food" not in story.due("R1")
    story.later(hours=0.2)
    assert "food" in story.due("R1")


def test_those_not_seen_eat_in_what_is_cut_as_in_the_hours(story: Story) -> None:
    """24 were put in and 6 were counted: 18 may sit in the plant, and are cut for as they are fed."""
    story.type("R6 24 L5 Boloria dia on violet")
    story.later(minutes=1).type("R6 host changed 7 stems violet")

    def to_cut() -> list[float]:
        needs = supplies(story.desk.bench, story.desk.moment(), story.desk.dues()).tomorrow
        return [need.number for need in needs if need.what == "sprigs"]

    before = to_cut()
    assert before
    story.later(minutes=1).type("R6 counted 6")
    assert story.desk.bench.shortfalls
    assert to_cut() == before


def test_the_hours_of_stems_say_of_how_many_they_are(story: Story) -> None:
    """Of 4 stems for 4 that eat one a day each three are reckoned on: 18 h, not the 24 h of all."""
    fed(story, "4").later(hours=18.2)
    food = story.due("R1")["food"]
    wanted = (
        "4 stems were put in, reckoned as three quarters of them for larvae differ, enough for 18 h"
    )
    assert wanted in food["arithmetic"], food["arithmetic"]
