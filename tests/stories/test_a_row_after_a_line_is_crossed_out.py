"""The line of a cup on the bench says what is there after its death was crossed out and said anew in the daybook."""

from __future__ import annotations

from tests.stories.telling import Story


async def test_the_row_says_what_is_there_now(story: Story) -> None:
    story.at("2031-06-11 18:00").type("R2 24 L3 Aglais io on nettle", "K1 set up laying")
    story.at("2031-06-12 07:00").type("R2 died 8")
    async with story.screens((80, 24)) as screen:
        screen.highlight("R2")
        await screen.press("y", "x", *"wrong", "enter")
        await screen.type("R2 died 3")
        await screen.press("escape")
        await screen.pilot.pause()
        row = next(line for line in screen.text.splitlines() if " R2 " in line)
        assert "21 L3" in row
