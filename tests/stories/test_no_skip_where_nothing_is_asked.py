"""The keys of the round offer to pass over a question only where one is asked."""

from __future__ import annotations

from tests.stories.telling import Story


async def test_washing_hands_is_not_passed_over(story: Story) -> None:
    story.type("C2 set up rearing", "C3 set up rearing")
    story.type("brood EH taxon='Endromis alta'", "C2 stocked 4 larvae L3 EH")
    story.type("C3 stocked 4 larvae L3 EH", "C3 suspect mould")
    story.later(days=1)
    async with story.screens((120, 30)) as screen:
        await screen.press("r")
        assert "- skip" in screen.text.splitlines()[-1]
        for _ in range(60):
            if "Wash your hands" in screen.words:
                break
            await screen.press(*(("minus", "m") if screen.check else ("enter",)))
        assert "Wash your hands" in screen.words
        assert "- skip" not in screen.text.splitlines()[-1]
