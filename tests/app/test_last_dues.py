"""What was due by the last reckoning, told again later, is what a reckoning at that time tells, to the letter."""

from __future__ import annotations

import random
from collections.abc import Iterable
from datetime import timedelta
from typing import Any

import pytest

from rounds.app.desk import Desk
from rounds.checks.due import all_dues
from rounds.checks.question import DEGREES, AnswerContext
from rounds.checks.questions import question_for
from rounds.checks.round_clock import Moment
from rounds.entries import registry as k
from rounds.forecasts.foresight import Forecasts
from rounds.views.due_lines import DueLine, due_lines, due_now, later, lines_of
from tests.conftest import Clock

WITHIN = (timedelta(0), timedelta(hours=5), timedelta(days=2))
A_MOMENT = timedelta(microseconds=1)


def told(lines: Iterable[DueLine], moment: Moment) -> list[list[str]]:
    """What the command prints of them, for some spans."""
    known = list(lines)
    return [list(due_lines(due_now(known, moment, within), moment)) for within in WITHIN]


def anew(desk: Desk) -> list[list[str]]:
    """The same, of all checks as they are reckoned now from the bench alone."""
    moment = desk.moment()
    foresight = Forecasts(desk.bench, desk.zone, desk.series)
    return told(lines_of(all_dues(desk.bench, moment, foresight=foresight)), moment)


def again_and_anew(desk: Desk, clock: Clock, chance: random.Random) -> tuple[int, int]:
    """Reckon, let time pass as long as it holds, and compare; at how many instants, and how many of the lines went along."""
    began = clock.now
    desk.kept_dues.forget()
    moment = desk.moment()
    lines = list(lines_of(desk.dues(moment)))
    held = desk.kept_dues.held
    if held.moves:
        return 0, 0
    end = held.until or moment.now + timedelta(days=3)
    whole = end - moment.now
    assert whole > timedelta(0)
    for at in (*sorted(moment.now + whole * chance.random() for _ in range(2)), end - A_MOMENT):
        clock.now = at
        now = desk.moment()
        assert told(later(lines, now.now - moment.now), now) == anew(desk), (moment.now, at)
    clock.now = began
    return 3, sum(bool(one.along) for one in lines)


def answer(desk: Desk, chance: random.Random) -> None:
    """Some check is answered somehow, as far as that is not refused."""
    due = chance.choice(desk.dues())
    for one in chance.sample(question := question_for(desk.bench, due).answers, len(question)):
        if one.prompt is not None:
            continue
        numbers: tuple[float | None, float | None] = (None, None)
        if one.must:
            numbers = (20.0, 24.0) if one.takes == DEGREES else (2.0, None)
        sayings = one.says(AnswerContext(desk.bench, due, desk.now(), *numbers))
        if sayings:
            desk.say_many(sayings, None)
            return


SAID: tuple[tuple[type[Any], dict[str, Any]], ...] = (
    (k.HostOut, {"fate": "held"}),
    (k.Looked, {"sign": "still"}),
    (k.FrassSeen, {"level": "none"}),
    (k.Light, {"to": "sun"}),
    (k.Air, {"temperature_c": 34.0, "humidity_percent": 35.0}),
)


def say_something(desk: Desk, chance: random.Random) -> None:
    """Something that no check asks about."""
    kind, fields = chance.choice(SAID)
    container = chance.choice(list(desk.bench.standing())).code
    place = {"container": container} if "container" in kind.__struct_fields__ else {}
    desk.record(kind, **place, **fields)


@pytest.mark.parametrize("seed", range(2))
def test_told_again_it_is_what_is_reckoned_anew(demo_desk: Desk, clock: Clock, seed: int) -> None:
    chance = random.Random(seed)
    for name, value in (("latitude", "48.1"), ("longitude", "7.8"), ("sill", "180")):
        demo_desk.record(k.Setting, name=name, value=value)
    met = went_along = 0
    for _ in range(10):
        instants, along = again_and_anew(demo_desk, clock, chance)
        met, went_along = met + instants, went_along + along
        for _ in range(3):
            (answer if chance.random() < 0.7 else say_something)(demo_desk, chance)
            clock.on(minutes=chance.choice((1, 25, 200, 700)))
    assert met > 20
    assert went_along
