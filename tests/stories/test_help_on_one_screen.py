"""The help: all keys of a page on one screen, words on the next key, and finding in both."""

from __future__ import annotations

import pytest

from rounds.views.actions import ACTIONS, actions_of, scopes_of
from rounds.views.key_page import key_page
from tests.stories.telling import Story

BENCH = ["K2 set up laying", "K2 founder W3 'Boloria dia' female"]


async def test_all_keys_of_the_bench_are_on_one_screen(story: Story) -> None:
    story.type(*BENCH)
    async with story.screens() as screen:
        await screen.press("question_mark")
        rows = screen.text.splitlines()
        assert len(rows) == 24
        for words in (
            "Enter most urgent check",
            "m     map of the shelves",
            "v     what is late",
            "k     cut and mix",
            "=     calculator",
            "q     quit, all is saved",
            "#     in danger",
            "~     do not disturb",
        ):
            assert words in screen.text, words
        assert screen.app.screen.query_one("#reading").max_scroll_y == 0


@pytest.mark.parametrize("page", sorted({action.scope for action in ACTIONS} - {"list"}))
def test_every_key_of_every_page_is_named(page: str) -> None:
    rows = [line.text for line in key_page((page,), {}, 78)]  # type: ignore[arg-type]
    assert len(rows) <= 21
    assert max(map(len, rows)) <= 76
    keys = [row[at : at + 6] for row in rows for at in range(0, len(row), 1)]
    assert keys
    wanted = actions_of(*scopes_of(page))  # type: ignore[arg-type]
    named = sum(1 for row in rows for part in row.split("  ") if part.strip())
    assert named > len({action.id for action in wanted})


async def test_a_word_is_found_in_the_help(story: Story) -> None:
    story.type(*BENCH)
    async with story.screens() as screen:
        await screen.press("question_mark", "slash", *"female-days", "enter")
        assert "help with 'female-days'" in screen.text
        assert "Who laid on what" in screen.words
        assert "Sorts in walking order" not in screen.words
        await screen.press("escape")
        assert "every key, check and word" in screen.words
        await screen.press("slash", *"xyzzy", "enter")
        assert "No line of the help has 'xyzzy'." in screen.text
        await screen.press("escape", "escape")
        assert type(screen.app.screen).__name__ == "BenchScreen"
