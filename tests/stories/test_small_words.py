"""Small words that must be right: who is in a cup and what was changed."""

from __future__ import annotations

from tests.stories.telling import Story, tell


async def test_each_of_two_species_has_its_name(story: Story) -> None:
    story.at("2027-06-10 07:00")
    tell(
        story,
        "L1 set up laying\nL1 founder W1, Polyommatus icarus female\nL1 founder W2, Polyommatus thersites female",
    )
    async with story.screens((120, 40)) as screen:
        assert "1 f icarus, 1 f thersites" in screen.text


def test_the_daybook_says_what_was_changed(story: Story) -> None:
    story.at("2027-06-10 07:00")
    tell(story, "shelf set up sill\nL1 set up laying")
    told = story.type("L1 changed shelf=sill place=3", "L1 changed lid=gauze")
    assert "sill" in told[0]
    assert "gauze" in told[1]
