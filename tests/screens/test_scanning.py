"""A scanned label types its code into the prompt: that alone goes to the container."""

from __future__ import annotations

import pytest

from rounds.app.desk import Desk
from rounds.screens.bench_screen import BenchScreen
from rounds.screens.round_screen import RoundScreen
from rounds.screens.rowlist import RowList
from tests.screens.conftest import Opened
from tests.screens.test_bench_screen import message


@pytest.mark.parametrize("scanned", ["R7", "r7"])
async def test_a_code_alone_goes_to_its_container(
    demo_desk: Desk, opened: Opened, scanned: str
) -> None:
    before = len(demo_desk.entries())
    async with opened(demo_desk) as (app, pilot):
        assert app.screen.query_one(RowList).key != "R7"
        await pilot.press("t", *scanned, "enter")

        rows = app.screen.query_one(RowList)
        assert rows.key == "R7"
        assert rows.has_focus
        assert len(demo_desk.entries()) == before


async def test_a_line_that_a_filter_hides_is_shown_again(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        screen = app.screen
        assert isinstance(screen, BenchScreen)
        screen.find("K7")
        await pilot.press("t", *"W7", "enter")

        assert screen.query_one(RowList).key == "W7"
        assert len(screen.query_one(RowList).rows) > 5


async def test_from_another_page_it_goes_back_to_the_bench(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("y", "t", *"P7", "enter")

        assert isinstance(app.screen, BenchScreen)
        assert app.screen.query_one(RowList).key == "P7"


async def test_in_a_round_it_looks_at_that_stop(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r")
        screen = app.screen
        assert isinstance(screen, RoundScreen)
        await pilot.press("t", *"R2", "enter")

        assert screen.here() == "R2"


async def test_what_is_no_code_is_still_refused_with_what_was_typed_kept(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("t", *"R9x", "enter")

        assert message(app)
        assert app.screen.query_one("#prompt").display
