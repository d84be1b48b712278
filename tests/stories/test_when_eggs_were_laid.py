"""Eggs found on kept stems were laid while the stems stood with females, on every page, whether the lot was named or not."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

KEPT = """
taxon 'Pieris orata'
K2 set up laying
E3 set up eggs
K2 founder W-7, Pieris orata female
brood A-1 mothers=W-7
K2 host in cress leaf water batch=C sprigs=3
"""


@pytest.mark.parametrize("lot", ["", " lot=1"])
async def test_the_egg_stage_is_counted_from_when_the_stems_stood_with_her(
    story: Story, lot: str
) -> None:
    tell(story, KEPT)
    story.later(days=2).type("K2 host out cress held in E3")
    story.later(days=1).type(f"E3 searched 4 lens brood=A-1{lot}")
    story.later(days=5).type("E3 hatched 4")
    async with story.screens((130, 60)) as screen:
        await screen.press("z")
        screen.highlight("code A-1")
        await screen.pilot.pause()
        await screen.press("enter")
        (row,) = [
            line.split()
            for line in screen.text.splitlines()
            if line.split()[:2] == ["egg", "4"] and " d " in line
        ]
    assert row[2:4] == ["7.0", "d"], (
        "laid in the two days with her, a day in the middle, and hatched on the eighth"
    )
