"""Two plants stand in one cup: of each its own number is to be cut anew, not the sum of the one put in last."""

from __future__ import annotations

from tests.stories.telling import Story, tell


async def test_each_plant_has_its_own_number(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(
        story,
        """
        K2 set up laying
        K2 founder W2 "Melitaea cinxia" female
        K2 host in Plantago water 3 sprigs
        K2 host in Veronica water 2 sprigs
        """,
    )
    said = await page(story.later(hours=30))
    assert "3 stems Plantago: K2 holds 3 now" in said
    assert "2 stems Veronica: K2 holds 2 now" in said
    assert "5 tubes: K2 holds 3 now, K2 holds 2 now" in said


async def test_only_what_stands_in_water_wants_tubes(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(
        story,
        """
        K2 set up laying
        K2 founder W2 "Melitaea cinxia" female
        K2 host in Plantago water 3 sprigs
        K2 host in Plantago water 1 sprig
        K2 host in Veronica dry 2 sprigs
        """,
    )
    said = await page(story.later(hours=30))
    assert "4 stems Plantago: K2 holds 4 now" in said
    assert "2 stems Veronica: K2 holds 2 now" in said
    assert "4 tubes: K2 holds 4 now" in said


def test_the_helpers_sheet_names_each_with_its_own_number(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(
        story,
        """
        shelf set up A
        K2 set up laying shelf A
        K2 founder W2 "Melitaea cinxia" female
        K2 host in Plantago water 3 sprigs
        K2 host in Veronica water 2 sprigs
        S1 set up host store shelf A
        S1 host in Plantago fridge 20 sprigs
        S1 host in Veronica fridge 1 sprig
        """,
    )
    ran = story.shell("sheet", "--from", "2027-05-01 09:00", "--to", "2027-05-04 12:00")
    assert "add fresh Plantago from S1: 3 stems and" in ran.out
    assert "Veronica from S1: 2 stems." in ran.out
    assert (
        "S1 holds 1 stem of Veronica on record, the sheet asks for 2: cut more" in ran.err + ran.out
    )
    assert "20 stems of Plantago" not in ran.err + ran.out


async def page(story: Story) -> str:
    """What the page of the supplies says."""
    async with story.screens(size=(120, 50)) as screen:
        await screen.press("k")
        return screen.text
