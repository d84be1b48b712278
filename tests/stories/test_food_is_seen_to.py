"""What the bench says of food is what it counts: since when somebody saw that there was some."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def larvae(story: Story) -> Story:
    """Nine of the last instar, listed with a plant that stood with them since seven."""
    story.at("2027-05-17 07:05")
    lines = story.folder.parent / "running.tsv"
    lines.write_text("R2\t9 L5 Boloria dia\tviola\t07:00\tsill\n")
    assert story.shell("begin", "--list", str(lines)).status == 0
    story.at("2027-05-18 07:05").reopen()
    return story


async def card_after(larvae: Story, said: str) -> str:
    """The card on the day after something was said of the plant, with all else answered."""
    larvae.type(said)
    larvae.at("2027-05-19 07:30").type("R2 looked", "R2 cleaned", "R2 counted 9")
    async with larvae.screens((120, 40)) as screen:
        screen.highlight("R2")
        await screen.pilot.pause()
        return screen.card


async def test_a_look_at_the_plant_is_no_new_food(larvae: Story) -> None:
    larvae.type("R2 host fresh")
    larvae.at("2027-05-19 20:06")
    async with larvae.screens() as screen:
        assert "R2 9 L5 dia have not been seen with food for 37 h" in screen.words
        assert "viola 2 d 13 h" in screen.words
        assert "no new food" not in screen.words


async def test_the_card_says_why_plenty_lasts_longer_than_the_plan(larvae: Story) -> None:
    card = await card_after(larvae, "R2 plenty left -10m")
    assert "food every 12 h (plan: rearing, last instar)" in card
    assert "since Tue 06:55, 24 h 35 min ago" in card
    assert "plenty was seen, enough for 24 h, due 06:55 today" in card


async def test_the_card_says_how_long_stems_last_that_were_counted(larvae: Story) -> None:
    card = await card_after(larvae, "R2 host in viola 40 stems")
    assert "food every 12 h" in card
    assert "40 stems were put in, enough for 24 h, due 07:05 today" in card


@pytest.mark.parametrize(
    ("line", "told", "state"),
    [
        ("R2 food nearly gone", "R2 host seen, little left", None),
        ("R2 leaves almost gone", "R2 host seen, little left", None),
        ("R2 host nearly eaten", "R2 host seen, little left", None),
        ("R2 host fresh, little left", "R2 host fresh, little left", "fresh"),
        ("R2 host limp, little left", "R2 host limp, little left", "limp"),
        ("R2 host seen", "R2 host fresh", "fresh"),
    ],
)
def test_fresh_is_recorded_where_it_was_said(
    larvae: Story, line: str, told: str, state: str | None
) -> None:
    assert larvae.type(line) == [told]
    assert larvae.on_disk()[-1].get("state") == state
