"""The line that offers to undo names what undo takes back: it goes once that is another line."""

from __future__ import annotations

from tests.stories.telling import Story


async def test_an_offer_goes_with_its_line(story: Story) -> None:
    story.type("C2 set up rearing")
    async with story.screens((120, 30)) as screen:
        await screen.type("C2 note first")
        assert "u undo" in screen.words
        await screen.press("y")
        assert "first" in screen.words
        await screen.press("x", "enter")
        if "why" in screen.words:
            await screen.press("enter")
        await screen.type("C2 note second")
        await screen.press("escape")
        assert "first" not in screen.message
        await screen.press("u")
        assert "second" in screen.message
