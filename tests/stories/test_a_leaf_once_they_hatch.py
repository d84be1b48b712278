"""Once some have hatched nobody asks whether they are dark: a leaf is wanted at once."""

from __future__ import annotations

from tests.stories.telling import Story, tell

BROOD = """
E7 set up eggs
brood DIA-27/A taxon='Boloria dia'
E7 stocked 20 eggs DIA-27/A
room 24
"""


async def test_after_some_hatched_a_leaf_is_urgent(story: Story) -> None:
    story.at("2027-05-26 07:00")
    tell(story, BROOD)
    story.later(hours=120).type("E7 12 hatched")
    leaf = story.due("E7")["leaf"]
    assert leaf["state"] in ("urgent", "in danger")
    assert "Are they dark?" not in leaf["question"]
    assert "some have hatched and no leaf is in" in leaf["arithmetic"]
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("leaf", "E7")
        assert "Is a tender leaf in?" in screen.text
        assert "Are they dark?" not in screen.text
    story.type("E7 host in violet part='tender leaf'")
    assert "leaf" not in story.due("E7")
