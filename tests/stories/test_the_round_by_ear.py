"""The round on lines, heard: each option with its key, each sentence whole, nothing that points back."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story, tell, tell_demo

MOAT = """
shelf set up sill moat
K2 set up laying shelf=sill place=1
K2 founder W3 "Boloria dia" female
shelf sill barrier low 4mm
room air 20C
"""


@pytest.fixture
def demo(story: Story) -> Story:
    """The demo in the evening."""
    tell_demo(story.at("2027-05-02 18:00"))
    return story


def walked(story: Story, *, skipping: bool = False) -> list[str]:
    """What a whole round says when each question has a wrong word first, then its usual answer."""
    typed = ["21/24", *["- m", "zz"] * 90, "q"] if skipping else ["21/24", *["zz", " "] * 60, "q"]
    return story.plain(typed)


def test_a_refusal_names_its_options_as_the_question_does(demo: Story) -> None:
    """'it can be a leaf put in, p another plant, a number before its key' said a key and an article alike."""
    said = walked(demo)
    refused = [one for one in said if one.startswith("Not taken: 'zz'")]
    assert len(refused) > 10
    for one in refused:
        options = one.removeprefix("Not taken: 'zz' is no answer here. ")
        assert options in said, one
    assert not any("it can be" in one or "its key" in one for one in said)


def test_which_keys_take_the_number_is_said(story: Story) -> None:
    tell(story.at("2027-05-01 18:00"), MOAT)
    story.at("2027-05-03 18:00")
    said = "\n".join(story.plain(["21", *[" "] * 6, "q"]))
    barrier = re.search(r"Or a number(.*?): depth in mm\.", said)
    assert barrier, said
    assert barrier[1].startswith(", then Enter") or re.match(r" before (key [a-z],? ?)", barrier[1])
    assert "; . is all" not in said


def test_the_reasons_of_a_skip_are_options_too(story: Story) -> None:
    """'k looked, not needed' had a comma within and commas between."""
    tell(story.at("2027-05-01 18:00"), MOAT)
    said = story.plain(["-", "k", "q"])
    (asked,) = (one for one in said if one.startswith("Why? "))
    assert "Key l: no light. Key b: do not disturb." in asked  # of a moat nobody is asleep
    assert asked.endswith("Key k: looked, not needed. Or other words.")


def test_what_space_does_is_said_and_no_option_reads_as_an_order(demo: Story) -> None:
    said = "\n".join(walked(demo.later(hours=13), skipping=True))
    assert not re.search(r"Key \w: look (mould|condensation|weak)", said)
    assert "Space: yes, adults as usual, host fresh." in said
    assert not re.search(r"Space: yes, [a-z]+, [a-z]+\.", said)


def test_nothing_points_back_to_what_was_said_before(demo: Story) -> None:
    said = "\n".join(walked(demo, skipping=True))
    assert "as before;" not in said
    assert "Answers as before" not in said
    assert "Key question mark lists the others." in said


def test_what_was_never_answered_is_said_so(demo: Story) -> None:
    """'Due, missing: not yet.' said nothing."""
    said = walked(demo, skipping=True)
    assert not [one for one in said if re.search(r"[:?] not yet", one)]
    assert [one for one in said if "not recorded yet" in one]


def test_the_first_that_may_come_is_possible_and_the_others_likely(demo: Story) -> None:
    """'from early today; at the earliest Mon 23' said two beginnings."""
    said = [one for one in walked(demo, skipping=True) if one.startswith("Expected: ")]
    assert said
    assert not [one for one in said if "at the earliest" in one]
    assert [
        one for one in said if re.search(r" likely (?:from|since) .*; possible (since|from) ", one)
    ]
    assert [one for one in said if " likely since " in one]
    assert not [one for one in said if re.search(r" likely since .*; possible ", one)]


def test_a_small_share_is_no_nought(demo: Story) -> None:
    """15 animals x 100% x 0% lost made 0.06."""
    said = "\n".join(demo.plain(["?", "q"]))
    assert " x 0" in said
    assert not re.search(r" x 0 ?% ", said)
    assert not re.search(r"\d%", said)


def test_a_place_has_its_shelf_named(demo: Story) -> None:
    said = walked(demo, skipping=True)
    placed = [one for one in said if re.search(r", place \d+\.?", one)]
    assert placed
    assert not [one for one in placed if "shelf " not in one]


def test_a_question_reads_before_its_state_on_the_shelves(demo: Story) -> None:
    said = demo.shell("shelves").out
    assert not re.search(r"\? (late|now|urgent|in danger)", said)
