"""One key at the bench, one line at the prompt, one answer on lines, one command: each is in the book at once."""

from __future__ import annotations

from tests.stories.telling import Story, tell


async def test_every_door_writes_the_same_book(story: Story) -> None:
    tell(
        story,
        """
        shelf set up sill
        K2 set up laying shelf=sill place=1
        K2 founder MOR-27-01, Melitaea cinxia female
        """,
    )
    async with story.screens() as screen:
        screen.highlight("K2")
        await screen.press("d")
        assert story.on_disk()[-1]["what"] == "drank"
        await screen.type("K2 misted")
        assert story.on_disk()[-1]["what"] == "misted"
        assert "K2" in screen.text
    story.reopen()
    ran = story.shell("log", "K2", "note", "one worn, left hind wing")
    assert ran.status == 0, ran.err
    assert story.on_disk()[-1]["what"] == "note"
    story.reopen()
    story.later(hours=12)
    assert "drink" in story.due("K2")
    printed = story.plain(["20/24"])
    assert any("room" in line.lower() for line in printed)
