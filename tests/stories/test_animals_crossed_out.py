"""A line crossed out: once or twice it does not count, and bringing it back asks why."""

from __future__ import annotations

import json
import re

from tests.stories.telling import Story, tell
from tests.stories.test_animals_which import stock

LARVAE = """
R4 set up rearing
brood WIL-27-02/A
R4 stocked 8 L3 WIL-27-02/A
R4 died 3 L3
"""


def last_id(story: Story) -> str:
    """The id of the death."""
    return next(str(line["id"]) for line in story.on_disk() if line["what"] == "died")


async def test_bringing_back_asks_why_and_keeps_the_reason(story: Story) -> None:
    tell(story, LARVAE)
    death = last_id(story)
    story.type(f"struck {death}")
    assert sum(stock(story, "R4").values()) == 8
    async with story.screens() as screen:
        await screen.press("y")
        screen.highlight(death)
        await screen.press("x")
        assert sum(stock(story, "R4").values()) == 8
        assert "why is it brought back?" in screen.text
        await screen.press("s", "e", "e", "n", "enter")
        assert re.match(r"saved: R4 died 3 .* brought back$", screen.message)
    assert sum(stock(story, "R4").values()) == 5
    assert story.on_disk()[-1]["why"] == "seen"


async def test_crossed_out_on_two_laptops_it_is_brought_back_at_once(story: Story) -> None:
    tell(story, LARVAE)
    death = last_id(story)
    story.type(f"struck {death}")
    again = dict(story.on_disk()[-1])
    again["id"] = again["id"][:-1] + ("a" if again["id"][-1] != "a" else "b")
    with (story.folder / "entries-bbbb2222-2027-05.jsonl").open("a") as laptop:
        laptop.write(json.dumps(again) + "\n")
    story.reopen()
    assert sum(stock(story, "R4").values()) == 8
    assert "crossed out already" in story.refused(f"struck {death}")
    async with story.screens() as screen:
        await screen.press("y")
        screen.highlight(death)
        await screen.press("x", "o", "k", "enter")
    assert sum(stock(story, "R4").values()) == 5
