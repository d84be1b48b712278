"""Kept stems are kept since they were taken out, not since they were cut or offered."""

from __future__ import annotations

from tests.stories.telling import Story, tell


async def test_list_and_card_say_since_when_stems_are_kept(story: Story) -> None:
    story.at("2027-05-01 18:00")
    tell(
        story,
        """
        K2 set up laying
        E2 set up eggs
        K2 founder W3 "Boloria dia" female place="Bank A" caught=2027-04-28
        K2 host in Viola water sprigs=2
        """,
    )
    story.at("2027-05-05 18:00").type("K2 host out held in E2", "K2 host in Viola water sprigs=2")
    async with story.at("2027-05-06 08:00").screens((120, 40)) as screen:
        row = next(row for row in screen.text.splitlines() if "E2 " in row and "kept stems" in row)
        assert "kept since Wed 5" in row
        assert "since Sat 1" not in row
        screen.highlight("E2")
        await screen.pilot.pause()
        assert "with her from Sat 1 18:00, kept since Wed 5 18:00" in screen.card
