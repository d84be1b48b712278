"""A moult, pupation or emergence long before any can come is asked about once, as a hatch is."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BROOD = """
    room air 22C
    R4 set up rearing
    brood LAP-27/A taxon='Boloria lapidata'
    R4 stocked 12 eggs LAP-27/A
    R4 looked
"""


@pytest.fixture
def hatched(story: Story) -> Story:
    """Young larvae that were not there at the look of an hour before."""
    tell(story.at("2027-06-01 07:00"), BROOD)
    story.at("2027-06-06 07:00").type("R4 looked as usual", "R4 counted 12 eggs")
    story.at("2027-06-06 08:00").type("R4 hatched 12")
    return story.later(hours=3)


@pytest.mark.parametrize(("line", "change"), [("R4 moulted 5 L2", "moult"), ("R4 pupated 2", "pupation")])  # fmt: skip
def test_what_cannot_be_yet_is_asked_about(hatched: Story, line: str, change: str) -> None:
    asked = hatched.refused(line)
    assert f"the first {change} of these larvae is not expected before" in asked
    assert asked.endswith("add 'sure'")
    hatched.type(f"{line} sure")


async def test_by_key_it_is_one_key_more(hatched: Story) -> None:
    async with hatched.screens((120, 40)) as screen:
        screen.highlight("R4")
        await screen.press("l", "5", "m")
        assert "Sure?" in screen.words
        assert hatched.on_disk()[-1]["what"] == "hatched"
        await screen.press("1")
    assert hatched.on_disk()[-1]["what"] == "moulted"


def test_days_later_it_is_taken(hatched: Story) -> None:
    hatched.later(days=3).type("R4 moulted 5 L2")


def test_so_it_is_of_pupae(hatched: Story) -> None:
    hatched.later(days=23).type("R4 looked")
    hatched.later(days=1).type("R4 pupated 3")
    asked = hatched.later(hours=2).refused("R4 emerged 1")
    assert "the first emergence of these pupae is not expected before" in asked
    hatched.later(days=9).type("R4 emerged 1")


def test_a_pupa_of_two_hours_does_not_emerge_though_nobody_looked_before(hatched: Story) -> None:
    """It may have been one for days, but was said to pupate only then; by the next day nothing is asked."""
    hatched.later(days=23).type("R4 pupated 3")
    asked = hatched.later(hours=2).refused("R4 emerged 1")
    assert "2 h after they pupated, and the first emergence of these pupae" in asked
    hatched.type("R4 emerged 1 sure")
    hatched.later(hours=23).type("R4 emerged 2")


def test_what_came_in_begun_is_not_asked_about(story: Story) -> None:
    tell(story, BROOD)
    story.type("R5 4 L3 Boloria lapidata", "P5 2 pupae Boloria lapidata")
    story.later(hours=1).type("R5 moulted 1 L4", "P5 emerged 1")
