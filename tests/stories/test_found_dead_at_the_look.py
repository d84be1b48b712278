"""One found dead at the look is the answer to the look: the round does not end with it open."""

from __future__ import annotations

from tests.stories.telling import Story, tell


async def test_the_round_ends_without_an_open_look(story: Story) -> None:
    story.at("2027-06-10 07:00")
    tell(
        story,
        """
        L1 set up laying
        L1 founder W1, Polyommatus icarus female
        L1 founder W2, Polyommatus icarus female
        L1 host in Lotus corniculatus
        """,
    )
    story.later(hours=24)
    async with story.screens((110, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("look", "L1")
        await screen.press("1", "f", "1")
    assert [line["brood"] for line in story.on_disk() if line["what"] == "died"] == ["W1"]
    assert "look" not in story.due("L1")
