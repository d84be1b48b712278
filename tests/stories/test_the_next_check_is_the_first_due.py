"""What is asked next of a container is what is due first: on the top line, on its line, its card and by Enter."""

from __future__ import annotations

from tests.stories.telling import Story


async def test_all_name_the_check_that_is_due_first(story: Story) -> None:
    story.at("2026-06-19 18:30").type("K2 1 female Boloria dia on violet")
    story.at("2026-06-19 18:31").type("K2 drank")
    story.at("2026-06-20 06:00")
    async with story.screens() as keeper:
        assert "Nothing is due until 06:31. Then K2: drink" in keeper.words
        keeper.highlight("K2")
        await keeper.pilot.pause()
        assert "drink 06:31" in keeper.words
        assert "then feeder 18:00, look 18:00" in keeper.card
        await keeper.press("enter")
        assert keeper.check == "drink"
