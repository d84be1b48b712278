"""The line that offers to undo names what undo takes back: it goes once that is another line."""

from __future__ import annotations

from tests.stories.telling import Screen, Story, tell


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


def keys(screen: Screen) -> str:
    """The keys that stand in the last row."""
    return screen.text.splitlines()[-1]


async def test_keys_that_would_do_nothing_are_not_shown(story: Story) -> None:
    tell(story, "K1 1 female Boloria dia\nK1 host in viola 3 stems")
    story.reopen()
    async with story.screens((120, 30)) as screen:
        assert "u undo" not in keys(screen)
        await screen.press("t", "ctrl+u")
        await screen.pilot.pause()
        assert "Up earlier lines" not in keys(screen)
        assert "Tab complete" not in keys(screen)
        await screen.press(*"K1 dra")
        await screen.pilot.pause()
        assert "Tab complete" in keys(screen)
        await screen.press(*"nk", "enter")
        await screen.pilot.pause()
        assert "u undo" in screen.text
        await screen.press("t")
        await screen.pilot.pause()
        assert "Up earlier lines" in keys(screen)
