"""What was due by the last reckoning, told again later, is what a reckoning at that time tells, to the letter."""

from __future__ import annotations

import random
from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Any

import pytest

from rounds.app.desk import Desk
from rounds.checks.due import all_dues
from rounds.checks.question import DEGREES, AnswerContext
from rounds.checks.questions import question_for
from rounds.checks.round_clock import Moment
from rounds.entries import registry as k
from rounds.forecasts.foresight import Forecasts
from rounds.views.due_lines import DueLine, due_lines, due_now, lines_of
from tests.bench.test_stories import BEGIN, tell
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
    foresight = Forecasts(desk.bench, desk.zone, desk.reading.series)
    return told(lines_of(all_dues(desk.bench, moment, foresight=foresight)), moment)


def again_and_anew(desk: Desk, clock: Clock, chance: random.Random) -> datetime | None:
    """Reckon, let time pass as long as it holds, and compare; until when it holds."""
    began = clock.now
    desk.reckoning.kept_dues.forget()
    moment = desk.moment()
    lines = list(lines_of(desk.dues(moment)))
    held = desk.reckoning.kept_dues.held
    if held.moves:
        return None
    end = held.until or moment.now + timedelta(days=3)
    whole = end - moment.now
    assert whole > timedelta(0)
    for at in (*sorted(moment.now + whole * chance.random() for _ in range(2)), end - A_MOMENT):
        clock.now = at
        now = desk.moment()
        assert told(lines, now) == anew(desk), (moment.now, at)
    clock.now = began
    return end


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


@pytest.mark.parametrize("seed", range(1))
def test_told_again_it_is_what_is_reckoned_anew(demo_desk: Desk, clock: Clock, seed: int) -> None:
    chance = random.Random(seed)
    for name, value in (("latitude", "48.1"), ("longitude", "7.8"), ("sill", "180")):
        demo_desk.record(k.Setting, name=name, value=value)
    met = 0
    for _ in range(8):
        met += again_and_anew(demo_desk, clock, chance) is not None
        for _ in range(3):
            (answer if chance.random() < 0.7 else say_something)(demo_desk, chance)
            clock.on(minutes=chance.choice((1, 25, 200, 700)))
    assert met > 5


BENCH = (
    BEGIN
    + """
B topped up 20mm washed=yes
L2 host in violet 3 sprigs
E3 stocked 9 eggs QUE-26-02/A
C3 set up rearing lid=closed
C3 stocked 4 larvae QUE-26-02/A
C3 light sun
setting latitude 48.86
setting longitude 2.35
setting sill 180
room air 34C 40%
"""
)


@pytest.mark.parametrize("hours_searched", [0, 14, 20, 26, 80])
def test_it_holds_from_each_instant_to_the_next(
    desk: Desk, clock: Clock, hours_searched: int
) -> None:
    tell(desk, clock, BENCH)
    for hours in range(0, hours_searched, 6):
        clock.on(hours=min(6, hours_searched - hours))
        tell(desk, clock, "L2 drank\nL2 searched none\nroom air 24C 60%")
    tell(desk, clock, "room air 34C 40% sure")
    chance = random.Random(1)
    until = clock.now + timedelta(days=3)
    while clock.now < until:
        end = again_and_anew(desk, clock, chance)
        assert end is not None
        clock.now = end
