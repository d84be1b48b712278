"""Keys that come faster than the screen draws go where they belong."""

from __future__ import annotations

from textual import events
from textual.pilot import Pilot

from rounds.app.desk import Desk
from rounds.entries.registry import Drank
from rounds.screens.app import RoundsApp
from rounds.screens.bench_screen import BenchScreen
from rounds.screens.prompt import Prompt
from tests.screens.conftest import Opened

NAMES = {" ": "space", "\n": "enter", "/": "slash"}


def burst(app: RoundsApp, text: str) -> None:
    """All of these keys at once, as from a scanner."""
    for sign in text:
        app.post_message(events.Key(NAMES.get(sign, sign), sign if sign != "\n" else None))


async def settle(pilot: Pilot[None]) -> None:
    """Wait until nothing waits any more."""
    for _ in range(400):
        await pilot.pause()
        app = pilot.app
        if not app._waiting and app._in_hand % 2 == 0:  # type: ignore[attr-defined]
            return
    raise AssertionError("keys still wait")


async def test_what_is_typed_right_after_the_prompt_opens_is_in_the_prompt(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        said = demo_desk.bench.entries
        burst(app, "tdoux")
        await settle(pilot)

        assert app.screen.query_one(Prompt).value.endswith("doux")
        assert demo_desk.bench.entries == said


async def test_a_whole_line_at_once_is_said_and_the_next_key_is_the_lists(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("t", *["backspace"] * 12)
        await pilot.press("escape")
        burst(app, "t")
        await settle(pilot)
        app.screen.query_one(Prompt).value = ""
        burst(app, "K7 note sweet\nt")
        await settle(pilot)

        assert demo_desk.bench.containers["K7"].notes[-1].text == "sweet"
        assert app.screen.query_one(Prompt).display
        burst(app, "")


async def test_quick_answers_go_to_one_question_each(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("end", "up", "up", "up")
        code = app.screen.here()  # type: ignore[attr-defined]
        await pilot.press("r", *"22/26", "enter")
        before = [due.check for due in demo_desk.dues()]
        said = len(demo_desk.entries())
        burst(app, " k ")
        await settle(pilot)
        answers = demo_desk.entries()[said:]

        assert before
        assert code
        assert len(
            {
                (entry.what, getattr(entry, "container", ""), getattr(entry, "shelf", ""))
                for entry in answers
            }
        ) == len(answers)


async def test_a_key_right_after_a_page_was_opened_belongs_to_that_page(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        drinks = sum(isinstance(entry, Drank) for entry in demo_desk.entries())
        burst(app, "vd")
        await settle(pilot)
        await pilot.press("escape")

        assert sum(isinstance(entry, Drank) for entry in demo_desk.entries()) == drinks
        assert isinstance(app.screen, BenchScreen)
