"""Cups that have no place on the shelf are walked as a keeper counts: R2 before R10."""

from __future__ import annotations

import re

from tests.stories.telling import Story


def test_r2_comes_before_r10_on_every_list(story: Story) -> None:
    for code in ("R10", "R2", "R1", "R11"):
        story.type(f"{code} 5 L3 Aglais levana on nettle")
    counted = ["R1", "R2", "R10", "R11"]

    assert re.findall(r"\bR\d+", story.shell("shelves").out) == counted
    story.later(hours=26)
    walked = story.shell("round", "--plain", typed="\n".join(["- no time"] * 20)).out
    assert list(dict.fromkeys(re.findall(r"\bR\d+", walked))) == counted
    sheet = story.shell("sheet", "--to", "+2d").out
    assert list(dict.fromkeys(re.findall(r"\bR\d+", sheet))) == counted
