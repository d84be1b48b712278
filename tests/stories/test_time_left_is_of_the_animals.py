"""The column on the right of the bench: how long until the animals there are in danger."""

from __future__ import annotations

import re

from tests.stories.telling import Story, tell, tell_demo

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


async def test_each_line_with_time_left_has_a_bar_that_grows_as_it_goes(story: Story) -> None:
    """Of the check that keeps the danger off, be it the one that comes next or another, due or
    late."""
    tell_demo(story.at("2027-05-17 18:00"))
    for size in ((80, 24), (120, 40)):
        async with story.screens(size) as screen:
            rows = re.findall(
                r"  ([.:=#]*) +(?:[a-z?]+ )*(\d+) (h|min)$", screen.text, re.MULTILINE
            )
        bars = {int(number) * (60 if unit == "h" else 1): bar for bar, number, unit in rows}
        assert len(bars) > 1, screen.text
        lengths = [len(bars[left]) for left in sorted(bars)]
        assert all(lengths), (bars, size)
        assert lengths == sorted(lengths, reverse=True), (bars, size)


async def test_the_help_finds_the_bar_first(story: Story) -> None:
    async with story.screens() as screen:
        await screen.press("question_mark", "question_mark", "slash", *"bar", "enter")
        rows = [row for row in screen.text.splitlines()[2:] if row.strip()]
        assert rows[0].strip() == "words"
        assert rows[1].split()[:4] == ["bar", "of", "the", "time"], screen.text
