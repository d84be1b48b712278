"""What is late, the daybook, plan and settings, help: every key."""

from __future__ import annotations

from datetime import timedelta

from rounds.app.desk import Desk
from rounds.checks.due_state import time_left
from rounds.entries.registry import Drank
from rounds.screens.bench_screen import BenchScreen
from rounds.screens.help_screen import HelpScreen
from rounds.screens.lines import Lines
from rounds.screens.prompt import Prompt, Words
from rounds.screens.question import QuestionBar
from rounds.screens.rowlist import RowList
from rounds.views.overdue_page import late_ones
from rounds.views.states import SIGNS, STATES, state_of
from tests.conftest import Clock
from tests.screens.conftest import Opened
from tests.screens.test_bench_screen import message, on_disk


async def test_late_checks_stand_the_worst_first(
    demo_desk: Desk, opened: Opened, clock: Clock
) -> None:
    clock.on(hours=6)
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("v")
        rows = app.screen.query_one(RowList).rows

        told = [
            (
                STATES.index(state_of(due, clock.now)),
                time_left(due, clock.now) or timedelta(days=4000),
            )
            for due in late_ones(demo_desk.dues(), demo_desk.moment())
        ]
        assert told == sorted(told)
        assert [row.cells[2].text for row in rows] == [STATES[state] for state, _ in told]
        assert [row.sign for row in rows] == [SIGNS[STATES[state]] for state, _ in told]
        leaf = next(row for row in rows if row.key.startswith("container|E7|leaf"))
        app.screen.query_one(RowList).highlight(leaf.key)
        await pilot.pause()
        assert "eggs are dark, no leaf is in" in str(app.screen.query_one("#card", Lines).render())
        first = len(rows)
        await pilot.press("enter", "a")
        assert on_disk(demo_desk)[-1]["part"] == "tender leaf"
        assert len(app.screen.query_one(RowList).rows) == first - 1


async def test_putting_off_wants_a_reason(demo_desk: Desk, opened: Opened, clock: Clock) -> None:
    clock.on(hours=6)
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("v", "down")
        key = app.screen.query_one(RowList).key
        await pilot.press("o", "enter")
        assert message(app) == "say why, in a word or two"
        await pilot.press("o")
        app.screen.query_one(Words).value = "she sleeps"
        await pilot.press("enter")

        assert (on_disk(demo_desk)[-1]["what"], on_disk(demo_desk)[-1]["why"]) == (
            "put off",
            "she sleeps",
        )
        assert key not in {row.key for row in app.screen.query_one(RowList).rows}


async def test_a_rule_is_changed_from_where_it_nags(
    demo_desk: Desk, opened: Opened, clock: Clock
) -> None:
    clock.on(hours=6)
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("v", "c")
        assert app.screen.query_one(Prompt).value == "plan food container=R2 every_h="
        await pilot.press(*"2 amber_h=20", "enter")
        assert on_disk(demo_desk)[-1]["what"] == "plan"
        await pilot.press("enter", "escape", "escape")
        assert isinstance(app.screen, BenchScreen)


async def test_nothing_late_says_so(desk: Desk, opened: Opened) -> None:
    async with opened(desk) as (app, pilot):
        await pilot.press("v", "enter", "o", "c")

        assert str(app.screen.query_one("#head", Lines).render()) == "Nothing is late."


async def test_the_daybook_finds_strikes_and_brings_back(demo_desk: Desk, opened: Opened) -> None:
    demo_desk.record(Drank, container="K7")
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("y")
        rows = app.screen.query_one(RowList)
        assert rows.rows[0].cells[2].text == "K7 drank"
        await pilot.press("x")
        app.screen.query_one(Words).value = "wrong cup"
        await pilot.press("enter")
        assert on_disk(demo_desk)[-1]["why"] == "wrong cup"
        struck = next(row for row in rows.rows if row.cells[2].text == "NO LONGER COUNTS: K7 drank")
        assert rows.highlight(struck.key)
        await pilot.pause()
        assert "crossed out" in str(app.screen.query_one("#card", Lines).render())

        await pilot.press("x", *"seen", "enter")

        assert any(row.key == struck.key and row.cells[2].text == "K7 drank" for row in rows.rows)


async def test_the_daybook_shows_what_was_typed_late_and_what_was_struck(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("y", "slash")
        app.screen.query_one(Words).value = "window frame"
        await pilot.press("enter")
        rows = app.screen.query_one(RowList).rows
        assert [row.cells[2].text.endswith("typed 2 h later") for row in rows] == [True]
        await pilot.press("escape", "o")
        shown = app.screen.query_one(RowList)
        shown.highlight(next(row.key for row in shown.rows if row.cells[2].text.startswith("R4")))
        await pilot.press("c")
        assert {row.cells[2].text.removeprefix("NO LONGER COUNTS: ")[:2] for row in shown.rows} <= {
            "R4",
            "K5",
        }
        await pilot.press("escape")
        texts = [row.cells[2].text for row in app.screen.query_one(RowList).rows]
        assert any(text.startswith("NO LONGER COUNTS: ") for text in texts)
        await pilot.press("escape")
        assert isinstance(app.screen, BenchScreen)


async def test_plan_lists_every_rule_and_each_is_the_keepers_to_change(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("p")
        rows = app.screen.query_one(RowList)
        assert len(rows.rows) > 80
        texts = [tuple(cell.text for cell in row.cells) for row in rows.rows]
        assert len(set(texts)) == len(texts), "no two lines alike"
        assert "laying, pairing, trial" in str(app.screen.query_one("#card", Lines).render())
        await pilot.press("enter")
        assert app.screen.query_one(Prompt).value == "plan drink stage=adult every_h="
        await pilot.press("escape", "t", *"plan drink purpose=laying stage=adult every_h=10")
        await pilot.press("enter", "slash", *"drink laying yours", "enter")
        assert "3 with 'drink laying yours'; Esc shows all" in str(
            app.screen.query_one("#head", Lines).render()
        )
        await pilot.pause()
        assert rows.rows[0].cells[2].text == "every 10 h"
        assert rows.rows[0].cells[5].text == "purpose"
        await pilot.press("x")
        assert rows.rows[0].cells[2].text == "every 10 h"
        await pilot.press(*"away", "enter")
        assert rows.rows[0].cells[2].text == "off"
        assert on_disk(demo_desk)[-1]["why"] == "away"
        await pilot.press("x")
        assert rows.rows[0].cells[2].text == "every 10 h"
        await pilot.press("escape")
        assert len(rows.rows) > 80
        await pilot.press("end", "x")
        assert message(app) == "a setting cannot be switched off; Enter changes it"
        await pilot.press("escape")
        assert isinstance(app.screen, BenchScreen)


async def test_a_setting_is_changed_and_the_theme_stays_with_the_book(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("p")
        for theme in ("light", "contrast", "red", "dark"):
            await pilot.press("m")
            assert app.theme == theme
            assert demo_desk.bench.settings["theme"] == theme
        app.screen.query_one(RowList).highlight("setting evening")
        await pilot.press("enter", *"19:00", "enter")
        assert demo_desk.bench.settings["evening"] == "19:00"


async def test_help_reads_on_and_goes_back(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        for leave in ("escape", "q"):
            await pilot.press(
                "question_mark", "question_mark", "space", "down", "j", "k", "up", "b", "pagedown"
            )
            assert isinstance(app.screen, HelpScreen)
            assert app.screen.query_one("#reading").scroll_y > 0
            await pilot.press(leave)
            assert isinstance(app.screen, BenchScreen)


async def test_every_theme_says_states_in_words(
    demo_desk: Desk, opened: Opened, clock: Clock
) -> None:
    clock.on(minutes=30)
    async with opened(demo_desk) as (app, pilot):
        told = " ".join(
            cell.text for row in app.screen.query_one(RowList).rows for cell in row.cells
        )

        for word in ("urgent", "now", "low", "not seen", "suspect", "not moving", "dark "):
            assert word in told, word
        await pilot.press("escape")


async def test_asking_from_late_closes_with_escape(
    demo_desk: Desk, opened: Opened, clock: Clock
) -> None:
    clock.on(hours=6)
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("v", "enter")
        assert app.screen.query_one(QuestionBar).display
        await pilot.press("escape")
        assert not app.screen.query_one(QuestionBar).display


async def test_a_line_struck_brought_back_and_struck_again_says_each(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        app.screen.query_one(RowList).highlight("K7")
        await pilot.press("d", "y")
        line = app.screen.query_one(RowList).rows[0].key
        for told in (
            "saved: K7 drank (why)",
            "saved: K7 drank",
            "saved: K7 drank (why)",
        ):
            app.screen.query_one(RowList).highlight(line)
            await pilot.press("x")
            await pilot.press(*"why", "enter")
            assert message(app).startswith(told)


async def test_where_nothing_is_highlighted_a_key_says_so(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("y", "/", *"zzz", "enter")
        assert message(app) == "no line has 'zzz'; Esc shows all"
        await pilot.press("x")
        assert message(app) == "no line is highlighted"


async def test_that_a_key_does_nothing_is_not_said_of_the_next(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("full_stop", "8")
        assert message(app).startswith("8 does nothing here")
        await pilot.press("v")
        assert message(app) == ""


async def test_the_colours_chosen_are_named(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("p", "m")
        assert message(app).startswith("saved setting theme: light")
