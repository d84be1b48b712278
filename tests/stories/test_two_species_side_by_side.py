"""Females of two species in one cup: none of them was alone, and a search of the cup was one for each of them."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_whose_eggs import page

CUP = """
L3 set up laying
L3 founder W4 "Polyommatus icarus"
L3 founder W5 "Polyommatus thersites"
L3 host in "Lotus corniculatus" 3 sprigs
"""


async def laid(story: Story, how: str) -> str:
    story.at("2027-06-10 08:00")
    tell(story, CUP)
    for day in range(11, 14):
        story.at(f"2027-06-{day} 08:00").type(f"L3 searched 4 {how}")
    return await page(story, "i")


@pytest.mark.parametrize("how", ["brood=W4", "not known"])
async def test_neither_was_alone(story: Story, how: str) -> None:
    shown = await laid(story, how)
    assert "alone" not in shown
    assert "L3, W5 beside W4 of another species," in shown
    assert "L3, W4 beside W5 of another species," in shown


async def test_a_day_on_which_eggs_of_either_were_found_was_searched(story: Story) -> None:
    shown = await laid(story, "not known")
    days = [
        line for line in shown.splitlines() if line.split()[:2] in (["Fri", "11"], ["Sat", "12"])
    ]
    assert len(days) >= 4
    assert not any("no search" in line for line in days)
    assert sum("4 of either" in line for line in days) == 4


async def test_one_that_stood_there_alone_still_was(story: Story) -> None:
    story.at("2027-06-10 08:00")
    tell(story, CUP.replace('L3 founder W5 "Polyommatus thersites"\n', ""))
    story.at("2027-06-11 08:00").type(
        "L3 searched 4", "L3 W4 died", 'L3 founder W5 "Polyommatus thersites"'
    )
    story.at("2027-06-12 08:00").type("L3 searched 0")
    shown = await page(story, "i")
    assert "L3, W4 alone," in shown
    assert "L3, W5 alone," in shown
