"""A clock put back by less than an hour: what was said then lies ahead, and is told so."""

from __future__ import annotations

from tests.stories.telling import Story, tell


async def test_lines_that_lie_ahead_are_told_as_ahead(story: Story) -> None:
    story.at("2027-06-10 18:00")
    tell(
        story,
        """
        K2 set up laying barrier=moat
        K2 founder W1, Polyommatus icarus female
        K2 host in Lotus corniculatus
        K2 drank
        K2 barrier full
        room 28C
        """,
    )
    story.at("2027-06-10 17:10")
    async with story.screens((110, 40)) as screen:
        text = screen.text
        await screen.press("r")
        asked = screen.text
    row = next(line for line in text.splitlines() if line.lstrip(" >#=:.~").startswith("K2 "))
    assert "in 50 min" in text
    assert "50 min ago" not in text
    assert "50 min ago" not in asked
    assert row.count("-50 ") == 2, row
