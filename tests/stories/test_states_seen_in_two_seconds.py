"""What is late is in sight where a page opens, and names stand where there is room for them."""

from __future__ import annotations

import re

from tests.stories.telling import Story, tell_demo


async def test_the_map_opens_with_all_that_is_late_in_sight(story: Story) -> None:
    tell_demo(story.at("2027-05-17 18:00"))
    async with story.screens() as screen:
        await screen.press("m")
        await screen.pilot.pause()
        for code in ("E7", "R2", "K5", "K7"):
            assert re.search(rf"[ >]{code} ", screen.text), screen.text


async def test_the_plan_names_purposes_where_there_is_room(story: Story) -> None:
    story.type("K2 1f Boloria dia")
    for width in (80, 120):
        async with story.screens((width, 40)) as screen:
            await screen.press("p")
            await screen.pilot.pause()
            assert "laying, pairing, trial, adult" in screen.text, screen.text
            assert ("3 purposes, adult" in screen.text) == (width == 80), screen.text


async def test_no_word_of_what_came_is_cut(story: Story) -> None:
    tell_demo(story.at("2027-05-17 18:00"))
    async with story.screens((80, 60)) as screen:
        await screen.press("full_stop", "c")
        await screen.pilot.pause()
        assert "…" not in screen.text.partition("▔")[0], screen.text
