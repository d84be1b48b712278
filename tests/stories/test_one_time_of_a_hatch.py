"""When eggs hatch, at a stop: as certain as it is, and each of its times says which it is."""

from __future__ import annotations

import re

from tests.stories.telling import Story, tell

BENCH = """
taxon Aglais inventa instars=5
K2 set up laying
K2 founder AGL-1, Aglais inventa female
K2 host in nettle leaf water
E5 set up eggs
room air 20C
"""


async def test_the_stop_tells_the_earliest_and_the_likely_time_apart(story: Story) -> None:
    """Two times of one hatch stood at a stop, 'from' one and 'first may' the other, to the minute."""
    tell(story.at("2027-05-02 08:00"), BENCH)
    story.at("2027-05-03 08:00").type("K2 searched 12", "K2 moved 12 eggs to E5")
    for day in (4, 5, 6, 7):
        story.at(f"2027-05-0{day} 19:00").type("room air 20C", "E5 looked", "E5 lid opened")
        if "leaf" in story.due("E5"):
            break
    async with story.screens((100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("leaf", "E5")
        words = screen.words
    expected = re.search(r"expected (hatch likely (?:from|since) .*?) before", words)
    assert expected, words
    assert re.search(r"likely (?:from|since) .*, half by .*; possible (from|since) ", expected[1])
    assert not re.search(r"\d\d:(?!00)\d\d", expected[1])  # no minutes
    why = re.search(r"why (may hatch at the earliest .*?, likely from .*?),", words)
    assert why, words
    assert "why first may hatch" not in words
