"""Every screen at every size: twenty columns, resized during everything, and nothing raises."""

from __future__ import annotations

import random

import pytest

from rounds.app.desk import Desk
from rounds.screens.prompt import Prompt
from rounds.views.actions import ACTIONS
from tests.screens.conftest import Opened
from tests.screens.driving import walk
from tests.screens.test_bench_screen import on_disk

PAGES = [action.key for action in ACTIONS if action.scope == "bench" and action.id in
         ("overdue", "daybook", "plan", "ahead", "laying", "broods", "batches", "learned", "supplies", "away", "calculator", "map")]  # fmt: skip


@pytest.mark.parametrize("size", [(20, 8), (40, 12)])
async def test_every_page_in_a_tiny_terminal(
    demo_desk: Desk, opened: Opened, size: tuple[int, int]
) -> None:
    async with opened(demo_desk, size) as (app, pilot):
        for key in [*PAGES, "question_mark", "comma"]:
            await pilot.press(key)
            assert app.screen.size.width == size[0]
            await pilot.press("down", "pagedown", "escape")
        await pilot.press(
            "r", *"22/26", "enter", "tab", "space", "question_mark", "escape", "tab", "escape"
        )
        assert demo_desk.bench.open_round is not None


async def test_resized_during_a_round_and_between_pages(demo_desk: Desk, opened: Opened) -> None:
    chance = random.Random(7)
    before = len(on_disk(demo_desk))
    async with opened(demo_desk) as (app, pilot):
        for key in PAGES:
            await pilot.press(key)
            await pilot.resize_terminal(chance.randint(20, 200), chance.randint(6, 60))
            await pilot.press("escape")
        await pilot.press("r")
        for _ in range(25):
            await pilot.resize_terminal(chance.randint(20, 140), chance.randint(6, 50))
            if chance.random() < 0.2:
                await pilot.press("tab")
            await walk(pilot, app, most=1)
        await pilot.press("t")
        app.screen.query_one(Prompt).value = "K7 note resized"
        await pilot.resize_terminal(20, 6)
        await pilot.press("enter")
    said = on_disk(demo_desk)[before:]
    assert said[-1]["text"] == "resized"
    assert len(said) > 15
