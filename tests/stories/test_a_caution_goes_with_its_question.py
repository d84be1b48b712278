"""A caution stands beside its question and goes with it."""

from __future__ import annotations

from tests.stories.telling import Story, tell

LARVAE = """
brood EH taxon='Endromis alta'
C1 set up rearing
C1 stocked 9 larvae L4 EH
C1 host in birch 3 stems
"""


async def test_blades_are_told_of_while_cutting_is_asked(story: Story) -> None:
    tell(story.at("2027-05-01 07:05"), LARVAE)
    story.later(days=3).type("C1 looked fine", "C1 counted 9", "C1 frass plain", "C1 cleaned")
    async with story.screens((120, 30)) as screen:
        screen.highlight("C1")
        await screen.press("enter")
        assert "Blades:" in screen.words
        await screen.press("escape")
        assert "Blades:" not in screen.words
