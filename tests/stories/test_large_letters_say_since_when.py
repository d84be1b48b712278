"""In large letters the row on top says since when a check is late, and the cup's code is as large as the question."""

from __future__ import annotations

import re

from rounds.views.block_letters import block_letters
from tests.stories.telling import Story


async def test_late_since_and_a_large_code(story: Story) -> None:
    story.at("2027-05-16 08:00").type("K4 set up laying", "K4 1f Lycaena phlaeas", "K4 drank")
    async with story.at("2027-05-18 10:00").screens() as screen:
        await screen.press("r")
        await screen.walk_to("drink", "K4")
        since = re.search(
            r"drink: [^;]*; ((?:late|urgent|in danger) since [\w: ]+\d)", screen.words
        )
        assert since, screen.text
        await screen.press("tab")
        rows = [row.rstrip() for row in screen.text.splitlines()]
        assert " ".join(rows[0].split()).endswith(since[1].removesuffix(" today")), rows[0]
        code = block_letters("K4", 78)
        assert any(row.lstrip().startswith(code[0].strip()) for row in rows), screen.text
