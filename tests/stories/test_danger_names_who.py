"""A line of danger says of whom it is at any width: its other words go first."""

from __future__ import annotations

from tests.stories.telling import Story, tell_demo


async def test_a_line_of_danger_names_its_animals_at_any_width(story: Story) -> None:
    story.at("2027-05-17 07:05")
    tell_demo(story)
    story.later(days=1)
    async with story.screens(size=(120, 24)) as screen:
        for width in (120, 80, 66, 50, 40):
            await screen.pilot.resize_terminal(width, 24)
            await screen.pilot.pause()
            rows = [row for row in screen.text.splitlines() if "# in danger" in row][:3]
            assert len(rows) == 3, screen.text
            for row, who in zip(rows, ("R2", "E7  34 eggs", "K7  2 females"), strict=True):
                assert who in row, rows
            assert "15 larvae" in rows[0] or "9 L5" in rows[0], rows
            if width == 80:
                assert "15 larvae not seen with food for 36 h " in rows[0], rows
