"""No list cuts its words in a terminal of 80 by 24: what has no room there is written shorter."""

from __future__ import annotations

import pytest

from rounds.app.desk import Desk
from rounds.screens.lines import Lines
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


@pytest.mark.parametrize(("keys", "shows"), [("p", "off"), (["full_stop", "v"], "do not disturb")])
async def test_no_list_cuts_its_words_further_down(
    demo_desk: Desk, opened: Opened, keys: list[str], shows: str
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press(*keys)
        rows = app.screen.query_one(RowList)
        drawn: set[str] = set()
        for _ in range(len(rows.rows)):
            drawn |= {rows.render_line(row).text for row in range(rows.size.height)}
            if rows.cursor == len(rows.rows) - 1:
                break
            await pilot.press("pagedown")
        assert any(shows in row for row in drawn), drawn
        assert [row for row in drawn if "…" in row] == []


async def test_a_search_shows_all_of_the_highlighted_row(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("comma", *"strob", "down")
        rows = app.screen.query_one(RowList)
        about = rows.rows[rows.cursor].cells[2].text
        shown = " ".join(str(app.screen.query_one("#line").render()).split())
        assert "strobilanthes" in about
        assert shown == about


@pytest.mark.parametrize(
    ("key", "mark"), [("p", "… more: ??"), ("v", "… more: ??"), ("right", "… more: Right")]
)
async def test_a_pane_without_room_for_all_ends_in_a_mark_at_a_word(
    demo_desk: Desk, opened: Opened, clock: Clock, key: str, mark: str
) -> None:
    """The mark says which keys show the rest, and they do."""
    clock.on(hours=30)
    async with opened(demo_desk) as (app, pilot):
        await pilot.press(key)
        for _ in range(9):  # down to one that has no room there
            await pilot.press("down")
            pane = app.screen.query_one("#card", Lines)
            drawn = [pane.render_line(row).text for row in range(pane.size.height)]
            whole = str(pane.visual).split()
            shown = " ".join(drawn).split()
            if shown != whole:
                break
        assert len(shown) - len(mark.split()) < len(whole)
        assert drawn[-1].rstrip().endswith(mark)
        assert shown[: -len(mark.split())] == whole[: len(shown) - len(mark.split())]
        await pilot.press(*(["question_mark"] * 2 if "?" in mark else ["right"]))
        rest = " ".join(" ".join(str(one.visual) for one in app.screen.query(Lines)).split())
        assert whole[-1] in rest
        assert "…" not in rest
