"""What a filter leaves begins with a marked row: the one that was marked, else the first that is left."""

from __future__ import annotations

import re

import pytest

from rounds.screens.rowlist import RowList
from tests.stories.telling import Story, tell, tell_demo

BENCH = "\n".join(
    f"C{number} set up {'laying' if number % 3 else 'rearing'}" for number in range(1, 13)
)


@pytest.mark.parametrize("page", ["bench", "plan"])
async def test_where_the_marked_row_is_hidden_the_first_is_marked(story: Story, page: str) -> None:
    tell(story, BENCH)
    async with story.screens() as screen:
        if page == "plan":
            await screen.press("p")
        rows = screen.app.screen.query_one(RowList)
        await screen.press("end")
        last = rows.key
        words = "2" if page == "bench" else "ants"
        await screen.press("slash", *words, "enter")
        assert last not in {row.key for row in rows.rows}
        assert len(rows.rows) > 1
        assert rows.key == rows.rows[0].key


async def test_where_the_marked_row_is_left_it_stays_marked(story: Story) -> None:
    tell(story, BENCH)
    async with story.screens() as screen:
        screen.highlight("C11")
        await screen.press("slash", *"laying", "enter")
        assert screen.app.screen.query_one(RowList).key == "C11"


async def test_another_purpose_begins_with_its_first_cup(story: Story) -> None:
    tell(story, BENCH)
    async with story.screens() as screen:
        screen.highlight("C8")
        rows = screen.app.screen.query_one(RowList)
        await screen.press("g")
        while "C8" in {row.key for row in rows.rows}:
            await screen.press("g")
        assert rows.key == rows.rows[0].key


async def test_a_filter_that_leaves_nothing_says_so_and_gives_the_line_back(story: Story) -> None:
    tell_demo(story.at("2027-05-17 18:00"))
    async with story.screens() as screen:
        screen.highlight("K3")
        await screen.press("left", "f")
        while screen.app.screen.query_one(RowList).rows:
            await screen.press("g")
        assert "Nothing is due here now" in screen.text
        assert re.search(r"\n 0 of \d+ containers, only", screen.text), screen.text
        assert "Enter answer" not in screen.text
        assert "Right card" not in screen.text
        await screen.press("g")
        assert "Nothing is due here now" not in screen.text
        await screen.press("escape")
        assert "\n>: K3 " in screen.text or "\n>. K3 " in screen.text, screen.text
        assert "Enter answer" in screen.text
