"""Stems on which a female sat are discarded only under one per cent, whether they still stand there or are kept."""

from __future__ import annotations

from tests.stories.telling import Story, tell

BEGIN = """
L3 set up laying
L3 founder W5, Polyommatus icarus female
L3 host in Lotus corniculatus leaf 4 stems
"""


def begin(story: Story, days: float = 2) -> None:
    story.at("2027-06-10 08:00")
    tell(story, BEGIN)
    story.later(days=days)


def test_stems_of_a_laying_cup_never_searched_are_not_discarded_without_a_word(
    story: Story,
) -> None:
    begin(story)
    for line in (
        "L3 host out binned",
        "L3 host out Lotus corniculatus discarded",
        "L3 host out fridge",
    ):
        said = story.refused(line)
        assert "may still bear eggs" in said, line
        assert "under 1.0 % it may go" in said
        assert "L3 host out held" in said
    story.type("L3 host out binned sure")


def test_kept_ones_are_guarded_alike(story: Story) -> None:
    begin(story)
    story.type("L3 host out held")
    assert "may still bear eggs" in story.refused("L3 host out binned")


def test_eggs_on_record_may_be_on_the_stems(story: Story) -> None:
    begin(story, days=0.5)
    story.type(
        "L3 searched 12 lens", "L3 searched 0 lens", "L3 searched 0 lens", "L3 searched 0 lens"
    )
    assert "12 eggs" in (said := story.refused("L3 host out binned"))
    assert "to discard it all the same add 'sure'" in said
    story.type("set up E1 eggs", "L3 moved 12 eggs to E1")
    story.type("L3 host out binned")  # after 12, three searches found none


def test_what_no_female_sat_on_may_go(story: Story) -> None:
    begin(story, days=0)
    story.type("L3 host out binned", "R1 set up rearing", "R1 host in Lotus corniculatus")
    story.later(days=2).type("R1 host out binned")


def test_closing_does_not_propose_to_discard(story: Story) -> None:
    begin(story)
    story.type("L3 released W5")
    said = story.refused("L3 closed")
    assert "may bear eggs; take it out first" in said
    assert "binned" not in said
