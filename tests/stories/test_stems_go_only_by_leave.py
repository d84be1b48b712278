"""Stems are discarded under one per cent alone, by key as by line; the day until which to keep them waits for the looks."""

from __future__ import annotations

import re
from datetime import datetime

from tests.stories.telling import Story
from tests.stories.test_stems_are_never_lost import begin


def kept(story: Story, days: float, looks: bool) -> None:
    """A lot of K2 in E2, at 25 C, for some days, with a look for frass a day or none."""
    begin(story)
    story.at("2027-05-24 07:10").type("room air 25C", "K2 host out held in E2")
    for _ in range(round(days)):
        story.later(hours=24)
        if looks:
            story.type("E2 frass none")
    story.type("room air 25C")


def refused_until(story: Story) -> str:
    found = re.search(r"keep until (.*?) with a look a day", story.refused("E2 host out binned"))
    assert found
    return found[1]


async def test_where_nobody_looked_the_key_discards_nothing(story: Story) -> None:
    kept(story, days=30, looks=False)
    assert "nobody looked for frass" in story.refused("E2 host out binned")
    assert "keep" not in story.due("E2")  # not asked while it may not go
    story.type("plan keep every_h=24")
    assert "keep" in story.due("E2")
    async with story.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("keep", "E2")
        await screen.press("b")
        assert "may still bear eggs" in screen.message
    assert not [line for line in story.on_disk() if line.get("fate") == "binned"]


def test_the_day_moves_with_each_look_that_is_not_made(story: Story) -> None:
    kept(story, days=40, looks=False)
    first = refused_until(story)
    story.later(days=2)
    assert refused_until(story) != first


async def test_with_a_look_a_day_it_may_go_under_one_per_cent(story: Story) -> None:
    kept(story, days=5, looks=True)
    day = None
    for _ in range(40):
        if "keep" in story.due("E2"):
            day = story.clock.now
            break
        line = story.refused("E2 host out binned")
        percent = re.search(r"eggs: (?:over )?([\d.]+) %", line)
        assert percent
        assert float(percent[1]) >= 1.0
        story.later(hours=24).type("E2 frass none")
    assert isinstance(day, datetime)
    async with story.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("keep", "E2")
        await screen.press("b")
    assert story.on_disk()[-1]["fate"] == "binned"


async def test_two_per_cent_is_not_may_go(story: Story) -> None:
    kept(story, days=12, looks=True)
    for _ in range(30):
        async with story.screens(size=(120, 60)) as screen:
            await screen.press("i")
            text = screen.text
        rows = [line for line in text.splitlines() if " E2 " in line and "plantago" in line]
        assert rows, text
        percent = re.search(r"(under )?([\d.]+) %", rows[0])
        assert percent
        assert ("may go" in rows[0]) == (float(percent[2]) < 1 or percent[0] == "under 1 %"), rows[
            0
        ]
        if "may go" in rows[0]:
            return
        story.later(hours=24).type("E2 frass none")
    raise AssertionError("it never may go")
