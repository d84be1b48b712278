"""Made to be used: keys that follow the keeper, large letters, search, and help about what is highlighted."""

from __future__ import annotations

from textwrap import wrap

import pytest
from textual.widgets import Input

from rounds.app.desk import Desk
from rounds.entries import registry as k
from rounds.screens.bench_screen import BenchScreen
from rounds.screens.daybook_screen import DaybookScreen
from rounds.screens.lines import KeysLine, Lines
from rounds.screens.prompt import Prompt
from rounds.screens.question import QuestionBar
from rounds.screens.rowlist import RowList
from rounds.screens.search_screen import SearchScreen
from rounds.views.block_letters import block_letters, half_letters
from tests.screens.conftest import Opened
from tests.screens.driving import all_parts, walk
from tests.screens.test_bench_screen import message, on_disk
from tests.screens.test_round_screen import asked, text_of


async def test_a_changed_key_works_and_every_hint_follows(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk, (120, 40)) as (app, pilot):
        app.screen.query_one(RowList).highlight("K7")
        await pilot.press("t")
        app.screen.query_one(Prompt).value = "setting key.drank ;"
        await pilot.press("enter")
        assert "saved" in message(app)
        await pilot.press("escape")
        assert "; drank" in str(app.screen.query_one(KeysLine).render())
        before = len(on_disk(demo_desk))
        await pilot.press("d")
        assert len(on_disk(demo_desk)) == before
        await pilot.press("semicolon")
        assert on_disk(demo_desk)[-1]["what"] == "drank"
        await pilot.press("question_mark")
        assert ";     all drank" in str(app.screen.query_one("#help", Lines).render())
        await pilot.press("question_mark")
        told = str(app.screen.query_one("#help", Lines).render())
        assert ";               All females in the highlighted container drank" in told


async def test_a_key_that_clashes_is_refused_and_what_was_typed_stays(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("t")
        app.screen.query_one(Prompt).value = "setting key.drank o"
        await pilot.press("enter")

        assert message(app) == "o is the key of 'offered' on the bench; give that another one first"
        assert app.screen.query_one(Prompt).value == "setting key.drank o"


@pytest.mark.parametrize(("hand", "go_on"), [("left", "tab"), ("right", "enter")])
async def test_the_whole_round_with_one_hand(
    demo_desk: Desk, opened: Opened, hand: str, go_on: str
) -> None:
    demo_desk.record(k.Setting, name="hand", value=hand)
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r", *"22/26", go_on)
        assert on_disk(demo_desk)[-1]["what"] == "air"
        for _ in range(12):
            bar = app.screen.query_one(QuestionBar)
            assert bar.question is not None
            first = bar.question.answers[0]
            assert first.key == "space" or first.key in (
                "asdqwer0" if hand == "left" else "jklhiyn0"
            )
            place = asked(app)
            await pilot.press(first.key)
            if asked(app) == place:
                await pilot.press("space")
        await pilot.press("v" if hand == "left" else "u")
        assert on_disk(demo_desk)[-1]["what"] == "struck"
        assert f"{'z' if hand == 'left' else '-'} skip" in str(
            app.screen.query_one(KeysLine).render()
        )
        await pilot.press("escape" if hand == "left" else "backspace")
        assert isinstance(app.screen, BenchScreen)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_large_letters_fill_the_screen_and_are_remembered(
    demo_desk: Desk, opened: Opened, size: tuple[int, int]
) -> None:
    async with opened(demo_desk, size) as (app, pilot):
        await pilot.press("r", "tab")
        assert demo_desk.bench.settings["text"] == "large"
        await pilot.press(*"22/26", "enter")
        for _ in range(30):
            bar = app.screen.query_one(QuestionBar)
            if bar.question is None:
                await pilot.press("enter")
                continue
            assert "█" in str(bar.render())
            assert bar.region.bottom <= size[1] - 1
            drawn = await all_parts(pilot, app)
            for answer in bar.question.answers:
                name = (
                    answer.label
                    if answer.key == "space" or answer.usual
                    else f"{answer.key}: {answer.label}"
                )
                width = bar.content_size.width
                sizes = [block_letters(name, width), half_letters(name, width)]
                is_small = any(answer.label.upper() in row for row in drawn)
                assert (
                    answer.key == "enter"
                    or is_small
                    or any(
                        rows and rows[0].rstrip() in {row.rstrip() for row in drawn}
                        for rows in sizes
                    )
                ), name
            await walk(pilot, app, most=1)
    async with opened(demo_desk, size) as (app, pilot):
        await pilot.press("r")
        assert "█" in str(app.screen.query_one(QuestionBar).render())
        await pilot.press("tab")
        assert "█" not in str(app.screen.query_one(QuestionBar).render())


async def test_search_goes_to_a_container_a_note_and_a_plant(
    demo_desk: Desk, opened: Opened
) -> None:
    demo_desk.record(k.Note, text="left hind wing [bold]worn", container="K7")
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("comma", *"p7")
        assert isinstance(app.screen, SearchScreen)
        await pilot.press("enter")
        assert isinstance(app.screen, BenchScreen)
        assert app.screen.here() == "P7"

        await pilot.press("comma")
        app.screen.query_one("#wanted", Input).value = "hind [bold]"
        await pilot.pause()
        assert [row.cells[0].text for row in app.screen.query_one(RowList).rows] == ["note"]
        await pilot.press("enter")
        assert isinstance(app.screen, DaybookScreen)
        assert "hind wing [bold]worn" in text_of(app, "#card")

        await pilot.press("comma", *"oxalis", "enter")
        assert isinstance(app.screen, DaybookScreen)
        assert all("oxalis" in row.cells[2].text for row in app.screen.query_one(RowList).rows)
        await pilot.press("comma", *"no such thing", "enter")
        assert isinstance(app.screen, SearchScreen)
        await pilot.press("escape")
        assert isinstance(app.screen, DaybookScreen)


async def test_the_question_mark_tells_what_is_highlighted_why_it_is_due_and_the_rule(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        app.screen.query_one(RowList).highlight("K7")
        await pilot.press("question_mark", "question_mark")
        told = str(app.screen.query_one("#help", Lines).render())
        assert told.split("keys ")[0].count("\n") > 5
        for words in (
            "K7   laying: females with a host plant",
            "why ",
            "rule ",
            "Yours to change:",
            "from ",
        ):
            assert words in told, words
        await pilot.press("escape", "r", "question_mark", "question_mark")
        assert (
            "What does the thermometer show?"
            in str(app.screen.query_one("#help", Lines).render()).split("keys ")[0]
        )
        await pilot.press("escape", "escape", "p", "question_mark", "question_mark")
        assert "basis" in str(app.screen.query_one("#help", Lines).render()).split("keys ")[0]


async def test_cautions_stand_where_the_work_can_hurt(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        app.screen.query_one(RowList).highlight("R4")  # the nettle moth's larvae
        await pilot.press("right")
        assert "hairs may sting" in text_of(app, "#card")


async def test_a_book_in_fahrenheit_tells_and_takes_it_and_stays_metric(
    demo_desk: Desk, opened: Opened
) -> None:
    for name, value in (("temperature", "F"), ("length", "in")):
        demo_desk.record(k.Setting, name=name, value=value)
    async with opened(demo_desk, (120, 40)) as (app, pilot):
        assert " F" in text_of(app, "#head")
        await pilot.press("r")
        assert "number, Enter  degrees F" in str(app.screen.query_one(QuestionBar).render())
        await pilot.press(*"59/77", "enter")
        assert (on_disk(demo_desk)[-1]["low_c"], on_disk(demo_desk)[-1]["high_c"]) == (15, 25)
        assert "59 to 77 F" in message(app)
        assert asked(app)[1] == "ants"
        await pilot.press("1", "enter")
        assert on_disk(demo_desk)[-1]["depth_mm"] == 25.4
        assert "1 in" in message(app)


async def test_the_prompt_shows_beforehand_what_will_be_written(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        before = len(on_disk(demo_desk))
        await pilot.press("t")
        for typed, told in (
            ("K7 drank 2 -20m", "will write  06:44  K7 drank: number 2"),
            ("K7 drnk", "'drnk' is not an event that can be recorded; perhaps drank"),
            ("K7 drank 99", "99 adults drank, but K7 holds 2"),
            ("K7", "Enter goes to K7"),
            ("setting theme pink", "theme is 'pink'; it can be dark, light, contrast, red"),
        ):
            app.screen.query_one(Prompt).value = typed
            await pilot.pause()
            assert message(app).startswith(told), message(app)
        assert len(on_disk(demo_desk)) == before


async def test_typed_lines_come_back_on_every_screen(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("t")
        app.screen.query_one(Prompt).value = "K7 drank 2"
        await pilot.press("enter", "y", "t", "up")
        assert app.screen.query_one(Prompt).value == "K7 drank 2"
        await pilot.press("escape", "escape", "t")
        app.screen.query_one(Prompt).value = "K7 dra"
        app.screen.query_one(Prompt).cursor_position = 6
        await pilot.pause()
        await pilot.press("tab")
        assert app.screen.query_one(Prompt).value == "K7 drank"


async def test_a_struck_line_can_be_brought_back_in_the_daybook(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        app.screen.query_one(RowList).highlight("K7")
        await pilot.press("d", "u", "y")
        rows = app.screen.query_one(RowList)
        struck = next(
            row.key
            for row in rows.rows
            if row.cells[2].text.startswith("NO LONGER COUNTS: K7 drank")
        )
        strike = next(
            row.key for row in rows.rows if row.cells[2].text.startswith("crossed out: K7 drank")
        )
        rows.highlight(struck)
        await pilot.press("x")
        assert struck in demo_desk.struck  # it asks why first
        await pilot.press(*"right", "enter")
        assert struck not in demo_desk.struck
        assert strike in demo_desk.struck


def stands_together(words: str, drawn: list[str], wide: int) -> bool:
    """Whether a key and its answer stand on one row; those wider than it fill it, and the rows right
    below, further in."""
    if len(words) + 2 <= wide:
        return any(words in row for row in drawn)
    rows = wrap(words, wide, initial_indent="  ", subsequent_indent="     ", break_on_hyphens=False)
    return any(drawn[at : at + len(rows)] == rows for at in range(len(drawn)))


@pytest.mark.parametrize("width", [30, 60, 80, 120])
async def test_a_key_and_its_answer_are_never_torn_apart(
    demo_desk: Desk, opened: Opened, width: int
) -> None:
    async with opened(demo_desk, (width, 30)) as (app, pilot):
        await pilot.press("r", "minus")
        bar = app.screen.query_one(QuestionBar)
        for _ in range(10):
            if bar.question is None:
                break
            drawn = await all_parts(pilot, app)
            for answer in bar.question.answers:
                sign = {"enter": "number, Enter", "space": "Space", "apostrophe": "'"}.get(
                    answer.key, answer.key
                )
                told = (
                    answer.takes.words if answer.key == "enter" and answer.takes else answer.label
                )
                signs = {"Space", f"Space or {answer.key}"} if answer.usual else {sign}
                wide = bar.content_size.width
                assert any(stands_together(f"{one}  {told}", drawn, wide) for one in signs), drawn
            await pilot.press("escape") if "Skip." in drawn[0] else await walk(pilot, app, most=1)
