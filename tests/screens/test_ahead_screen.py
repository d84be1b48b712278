"""What is coming, by its keys: zoom, table, only animals, what came, and back."""

from __future__ import annotations

from rounds.app.desk import Desk
from rounds.screens.rowlist import RowList
from tests.screens.conftest import Opened
from tests.screens.test_round_screen import text_of


async def test_every_line_opens_what_it_rests_on(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("full_stop")
        rows = app.screen.query_one(RowList)
        assert {"hatch", "moat low", "keep until", "host old"} <= {row.cells[1].text for row in rows.rows}
        for _ in rows.rows:
            assert text_of(app, "#card").strip()
            await pilot.press("down")


async def test_zoom_moves_the_axis_and_stops_at_its_ends(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("full_stop")
        told = []
        for key in ("left", "left", "left", "right", "right", "right", "right", "right"):
            await pilot.press(key)
            told.append(text_of(app, "#head").splitlines()[0].split("   ")[-1].strip())
        assert told == ["three days", "a day", "a day", "three days", "a week", "two weeks", "six weeks", "six weeks"]


async def test_the_table_says_the_same_in_words_and_animals_can_stand_alone(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("full_stop")
        rows = app.screen.query_one(RowList)
        drawn = [(row.cells[0].text, row.cells[1].text) for row in rows.rows]
        await pilot.press("v")
        assert [(row.cells[0].text, row.cells[1].text) for row in rows.rows] == drawn
        await pilot.press("f")
        assert {row.cells[1].text for row in rows.rows} == {"hatch", "moult", "pupation", "emergence"}
        await pilot.press("v", "f")
        assert len(rows.rows) == len(drawn)


async def test_what_came_stands_beside_what_was_expected(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("full_stop", "c")
        rows = app.screen.query_one(RowList)
        assert "came true" in {row.cells[5].text for row in rows.rows}
        assert "inside the window" in text_of(app, "#head")
        assert "as it stood when its stage had begun" in text_of(app, "#card")
        await pilot.press("c", "escape")
        assert type(app.screen).__name__ == "BenchScreen"
