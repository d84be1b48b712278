"""What is coming, by its keys: span, table, only animals, what came, what is past, and what each line asks."""

from __future__ import annotations

import re

from rounds.app.desk import Desk
from rounds.entries.base import ROOTED
from rounds.screens.lines import KeysLine, Lines
from rounds.screens.question import QuestionBar
from rounds.screens.rowlist import RowList
from tests.conftest import Clock
from tests.screens.conftest import Opened
from tests.screens.test_bench_screen import message, on_disk
from tests.screens.test_round_screen import text_of


async def test_every_line_opens_what_it_rests_on(demo_desk: Desk, opened: Opened) -> None:
    """All of it: what a forecast is from is not cut."""
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("full_stop", "w")
        rows = app.screen.query_one(RowList)
        things = {row.cells[0].text for row in rows.rows}
        assert "rounds" in things
        for end in (" hatch", " moat low", " change cut"):
            assert any(thing.endswith(end) for thing in things), end
        assert any(" keep " in thing for thing in things)
        for row in rows.rows:
            if row.key not in ("past", "rounds"):
                pane = app.screen.query_one("#card", Lines)
                drawn = " ".join(pane.render_line(at).text for at in range(pane.size.height))
                assert drawn.split() == text_of(app, "#card").split()
                assert row.cells[0].text.split()[0] in text_of(app, "#line")
            await pilot.press("down")


async def test_the_span_changes_and_stops_at_its_ends(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("full_stop")
        told = []
        for key in ("left", "left", "left", "right", "right", "right", "right"):
            await pilot.press(key)
            told.append(text_of(app, "#head").split("   ")[-1].split(",")[0].strip())
        assert told == [
            "three days",
            "a day",
            "a day",
            "three days",
            "a week",
            "two weeks",
            "six weeks",
        ]
        await pilot.press("right")
        assert message(app) == "Six weeks is the longest."


async def test_the_axis_stands_over_the_drawing(demo_desk: Desk, opened: Opened) -> None:
    for size in ((80, 24), (120, 40), (60, 20)):
        async with opened(demo_desk, size) as (app, pilot):
            await pilot.press("full_stop")
            rows = [
                "".join(part.text for part in strip)
                for strip in app.screen._compositor.render_strips()
            ]
            tick = next(number for number, row in enumerate(rows) if "+" in row and "^" in row)
            midnights = [place for place, sign in enumerate(rows[tick]) if sign == "+"]
            assert midnights
            assert rows[tick - 1][midnights[0]].isalpha()


async def test_the_table_says_the_same_in_words_and_animals_can_stand_alone(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("full_stop")
        rows = app.screen.query_one(RowList)
        drawn = [
            row.cells[0].text.split()[0] for row in rows.rows if row.key not in ("past", "rounds")
        ]
        await pilot.press("v")
        table = [row.cells[0].text for row in rows.rows]
        assert table[len(table) - len(drawn) :] == drawn
        await pilot.press("f")
        assert {row.cells[1].text for row in rows.rows} == {
            "hatch",
            "moult",
            "pupation",
            "emergence",
        }
        await pilot.press("v", "f")
        assert [
            row.cells[0].text.split()[0] for row in rows.rows if row.key not in ("past", "rounds")
        ] == drawn


async def test_what_should_have_happened_is_one_line_that_unfolds(
    demo_desk: Desk, opened: Opened, clock: Clock
) -> None:
    clock.on(hours=6)
    async with opened(demo_desk, (120, 40)) as (app, pilot):
        await pilot.press("full_stop")
        rows = app.screen.query_one(RowList)
        assert rows.key == "past"
        folded = len(rows.rows)
        past = int(rows.rows[0].cells[1].text)
        assert rows.rows[0].cells[2].text.startswith("should have happened: look   ")
        assert f"{past} should have happened by now; Enter shows them" in text_of(app, "#line")
        assert "Enter unfold" in str(app.screen.query_one(KeysLine).render())
        await pilot.press("enter")
        assert len(rows.rows) == folded + past
        await pilot.press("down")
        assert "should have" in text_of(app, "#line")
        await pilot.press("up", "enter")
        assert len(rows.rows) == folded


async def test_each_line_names_and_does_what_it_wants(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk, (120, 40)) as (app, pilot):
        await pilot.press("full_stop")
        rows, keys = app.screen.query_one(RowList), app.screen.query_one(KeysLine)
        for end, wanted in (
            ("E7 hatch", "leaf"),
            (" pupation", "look"),
            (" moat low", "barrier"),
            ("R4 change cut", "food"),
        ):
            row = next(row for row in rows.rows if row.cells[0].text.endswith(end))
            rows.highlight(row.key)
            await pilot.pause()
            assert f"Enter {wanted}" in str(keys.render()), end
        hatch = next(row for row in rows.rows if row.cells[0].text == "E7 hatch")
        rows.highlight(hatch.key)
        await pilot.press("enter")
        bar = app.screen.query_one(QuestionBar)
        assert bar.due is not None
        assert (bar.due.check, bar.due.where) == ("leaf", "E7")
        before = len(on_disk(demo_desk))
        await pilot.press("a")
        assert len(on_disk(demo_desk)) > before
        assert not app.screen.query_one(QuestionBar).display
        rows.highlight("rounds")
        await pilot.press("enter")
        assert type(app.screen).__name__ == "RoundScreen"


async def test_what_came_stands_beside_what_was_expected(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("full_stop", "c")
        rows = app.screen.query_one(RowList)
        assert "came true" in {row.cells[6].text for row in rows.rows}
        off = next(row for row in rows.rows if row.cells[6].text.endswith("early"))
        assert re.search(r"\d\d:\d\d", off.cells[4].text), "by when half were expected"
        keys = app.screen.query_one(KeysLine)
        for key, words in (("left", "nearer"), ("right", "further"), ("f", "animals")):
            assert words not in str(keys.render())
            await pilot.press(key)
            assert "does nothing here. c goes back" in str(keys.render()), key
        await pilot.press("c")
        assert "a week" in text_of(app, "#head")
        await pilot.press("c")
        assert "inside the window" in text_of(app, "#head")
        assert "as it stood when its stage had begun" in text_of(app, "#card")
        await pilot.press("c", "escape")
        assert type(app.screen).__name__ == "BenchScreen"


async def test_a_plant_that_grows_is_looked_at_and_cut_stems_changed(
    demo_desk: Desk, opened: Opened
) -> None:
    grows = {
        one.code
        for one in demo_desk.bench.standing()
        if one.hosts and all(host.kept in ROOTED for host in one.hosts)
    }
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("full_stop", "v")
        rows = app.screen.query_one(RowList).rows
        wanted = {(row.cells[0].text, row.cells[1].text) for row in rows}
        looked = {where for where, what in wanted if what == "look at plant"}
        changed = {where for where, what in wanted if what == "change cut"}
        assert looked == grows & (looked | changed)
        assert changed
        assert looked
        await pilot.press("v")
        rows = app.screen.query_one(RowList).rows
        kept = [row.cells[0].text for row in rows if " keep " in row.cells[0].text]
        assert all(re.fullmatch(r"(\w+) keep \w+( of (?!\1$)\w+)?", words) for words in kept), kept
        assert any(" of " in words for words in kept), kept
