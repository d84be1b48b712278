"""Food that was put in by number is asked about when that number may be eaten, a day later at most; plenty seen then is no reason
to come sooner."""

from __future__ import annotations

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


def test_plenty_seen_in_the_evening_moves_it_on_by_no_more_than_its_number(story: Story) -> None:
    fed(story).later(hours=11)
    story.type("R1 food plenty")
    story.later(hours=23.9)
    assert "food" not in story.due("R1")
    story.later(hours=0.2)  # 35 hours after it was put in
    story.type("R1 food plenty")
    story.later(hours=14.2)
    assert "food" not in story.due("R1")
    story.later(hours=0.3)  # 49.6 hours after it was put in
    assert "food" in story.due("R1")


def test_six_stems_last_them_a_day_and_a_little(story: Story) -> None:
    """Three quarters of 6 stems at 4 a day are 27 hours; plenty seen after 24 counts for twelve more, as any food seen does."""
    fed(story, "6").later(hours=24)
    story.type("R1 food plenty")
    story.later(hours=11.9)
    assert "food" not in story.due("R1")
    story.later(hours=0.2)
    assert "food" in story.due("R1")


def test_food_without_a_number_is_asked_about_after_half_a_day(story: Story) -> None:
    story.at("2027-06-10 07:00")
    tell(story, BEGINS.replace(" sprigs=11", ""))
    story.later(hours=12.1)
    assert "food" in story.due("R1")
