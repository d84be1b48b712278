"""Larvae whose sisters pupated from an instar are in their last one: no moult is told of them, and they eat as the last do."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def begin(story: Story) -> None:
    story.at("2027-06-10 08:00")
    tell(
        story,
        """
        R3 set up rearing
        brood W4/A taxon="Polyommatus icarus"
        R3 stocked 10 L4 brood=W4/A
        R3 host in Lotus corniculatus
        room air 20C
        """,
    )
    story.at("2027-06-18 08:00").type("room air 20C")


async def ahead(story: Story) -> str:
    async with story.screens((110, 50)) as screen:
        await screen.press("full_stop")
        return screen.text


async def test_no_moult_is_told_once_sisters_pupated_from_it(story: Story) -> None:
    begin(story)
    assert "moult" in await ahead(story)
    story.type("R3 pupated 5")
    text = await ahead(story)
    assert "moult" not in text
    assert "pupation" in text


def test_they_are_fed_as_the_last_instar(story: Story) -> None:
    begin(story)
    story.type("R3 host in Lotus corniculatus")
    assert "food" not in story.later(hours=13).due("R3")
    story.type("R3 pupated 5", "R3 host in Lotus corniculatus")
    assert "food" in story.later(hours=13).due("R3")


async def test_of_another_brood_it_says_nothing(story: Story) -> None:
    begin(story)
    tell(
        story,
        'R4 set up rearing\nbrood W5/A taxon="Polyommatus icarus"\nR4 stocked 10 L4 brood=W5/A\nR3 pupated 5',
    )
    assert "moult" in await ahead(story)
