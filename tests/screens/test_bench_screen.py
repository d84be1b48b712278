"""The bench: every key, on real lines, with the entry found on disk."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from textual.widgets import Static

from rounds.app.desk import Desk
from rounds.bench.state import Bench, Container
from rounds.screens.app import RoundsApp
from rounds.screens.bench_screen import BenchScreen
from rounds.screens.lines import Lines
from rounds.screens.prompt import Prompt, Words
from rounds.screens.question import QuestionBar
from rounds.screens.round_screen import RoundScreen
from rounds.screens.rowlist import RowList
from rounds.views.as_it_stands import Fact, facts
from tests.conftest import Clock
from tests.screens.conftest import Opened


def on_disk(desk: Desk) -> list[dict[str, Any]]:
    """Every entry as it lies in the book, the newest last."""
    lines: list[dict[str, Any]] = []
    for file in sorted(desk.book.folder.glob("entries-*.jsonl")):
        lines += [json.loads(line) for line in file.read_text().splitlines()]
    return lines


def at(app: RoundsApp, code: str) -> None:
    """Highlight a container."""
    assert app.screen.query_one(RowList).highlight(code)


def message(app: RoundsApp) -> str:
    """What the message line says."""
    return str(app.screen.query_one("#message", Static).render())


async def test_drank_is_one_key_and_on_disk(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        at(app, "K7")
        await pilot.press("d")

        set_up = demo_desk.bench.containers["K7"].set_up
        assert on_disk(demo_desk)[-1] | {"id": "", "at": "", "logged": ""} == {
            "what": "drank", "id": "", "at": "", "logged": "", "by": "KM", "container": "K7", "cups": [["K7", set_up]],
            "how": "by herself",
        }  # fmt: skip
        assert message(app).startswith("saved K7 drank")
        assert message(app).endswith("u undo")
        row = next(row for row in app.screen.query_one(RowList).rows if row.key == "K7")
        assert row.cells[2].text.startswith("drank just now")


async def test_offered_is_another_key(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        at(app, "K7")
        await pilot.press("o")

        assert on_disk(demo_desk)[-1]["what"] == "offered"
        assert (
            "12 h"
            in next(row for row in app.screen.query_one(RowList).rows if row.key == "K7")
            .cells[2]
            .text
        )


async def test_drank_where_nothing_drinks_is_refused_in_one_line(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        before = len(on_disk(demo_desk))
        at(app, "R4")
        await pilot.press("d")

        assert message(app) == "R4 holds no adults to drink; it holds 34 larvae L1 of SHI-26-07/A"
        assert len(on_disk(demo_desk)) == before


async def test_the_asking_keys_ask_and_one_more_key_answers(
    demo_desk: Desk, opened: Opened
) -> None:
    asked = [
        ("h", "space", "host seen", {"state": "fresh"}),
        ("a", "k", "barrier", {"shelf": "window", "state": "low"}),
        ("e", "0", "searched", {"found": 0}),
        ("l", "a", "looked", {"sign": "weak"}),
        ("c", "c", "counted", {"number": 2}),
    ]
    async with opened(demo_desk) as (app, pilot):
        at(app, "K7")
        for ask, answer, what, fields in asked:
            await pilot.press(ask)
            assert app.screen.query_one(QuestionBar).display
            await pilot.press(answer)
            written = on_disk(demo_desk)[-1]
            assert written["what"] == what
            assert {name: written.get(name) for name in fields} == fields
            assert not app.screen.query_one(QuestionBar).display


async def test_a_number_typed_is_the_count(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        at(app, "K2")
        await pilot.press("e", "1", "2", "backspace", "4", "enter")

        assert (on_disk(demo_desk)[-1]["found"], on_disk(demo_desk)[-1]["container"]) == (14, "K2")


async def test_escape_leaves_a_question_unanswered(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        before = len(on_disk(demo_desk))
        at(app, "K7")
        await pilot.press("a", "escape")

        assert not app.screen.query_one(QuestionBar).display
        assert len(on_disk(demo_desk)) == before


async def test_enter_asks_what_is_most_urgent_here(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        at(app, "E7")
        await pilot.press("enter")
        assert app.screen.query_one(QuestionBar).due is not None
        assert app.screen.query_one(QuestionBar).due.check == "leaf"  # type: ignore[union-attr]

        await pilot.press("a")

        assert (on_disk(demo_desk)[-1]["what"], on_disk(demo_desk)[-1]["part"]) == (
            "host in",
            "tender leaf",
        )


async def test_marked_lines_are_all_meant(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        at(app, "K7")
        await pilot.press("space", "space", "d")

        assert [entry["container"] for entry in on_disk(demo_desk)[-2:]] == ["K7", "K2"]
        assert app.screen.query_one(RowList).marked == set()
        at(app, "K7")
        await pilot.press("space", "space", "a", "space", "space", "escape")
        assert app.screen.query_one(RowList).marked == set()


async def test_the_prompt_says_anything_and_keeps_what_is_refused(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        at(app, "K7")
        await pilot.press("t")
        prompt = app.screen.query_one(Prompt)
        assert prompt.value == "K7 "
        prompt.value = "K7 drnk 2"
        await pilot.press("enter")

        assert prompt.display
        assert prompt.value == "K7 drnk 2"
        assert message(app) == "'drnk' is not an event that can be recorded; perhaps drank"

        prompt.value = "K7 drank 2 -20m"
        await pilot.press("enter")

        assert not prompt.display
        assert on_disk(demo_desk)[-1]["number"] == 2
        assert on_disk(demo_desk)[-1]["at"] < on_disk(demo_desk)[-1]["logged"]


async def test_a_line_begun_and_left_can_be_called_back(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("n")
        prompt = app.screen.query_one(Prompt)
        prompt.value = "K7 note half a thought"
        await pilot.press("escape", "t", "up")

        assert prompt.value == "K7 note half a thought"
        await pilot.press("enter")
        assert on_disk(demo_desk)[-1]["text"] == "half a thought"


async def test_tab_takes_the_completion(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("t")
        prompt = app.screen.query_one(Prompt)
        prompt.value = ""
        await pilot.press(*"K7 dra")
        await pilot.pause()
        await pilot.press("tab", "enter")

        assert on_disk(demo_desk)[-1]["what"] == "drank"


async def test_strike_takes_the_last_back(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        at(app, "K7")
        await pilot.press("d", "u")

        assert on_disk(demo_desk)[-1]["what"] == "struck"
        assert on_disk(demo_desk)[-1]["entry"] == on_disk(demo_desk)[-2]["id"]
        assert (
            "12 h"
            in next(row for row in app.screen.query_one(RowList).rows if row.key == "K7")
            .cells[2]
            .text
        )
        await pilot.press("u")
        assert message(app).startswith("Nothing recorded since the start.")


async def test_sorting_filtering_and_finding(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        rows = app.screen.query_one(RowList)
        everything = len(rows.rows)
        assert rows.rows[0].key == "E7"
        await pilot.press("s")
        assert rows.rows[0].sign in "#="
        await pilot.press("s", "f")
        assert 0 < len(rows.rows) < everything
        await pilot.press("f", "g")
        assert {demo_desk.bench.containers[row.key].purpose for row in rows.rows} == {"holding"}
        await pilot.press("escape", "slash")
        app.screen.query_one(Words).value = "maha"
        await pilot.press("enter")
        assert "K3" in {row.key for row in rows.rows}
        assert "R4" not in {row.key for row in rows.rows}
        await pilot.press("escape")
        assert len(rows.rows) == everything


async def test_when_it_happened_goes_with_the_next_answers(
    demo_desk: Desk, opened: Opened, clock: Clock
) -> None:
    async with opened(demo_desk) as (app, pilot):
        at(app, "K7")
        await pilot.press("w")
        app.screen.query_one(Words).value = "-20m"
        await pilot.press("enter", "d")

        entry = max(demo_desk.entries(), key=lambda one: one.id)
        assert (entry.logged - entry.at).total_seconds() == 1200
        await pilot.press("w", "o")
        assert max(demo_desk.entries(), key=lambda one: one.id).at == clock.now
        await pilot.press("w")
        app.screen.query_one(Words).value = "soon"
        await pilot.press("enter")
        assert "is not a time" in message(app)


async def test_suspect_marks_and_moves_to_the_end(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        at(app, "R4")
        await pilot.press("x")

        assert on_disk(demo_desk)[-1]["what"] == "suspect"
        codes = [row.key for row in app.screen.query_one(RowList).rows]
        assert codes.index("R4") > codes.index("Q7")


async def test_the_other_pages_open_and_come_back(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        for key in ("v", "y", "p", "r", "question_mark"):
            await pilot.press(key)
            assert not isinstance(app.screen, BenchScreen), key
            await pilot.press("escape")
            assert isinstance(app.screen, BenchScreen), key
        await pilot.press("r")
        assert isinstance(app.screen, RoundScreen)


async def test_quit_leaves(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("q")
        await pilot.pause()

        assert app._exit


async def test_an_empty_bench_says_how_to_begin(desk: Desk, opened: Opened) -> None:
    async with opened(desk) as (app, pilot):
        assert "Nothing stands here yet." in str(app.screen.query_one("#head", Lines).render())
        ways = [
            tuple(cell.text for cell in row.cells[:2]) for row in app.screen.query_one(RowList).rows
        ]
        assert ways == [
            ("a", "Add the first container"),
            ("l", "List a bench that already runs"),
            ("f", "Follow an earlier book"),
            ("t", "Type one line"),
            ("x", "Explore an invented bench"),
        ]
        await pilot.press("r")
        assert message(app) == "No round: nothing stands here yet."
        await pilot.press("a")
        assert type(app.screen).__name__ == "FirstStartScreen"
        await pilot.press("escape")
        for key in ("d", "h", "space", "v", "escape"):
            await pilot.press(key)
        await pilot.press("t", *"L2 set up laying", "enter")

        assert [row.key for row in app.screen.query_one(RowList).rows] == ["L2"]


async def test_odd_text_is_shown_literally(desk: Desk, opened: Opened, clock: Clock) -> None:
    from rounds.entries.registry import BroodBegun, Note, SetUp, Stocked

    desk.record(SetUp, container="[/]", purpose="rearing", shelf="[b {0} [1,")
    desk.record(BroodBegun, code="Q-26-02/A", taxon="[red]x\x1b[2J\u202e")
    desk.record(Stocked, container="[/]", brood="Q-26-02/A", stage="larva", number=3)
    desk.record(Note, container="[/]", text="[/] [b {0} [1, \x1b]0;title\x07")
    async with opened(desk) as (app, pilot):
        await pilot.pause()
        shown = app.export_screenshot()

        assert "\x1b" not in shown.replace("\x1b[", "") or "\x1b" not in shown
        assert "‹001B›" in shown
        await pilot.press("y", "escape", "r")


async def test_another_laptops_line_appears(
    demo_desk: Desk, opened: Opened, open_desk: Any
) -> None:
    other = open_desk("bbbb2222", "TO")
    async with opened(demo_desk) as (app, pilot):
        from rounds.entries.registry import Drank

        other.record(Drank, container="K7")
        app.hear()
        await pilot.pause()

        row = next(row for row in app.screen.query_one(RowList).rows if row.key == "K7")
        assert row.cells[2].text.startswith("drank just now")


REFUSED = [
    ("X9 drank", "no container is called X9; there are"),
    ("K7 drank -3", "number is -3; it cannot be below zero"),
    ("R4 died 35", "35 out of R4, but it holds 34 larvae L1"),
    ("K7 drank 2099-01-01 07:00", "that is ahead of now"),
    ("K4 misted 2026-01-01 07:00", "K4 was set up later, on"),
    ("room air 200C", "temperature is 200 C; it must be at most 60 C"),
    ("R4 settled found 2", "R4 has 0 not seen; settle no more than that"),
]


@pytest.mark.parametrize(("typed", "line"), REFUSED)
async def test_what_is_refused_stays_in_the_prompt(
    demo_desk: Desk, opened: Opened, typed: str, line: str
) -> None:
    before = len(on_disk(demo_desk))
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("t")
        prompt = app.screen.query_one(Prompt)
        prompt.value = typed
        await pilot.press("enter")

        assert prompt.display
        assert prompt.value == typed
        assert message(app).startswith(line)
        assert len(on_disk(demo_desk)) == before


async def test_a_photo_is_begun_with_one_key(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        at(app, "K7")
        await pilot.press("j", *"wing.jpg", "enter")

        assert (on_disk(demo_desk)[-1]["what"], on_disk(demo_desk)[-1]["file"]) == (
            "photo",
            "wing.jpg",
        )


async def test_the_head_tells_the_room_and_the_sun_on_the_sill(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk, (120, 40)) as (app, pilot):
        await pilot.press("t")
        app.screen.query_one(Prompt).value = "room air 21.4C 46%"
        await pilot.press("enter")
        head = str(app.screen.query_one("#head", Lines).render())

        assert "room 21.4 C 46 % drying" in head
        assert "sun on the sill" in head


async def test_what_stands_there_is_reckoned_as_a_line_is_drawn(
    demo_desk: Desk, opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []

    def counted(bench: Bench, container: Container, *others: Any) -> Iterator[Fact]:
        told.append(container.code)
        return facts(bench, container, *others)

    monkeypatch.setattr("rounds.views.bench_page.facts", counted)
    async with opened(demo_desk, size=(80, 14)) as (app, pilot):
        rows = app.screen.query_one(RowList).rows
        row = [row for row in rows if row.key in demo_desk.bench.containers][-1]
        last = row.key
        assert told
        assert last not in told
        await pilot.press("end")
        assert last in told
        told.clear()
        assert row.cells[2].text
        assert not told  # as it was drawn
