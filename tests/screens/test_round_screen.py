"""The round: one key a check, skipping with a reason, going on after a kill, to its end."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from rounds.app.desk import Desk
from rounds.checks.questions import question_for
from rounds.checks.walk import stops
from rounds.screens.bench_screen import BenchScreen
from rounds.screens.lines import Lines
from rounds.screens.prompt import Prompt, Words
from rounds.screens.question import QuestionBar
from rounds.screens.round_screen import RoundScreen
from tests.conftest import Clock
from tests.screens.conftest import Opened
from tests.screens.driving import SPECIAL, all_parts, walk
from tests.screens.test_bench_screen import message, on_disk


def text_of(app: object, name: str) -> str:
    """What a part of the screen says."""
    return str(app.screen.query_one(name, Lines).render())  # type: ignore[attr-defined]


def asked(app: object) -> tuple[str, str]:
    """Where and what is asked now."""
    due = app.screen.query_one(QuestionBar).due  # type: ignore[attr-defined]
    return (due.where, due.check) if due else ("", "")


async def test_the_whole_morning_round_takes_at_most_a_key_and_a_tenth_a_fact(
    demo_desk: Desk, opened: Opened
) -> None:
    before = len(on_disk(demo_desk))
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r")
        walked = await walk(pilot, app)
        facts = len(on_disk(demo_desk)) - before

        assert walked.finished
        assert isinstance(app.screen, BenchScreen)
        assert demo_desk.bench.open_round is None
        assert facts > 45
        assert (walked.presses + 1) / facts <= 1.1
        assert demo_desk.bench.oddities == []


async def test_killed_half_way_it_goes_on_where_it_was(
    demo_desk: Desk, opened: Opened, open_desk: Callable[..., Desk]
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r")
        await walk(pilot, app, most=25)
        place = asked(app)
        head = text_of(app, "#head").split("   ")[1]

    again = open_desk()
    async with opened(again) as (app, pilot):
        await pilot.press("r")
        assert asked(app) == place
        assert text_of(app, "#head").split("   ")[1] == head
        walked = await walk(pilot, app)
        assert walked.finished
    started = [entry for entry in on_disk(again) if entry["what"] == "round started"]
    finished = [entry for entry in on_disk(again) if entry["what"] == "round finished"]
    assert started[-1]["id"] == finished[-1]["round"]


async def test_each_check_takes_one_key_where_nothing_is_unusual(demo_desk: Desk) -> None:
    demo_desk.start_round()
    walk_now = demo_desk.bench.open_round
    assert walk_now is not None
    for stop in stops(demo_desk.bench, demo_desk.moment(), walk_now):
        for due in stop.checks:
            question = question_for(demo_desk.bench, due)
            assert any(answer.usual for answer in question.answers) or due.check in SPECIAL, (
                due.check
            )


async def test_the_room_is_read_as_lowest_and_highest(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r")
        assert asked(app) == ("", "room")
        await pilot.press("enter")
        assert (
            message(app) == "answer with one of the keys shown, or pass over it with - and a reason"
        )
        await pilot.press(*"21.5/26", "enter")

        assert (on_disk(demo_desk)[-1]["low_c"], on_disk(demo_desk)[-1]["high_c"]) == (21.5, 26)


async def test_two_numbers_where_one_is_asked_are_refused(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r", *"22/26", "enter")
        before = len(on_disk(demo_desk))
        assert asked(app)[1] == "ants"
        await pilot.press(*"22/26", "enter")

        assert message(app) == "'22/26' is more than one number; this takes one, as 12"
        assert len(on_disk(demo_desk)) == before


async def test_skipping_wants_a_reason_and_comes_back(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r", "minus", "escape")
        assert on_disk(demo_desk)[-1]["what"] == "round started"
        await pilot.press("minus", "l")
        assert (on_disk(demo_desk)[-1]["what"], on_disk(demo_desk)[-1]["why"]) == (
            "skipped",
            "no light",
        )
        first = asked(app)
        assert first[1] == "ants"
        await pilot.press("z", "o")
        app.screen.query_one(Words).value = "door locked"
        await pilot.press("enter")

        assert on_disk(demo_desk)[-1]["why"] == "door locked"
        assert asked(app) != first
        screen = app.screen
        assert isinstance(screen, RoundScreen)
        assert {stop.where for stop in screen.walking.stops[-2:]} == {"", first[0]}


async def test_suspect_sends_a_stop_to_the_end_at_once(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r")
        await walk(pilot, app, most=14)
        here = asked(app)[0]
        assert here in demo_desk.bench.containers
        await pilot.press("x")

        screen = app.screen
        assert isinstance(screen, RoundScreen)
        assert asked(app)[0] != here
        order = [stop.where for stop in screen.walking.stops]
        assert order.index(here) > order.index("Q7")


async def test_hands_are_washed_before_the_dirtier_groups(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r")
        for _ in range(300):
            if "Wash your hands" in text_of(app, "#stop"):
                break
            await walk(pilot, app, most=1)
        assert "Wash your hands" in text_of(app, "#stop")
        await pilot.press("enter")

        assert on_disk(demo_desk)[-1]["what"] == "hands washed"
        assert "Wash your hands" not in text_of(app, "#stop")


async def test_looking_ahead_and_back_without_answering(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r")
        first = asked(app)
        await pilot.press("right", "right")
        assert asked(app) != first
        await pilot.press("left", "left")
        assert asked(app) == first
        before = len(on_disk(demo_desk))
        await pilot.press("right", "escape", "r")
        assert asked(app) == first
        assert len(on_disk(demo_desk)) == before


async def test_strike_note_when_and_help_work_in_the_round(
    demo_desk: Desk, opened: Opened, clock: Clock
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r", *"22/26", "enter")
        was = asked(app)
        await pilot.press("space", "u")
        assert on_disk(demo_desk)[-1]["what"] == "struck"
        assert asked(app) == was
        await pilot.press("n")
        assert app.screen.query_one(Prompt).display
        app.screen.query_one(Prompt).value = "note -- wet floor"
        await pilot.press("enter")
        assert on_disk(demo_desk)[-1]["text"] == "wet floor"
        await pilot.press("w")
        app.screen.query_one(Words).value = "-1m"
        clock.on(minutes=2)
        await pilot.press("enter", "space")
        entry = max(demo_desk.entries(), key=lambda one: one.id)
        assert (entry.logged - entry.at).total_seconds() == 60
        await pilot.press("question_mark", "escape")
        assert isinstance(app.screen, RoundScreen)


async def test_another_plant_opens_the_prompt(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r")
        for _ in range(200):
            if asked(app)[1] == "host":
                break
            await walk(pilot, app, most=1)
        where = asked(app)[0]
        await pilot.press("p")

        assert app.screen.query_one(Prompt).value == f"{where} host in "


async def test_the_end_says_what_matters_and_nothing_else(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r")
        for _ in range(400):
            if "Enter ends the round" in text_of(app, "#stop"):
                break
            await walk(pilot, app, most=1)
        told = text_of(app, "#stop")

        assert "E7" in told
        assert "may hatch; the leaf is in" in told
        assert "Be back on " in told


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_nothing_is_cut_at_either_size(
    demo_desk: Desk, opened: Opened, size: tuple[int, int]
) -> None:
    async with opened(demo_desk, size) as (app, pilot):
        await pilot.press("r")
        for _ in range(40):
            bar = app.screen.query_one(QuestionBar)
            if bar.question is None:
                break
            assert bar.region.bottom <= size[1] - 1
            assert bar.region.y == (13 if size[1] == 24 else 21), (
                "the rule is always in the same row"
            )
            await all_parts(pilot, app)
            await walk(pilot, app, most=1)


async def test_a_key_that_does_nothing_says_so(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("apostrophe")
        assert message(app) == "' does nothing here. ? shows the keys."
        await pilot.press("r", "space")  # the room has no usual answer
        assert message(app).startswith("Space does nothing here")
        await pilot.press("t", "q", "8")
        assert app.screen.query_one(Prompt).value == "q8"
        assert "does nothing" not in message(app)


async def test_a_number_before_an_answer_that_takes_none_is_not_lost_unsaid(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r", *"22/26", "enter")
        assert asked(app)[1] == "ants"
        before = len(on_disk(demo_desk))
        await pilot.press("9", "e")
        assert len(on_disk(demo_desk)) == before
        refused = "'dry' takes no number, and 9 was typed; a number goes with: "
        assert message(app).startswith(refused)
        await pilot.press("e")
        assert len(on_disk(demo_desk)) == before + 1


async def test_that_answers_are_for_another_time_stays_in_sight(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r", *"22/26", "enter", "w", *"-20m", "enter")
        for _ in range(2):
            assert "the next answers happened at " in text_of(app, "#head")
            await pilot.press("space")
        await pilot.press("w")
        assert "the next answers happened" not in text_of(app, "#head")


async def test_a_strike_tells_what_was_struck(demo_desk: Desk, opened: Opened) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r", *"22/26", "enter", "u")
        assert message(app).startswith("saved: room air 22 to 26 C")


async def test_no_cup_is_made_suspect_unseen_while_hands_are_washed(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("r")
        for _ in range(400):
            screen = app.screen
            assert isinstance(screen, RoundScreen)
            if "Wash your hands." in text_of(app, "#stop"):
                break
            await walk(pilot, app, most=1)
        before = len(on_disk(demo_desk))
        await pilot.press("x")
        assert len(on_disk(demo_desk)) == before
        assert message(app) == "only a container can be suspect"
