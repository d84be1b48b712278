"""How much larvae eat goes by their instar, whether or not they have a plant; that they have none only makes it urgent."""

from __future__ import annotations

from tests.stories.telling import Story, tell


async def test_large_larvae_without_a_plant_want_as_much_as_with_one(story: Story) -> None:
    tell(story, "R5 12 L5 Vanessa itea")
    async with story.screens((100, 40)) as screen:
        await screen.press("k")
        assert "R5 12 last instar x 1 a day" in screen.words, screen.words
        assert "unfed x" not in screen.words
