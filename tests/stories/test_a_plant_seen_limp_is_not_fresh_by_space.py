"""Of a plant that was seen to fail Space says nothing: what is new comes first, 'again' has a letter."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

CUPS = {
    "R7": "R7 set up rearing\nR7 8 L4 'Aglais io' on nettle\nR7 host seen limp",
    "K1": "K1 set up laying\nK1 founder W1 'Aglais io' female\nK1 host in nettle kept=water\nK1 host seen limp",
}


@pytest.mark.parametrize(("code", "check"), [("R7", "food"), ("K1", "host")])
async def test_space_says_nothing_and_what_is_new_comes_first(
    story: Story, code: str, check: str
) -> None:
    tell(story, CUPS[code])
    before = story.later(hours=13).on_disk()
    async with story.screens() as screen:
        screen.highlight(code)
        await screen.press("h")
        assert screen.check == check
        await screen.press("space")
        assert story.on_disk() == before
        text = screen.text
        assert text.index("c ") < text.index("b  ")
        await screen.press("b")
    assert story.on_disk()[-1]["what"] == "host seen"
    host = story.desk.bench.containers[code].hosts[0]
    assert host.state == "fresh"


@pytest.mark.parametrize("code", ["R7", "K1"])
async def test_the_plain_round_asks_it_alike(story: Story, code: str) -> None:
    tell(story, CUPS[code])
    asked = "\n".join(story.later(hours=13).plain(["21"]))
    assert "plenty again" in asked or "fresh again" in asked
    assert "Space plenty" not in asked
