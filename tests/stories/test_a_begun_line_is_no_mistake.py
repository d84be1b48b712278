"""A line that a key began is no mistake of the keeper's before anything is typed."""

from __future__ import annotations

from tests.stories.telling import Story


async def test_a_pairing_is_begun_without_a_complaint(story: Story) -> None:
    story.type("C2 set up laying", "C2 founder W1 'Endromis alta'")
    async with story.screens((120, 30)) as screen:
        await screen.press("z", "p")
        assert "pairing planned" in screen.words
        assert screen.message == ""
        await screen.press("x")
        assert screen.message != ""
