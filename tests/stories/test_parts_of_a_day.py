"""The hours before dawn are early on their date; what is near is told by its hour."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story, tell

BROOD = """
E7 set up eggs
brood DIA-27/A taxon='Boloria dia'
E7 stocked 12 eggs DIA-27/A
E7 look darkening
room 21
"""
# Of today the part and the hour; of what is nearer than a day the hour; else a part of its date.
TIME = re.compile(
    r"about midnight|(?:early today|this morning|this afternoon|this evening|tonight) about \d\d:00"
    r"|\w{3} \d+ \w{3} about \d\d:00|early \w{3} \d+ \w{3}"
    r"|\w{3} \d+ \w{3} (?:morning|afternoon|evening|late evening)"
)


@pytest.mark.parametrize("begun", ["02:00", "08:00", "14:00", "19:00", "22:00"])
async def test_what_is_expected_is_said_in_the_order_of_the_day(story: Story, begun: str) -> None:
    story.at(f"2027-05-26 {begun}")
    tell(story, BROOD)
    told: set[str] = set()
    for _ in range(4):
        async with story.screens(size=(120, 40)) as screen:
            await screen.press("r")
            for _ in range(4):
                if "expected" in screen.text:
                    break
                await screen.press("minus", "m")
            row = next(one for one in screen.text.splitlines() if "expected" in one)
        words = re.sub(".*hatch (?:likely )?(?:from|since) ", "", row).strip()
        first, _, half = words.partition(", half by ")
        assert TIME.fullmatch(first), words
        assert not half or TIME.fullmatch(half.partition(";")[0]), words
        assert not re.search(r"\d \w{3} night", words)
        told.add(words)
        story.later(hours=21)
    assert len(told) > 1, "it is said anew as it comes nearer"
