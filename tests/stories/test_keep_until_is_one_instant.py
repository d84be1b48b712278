"""Kept stems are kept until one instant, the same on every page; looks that were not made move it."""

from __future__ import annotations

import json
import re

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_forecasts_weigh_what_is_known import keep_until

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


async def test_looks_that_were_not_made_move_it(kept: Story) -> None:
    """It never is past while they may not go: nor is it asked whether they were kept long enough."""
    first = await until(kept.at("2027-05-20 10:00"))
    dates = [first]
    for when in ("05-29 12:00", "05-31 12:00", "06-20 18:30"):
        kept.at(f"2027-{when}")
        dates.append(await until(kept))
        assert "past" not in dates[-1], dates
        told = re.search(r"keep until (.*) with a look a day", kept.refused("K2 host out binned"))
        assert told, when
        assert told[1].split(" ")[-1] in dates[-1], (told[1], dates)
        assert keep_until(kept, "K2") > kept.clock.now, when
        assert "keep" not in kept.due("K2")
        keep = next(
            one
            for one in json.loads(kept.shell("due", "--json", "--within", "3d").out)["due"]
            if one["check"] == "keep" and one["where"] == "K2"
        )
        assert told[1] in keep["arithmetic"]
    assert len(set(dates)) == len(dates), dates


def test_once_it_has_come_with_its_looks_they_may_go(kept: Story) -> None:
    kept.at("2027-06-20 18:30").type("K2 frass none")
    told = keep_until(kept, "K2")
    while kept.clock.now < told:
        assert "keep" not in kept.due("K2")
        assert keep_until(kept, "K2") == told
        kept.later(hours=24).type("K2 frass none")
    assert "keep" in kept.due("K2")
    kept.type("K2 host out binned")
