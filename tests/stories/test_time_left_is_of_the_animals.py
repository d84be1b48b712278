"""The column on the right of the bench: how long until the animals there are in danger."""

from __future__ import annotations

import re

from tests.stories.telling import Story, tell

LARVAE = """
    R2 set up rearing
    R2 9 L5 Boloria dia
    R2 host in viola
    R2 looked
    R2 counted 9
"""


async def test_an_urgent_cup_says_how_little_is_left(story: Story) -> None:
    """Cleaning is urgent and harms nobody; the food there does, in some hours."""
    tell(story.at("2027-05-17 07:00"), LARVAE)
    story.at("2027-05-18 16:00").type("R2 looked")
    async with story.screens() as screen:
        heading = next(row for row in screen.text.splitlines() if "next check" in row)
        row = next(
            row
            for row in screen.text.splitlines()
            if re.search(r"R2  9 L5", row) and ("viola" in row)
        )
        assert heading.rstrip().endswith("time left"), screen.text
        assert row.rstrip().endswith("3 h"), screen.text
    story.at("2027-05-18 19:30")
    async with story.screens() as screen:
        row = next(
            row
            for row in screen.text.splitlines()
            if re.search(r"R2  9 L5", row) and ("viola" in row)
        )
        assert row.rstrip().endswith("none"), screen.text
