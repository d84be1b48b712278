"""Questions that are whole sentences, with the number and the time that they are about."""

from tests.stories.telling import Story, tell


async def test_larvae_that_do_not_move_are_asked_about_with_how_long(story: Story) -> None:
    tell(
        story.at("2027-05-01 08:00"),
        'R1 set up rearing\nbrood E1 taxon="Hyles vespera"\nR1 stocked 4 larvae E1 L3\nR1 looked still',
    )
    async with story.later(hours=49).screens() as screen:
        await screen.press("r")
        await screen.walk_to("still", "R1")
        assert "They have not moved for 2 d. What do you see?" in screen.words


async def test_one_larva_not_seen_is_one_larva(story: Story) -> None:
    tell(
        story.at("2027-05-01 08:00"),
        'R1 set up rearing\nbrood E1 taxon="Hyles vespera"\nR1 stocked 4 larvae E1 L3',
    )
    story.later(hours=1).type("R1 counted 3 larvae")
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("balance", "R1")
        assert "1 larva was not seen. What became of it?" in screen.words
