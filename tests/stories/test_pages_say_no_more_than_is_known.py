"""Pages and lines say no more than is known: no rate of no time, no hand that nobody named, no round that left nothing."""

from __future__ import annotations

from tests.stories.telling import Story, tell

TWO = """
C2 set up laying
C2 founder W2 "Callophrys montana"
C2 founder W3 "Callophrys montana"
C2 host in Vaccinium 3 sprigs
"""


async def test_no_rate_is_made_of_no_time(story: Story) -> None:
    tell(story, TWO)
    story.later(minutes=1)
    async with story.screens((110, 50)) as screen:
        await screen.press("i")
        assert "none: under" not in screen.text
        assert "no time with it" in screen.text


async def test_a_line_crossed_out_by_nobody_named(story: Story) -> None:
    tell(story, TWO)
    line = story.on_disk()[-1]["id"]
    assert story.shell("log", "--by", "", f"strike {line} why=wrong").status == 0
    story.reopen()
    async with story.screens((110, 50)) as screen:
        await screen.press("y", "down")
        assert "by : wrong" not in screen.text
        assert "by -: wrong" in screen.text


async def test_a_round_that_ended_with_one_unfed_says_so_the_next_morning(story: Story) -> None:
    tell(story, TWO)
    story.at("2027-05-01 19:30").type("room air 15/24")
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("drink", "C2")
        await screen.press("1", "d", "o")
        for _ in range(12):
            if not screen.check:
                break
            await screen.press("space")
        await screen.press("escape")
    story.at("2027-05-02 07:00")
    async with story.screens() as screen:
        await screen.press("r")
        assert "left nothing open" not in screen.text
        assert "It left open: C2" in screen.text
