"""The line on top says of kept stems what is in danger there and what to do, with one lot and with two."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.mark.parametrize(
    ("lots", "now", "said"),
    [
        (1, "2027-05-23 19:00", "larvae may be on kept stems: look for frass"),
        (2, "2027-05-23 19:00", "larvae may be on kept stems: look for frass"),
        (2, "2027-05-26 19:00", "larvae on kept stems? look for frass"),
    ],
)
async def test_the_line_on_top_names_frass(story: Story, lots: int, now: str, said: str) -> None:
    story.at("2027-05-14 18:00").type("room 18/24", "K2 2 females Pieris napi on garlic mustard")
    for lot in range(lots):
        story.later(hours=1).type("K2 searched 0", "K2 host out held")
        if lot + 1 < lots:
            story.type("K2 host in garlic mustard")
            story.later(hours=12)
    story.later(hours=1).type("K2 released 2")
    story.at(now).type("K2 looked")
    assert story.due("K2")["frass"]["state"].startswith("in danger")
    async with story.screens() as screen:
        top = next(line for line in screen.text.splitlines() if "# in danger" in line)
    assert said in top, top
    assert "none can hatch" not in top
    assert "since" in top
