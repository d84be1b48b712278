"""A moat that reads the same twice is no moat that never empties."""

from __future__ import annotations

from tests.stories.telling import Story, tell


async def test_two_equal_readings_have_a_date_when_it_is_low(story: Story) -> None:
    tell(story, "shelf set up sill moat\nK1 set up laying shelf=sill\nsill moat full 12 mm")
    story.later(days=1).type("sill moat full 12 mm")
    async with story.screens(size=(140, 40)) as screen:
        await screen.press(".", "right", "right")
        text = screen.text
    assert "moat low" in text or "low moat" in text, text
