"""Kept stems are kept until one instant, whatever the clock says when it is asked for."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story, tell

STEMS = """
    K2 set up laying
    K2 2f Boloria dia
    K2 host in viola
"""


@pytest.fixture
def kept(story: Story) -> Story:
    """Stems of one night, searched once, three eggs found, and kept."""
    tell(story.at("2027-05-01 07:00"), STEMS)
    story.at("2027-05-02 07:05").type("K2 searched 3")
    story.at("2027-05-02 07:06").type("K2 host out kept")
    return story


async def until(story: Story) -> str:
    """What the page of what is coming says at the line of the kept stems."""
    async with story.screens((120, 40)) as screen:
        await screen.press("full_stop", "v")
        await screen.pilot.pause()
        found = re.search(r"K2 +keep until.*", screen.text)
        assert found, screen.text
        return found[0]


async def test_it_is_the_same_whenever_it_is_asked_for(kept: Story) -> None:
    asked = {}
    for when in ("05-02 08:00", "05-03 09:17", "05-06 20:41", "05-20 10:00"):
        kept.at(f"2027-{when}")
        asked[when] = str(await until(kept))
    assert len({re.sub(r"^K2 +keep until +", "", one) for one in asked.values()}) == 1, asked


async def test_once_past_it_stays_past_and_asks_for_a_look(kept: Story) -> None:
    first = await until(kept.at("2027-05-20 10:00"))
    for when in ("05-29 12:00", "05-31 12:00"):
        kept.at(f"2027-{when}")
        async with kept.screens((120, 40)) as screen:
            await screen.press("full_stop")
            await screen.pilot.pause()
            rows = [row for row in screen.text.splitlines() if "past" in row]
            assert rows, screen.text
            counted = re.search(r"past +(\d+) should have happened", screen.text)
            assert counted, screen.text
            assert f"{counted[1]} should have happened by now" in screen.words, screen.text
            await screen.press("enter")
            assert screen.text.count("K2 keep A") == 1
        told = kept.refused("K2 host out binned")
        assert "past: look for frass first" in told, (first, told)
        assert "27 May 07:06" in told or "Thu 07:06" in told, told
