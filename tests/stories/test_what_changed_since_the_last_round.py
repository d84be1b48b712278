"""What changed at a stop: the warmth that fell is that of the lowest reading, that which rose of the highest."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.mark.parametrize(
    ("first", "then", "told"),
    [
        ("19/22", "11/19", "the room fell to 11 C"),
        ("18/20", "18/27", "the room rose to 27 C"),
        ("22", "14/22", "the room fell to 14 C"),
        ("11/22", "11/20", ""),
    ],
)
async def test_the_lowest_falls_and_the_highest_rises(
    story: Story, first: str, then: str, told: str
) -> None:
    story.at("2027-06-01 07:05").type("R1 10 L3 Aglais io on nettle 15 stems")
    story.at("2027-06-03 18:05")
    async with story.screens() as screen:
        await screen.press("r", *first, "enter", "space", "enter")
    story.at("2027-06-05 07:05")
    async with story.screens() as screen:
        await screen.press("r", *then, "enter")
        words = screen.words
    assert told in words if told else "the room fell" not in words and "rose" not in words


def test_two_that_must_be_released_together_stand_on_one_line(story: Story) -> None:
    story.at("2027-06-01 07:05").type("K5 2 wild females Aglais io on nettle")
    story.type("K5 release by 3 Jun 2027 18:00")
    printed = story.at("2027-06-03 12:00").shell("due").out.splitlines()
    (line,) = [one for one in printed if "release" in one]
    assert line.endswith("of 2 animals")
