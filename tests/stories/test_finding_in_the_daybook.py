"""Words looked for in the daybook lead to the newest line that has them."""

from __future__ import annotations

from tests.stories.telling import Story


async def test_the_marker_goes_to_the_newest_match(story: Story) -> None:
    story.at("2027-06-01 07:00").type("K2 set up laying", "K2 founder W2 Boloria dia female")
    for day in range(2, 9):
        story.at(f"2027-06-0{day} 07:00").type("K2 drank", f"K2 note day {day}")
    async with story.screens((120, 40)) as screen:
        await screen.press("y", *["down"] * 8, "slash")
        await screen.press(*"drank", "enter")
        marked = next(line for line in screen.text.splitlines() if line.startswith(">"))
        assert "8 Jun 07:00" in marked
        assert "K2 drank" in screen.card
