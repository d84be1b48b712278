"""No list cuts its words in a terminal of 80 by 24: what has no room there is written shorter."""

from __future__ import annotations

import pytest

from rounds.app.desk import Desk
from rounds.screens.rowlist import RowList
from tests.conftest import Clock
from tests.screens.conftest import Opened

LISTS = {
    "v": "late",
    "y": "daybook",
    "p": "plan",
    "full_stop": "coming",
    "z": "broods",
    "8": "cuttings",
    "6": "records",
}


@pytest.mark.parametrize("key", LISTS, ids=LISTS.values())
@pytest.mark.parametrize("hours", [0, 6, 30])
async def test_no_list_cuts_its_words(
    demo_desk: Desk, opened: Opened, clock: Clock, key: str, hours: int
) -> None:
    clock.on(hours=hours)
    async with opened(demo_desk) as (app, pilot):
        await pilot.press(key)
        rows = app.screen.query_one(RowList)
        drawn = [rows.render_line(row).text for row in range(rows.size.height)]
        assert len(drawn) > 5
        assert [row for row in drawn if "…" in row] == []


async def test_a_search_shows_all_of_the_highlighted_row(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("comma", *"strob", "down")
        rows = app.screen.query_one(RowList)
        about = rows.rows[rows.cursor].cells[2].text
        shown = " ".join(str(app.screen.query_one("#line").render()).split())
        assert "strobilanthes" in about
        assert shown == about
