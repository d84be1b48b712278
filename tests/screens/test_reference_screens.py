"""Supplies, going away and the calculator: every key."""

from __future__ import annotations

import pytest

from rounds.app.desk import Desk
from rounds.entries import registry as k
from rounds.screens.bench_screen import BenchScreen
from rounds.screens.lines import Lines
from rounds.screens.prompt import Words
from tests.screens.conftest import Opened
from tests.screens.test_bench_screen import message


def page(app: object) -> str:
    """What the page says."""
    return "\n".join(str(app.screen.query_one(name, Lines).render()) for name in ("#head", "#page"))  # type: ignore[attr-defined]


async def test_supplies_tell_amounts_and_their_arithmetic(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("k")
        told = page(app)

        assert "for tomorrow" in told
        assert "stems strobilanthes: " in told
        assert "weigh " in told
        assert "15 % by weight" in told
        await pilot.press("space", "b", "t", *"setting strength 20", "enter")
        assert demo_desk.bench.settings["strength"] == "20"
        assert "20 % by weight" in page(app)
        await pilot.press("t", *"setting strength much", "enter")
        assert demo_desk.bench.settings["strength"] == "20"
        await pilot.press("escape")
        demo_desk.record(
            k.Setting, name="strength", value="much"
        )  # as another laptop could have written it
        await pilot.pause()
        assert "cannot be used" in page(app)
        await pilot.press("escape")
        assert isinstance(app.screen, BenchScreen)


async def test_going_away_says_what_breaks_first_and_prints_the_sheet(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("b")
        told = page(app)
        assert "what breaks first, if nobody comes" in told
        assert "in danger from about" in " ".join(told.split())  # wherever its line ends
        assert "Weir House bench" in told
        assert "hold each to it until it drinks" in " ".join(told.split())

        await pilot.press("r")
        app.screen.query_one(Words).value = "+5d"
        await pilot.press("enter")
        assert "to Mon 25 May 07:04" in page(app)
        await pilot.press("l")
        app.screen.query_one(Words).value = "+6d"
        await pilot.press("enter")
        assert message(app) == "the return is not after the leaving; it must be later"
        await pilot.press("l")
        app.screen.query_one(Words).value = "soon"
        await pilot.press("enter")
        assert "is no time to come" in message(app)
        await pilot.press("escape")
        assert isinstance(app.screen, BenchScreen)


async def test_the_calculator_lists_asks_and_refuses(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("equals_sign")
        assert "hidden-eggs" in page(app)
        for typed, wanted in (
            (
                "laying --eggs 0 --female-days 5.5",
                "none in 5.5 female-days: under 0.67 a day (two-sided 95 %)",
            ),
            ("laying --eggs -1 --female-days 5.5", "eggs is -1; it must be at least 0"),
            ("sun", "--latitude"),
            ("nothing", "no calculation is called 'nothing'"),
            ("forecast --species 'Orthosia hibisci' --temperature 15", "Orthosia hibisci's own"),
            ("'", "no calculation is called"),
        ):
            await pilot.press("enter")
            app.screen.query_one(Words).value = typed
            await pilot.press("enter")
            assert wanted in page(app), typed
        await pilot.press("enter")
        app.screen.query_one(Words).value = ""
        await pilot.press("enter")
        assert "hidden-eggs" in page(app)
        await pilot.press("escape")
        assert isinstance(app.screen, BenchScreen)


@pytest.mark.parametrize("key", ["k", "b", "equals_sign"])
async def test_they_open_on_an_empty_bench(desk: Desk, opened: Opened, key: str) -> None:
    async with opened(desk) as (app, pilot):
        await pilot.press(key, "question_mark", "escape", "escape")
        assert isinstance(app.screen, BenchScreen)


@pytest.mark.parametrize("key", ["k", "b", "i", "equals_sign"])
async def test_a_page_longer_than_the_screen_says_how_to_read_on(
    demo_desk: Desk, opened: Opened, key: str
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press(key)
        assert "Space read on" in str(app.screen.query_one("#keys").render())
        await pilot.press("space")
        assert app.screen.query_one("#reading").scroll_y > 0
        await pilot.press("b")
        assert app.screen.query_one("#reading").scroll_y == 0


async def test_a_time_gone_by_is_no_time_to_leave(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("b", "l", *"yesterday", "enter")
        assert message(app) == "leaving is in the past; it must be from now on"
