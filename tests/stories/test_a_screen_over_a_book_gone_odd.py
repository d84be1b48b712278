"""A screen under the line that the book is not whole calls nothing of it the whole, from that line on."""

from __future__ import annotations

from tests.stories.telling import Story


async def test_nothing_is_late_is_not_said_of_a_book_that_is_not_whole(story: Story) -> None:
    story.type("L2 set up rearing", "L2 3 larvae of Pieris orata", "L2 host in Rorippa leaf")
    async with story.screens() as screen:
        assert "nothing is late" in screen.text
        story.folder.joinpath("entries-zzzzzzzz-2027-05.jsonl").write_text('{"what""taxon"}\n')
        screen.app.hear()
        await screen.pilot.pause()
        assert "NOT WHOLE" in screen.text
        calm = [row for row in screen.text.splitlines() if "othing is late" in row]
        assert all("in what can be read" in row for row in calm)


async def test_nor_does_the_map_say_it(story: Story) -> None:
    story.type("L2 set up rearing", "L2 3 larvae of Pieris orata", "L2 host in Rorippa leaf")
    async with story.screens() as screen:
        await screen.press("m")
        assert "nothing is late or due" in screen.text
        story.folder.joinpath("entries-zzzzzzzz-2027-05.jsonl").write_text('{"what""taxon"}\n')
        screen.app.hear()
        await screen.pilot.pause()
        assert "nothing is late or due in what can be read" in screen.text
