"""Cuttings, by their keys."""

from __future__ import annotations

from rounds.app.desk import Desk
from rounds.screens.lines import Lines
from rounds.screens.rowlist import RowList
from tests.screens.conftest import Opened


async def test_each_cutting_shows_what_it_fed(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("8")
        rows = app.screen.query_one(RowList)
        assert len(rows.rows) > 5
        await pilot.press("down", "space", "space", "space")
        told = str(app.screen.query_one("#page", Lines).render())
        assert rows.rows[rows.cursor].cells[3].text.split(",")[0] in told
        await pilot.press("escape")
        assert type(app.screen).__name__ == "BenchScreen"
