"""The thermometer of the room, and of each place apart from it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from msgspec.structs import replace

from rounds.bench.diapause import all_rest, awake_in_winter
from rounds.bench.state import Bench, Container
from rounds.checks.answers import air
from rounds.checks.base import Check, Helped, RuleOf, Value
from rounds.checks.due_state import Due, PlaceKind
from rounds.checks.facts import DueContext, arrived, of_place
from rounds.checks.question import DEGREES, Answer, Question
from rounds.checks.readings import readings_of
from rounds.checks.reckon import GRACE, TimedRule, after, make_place_due, next_asked
from rounds.checks.round_clock import utc
from rounds.checks.rule import COMMON, DAY, Rule, hours

ROOM, WINTER_STORE = of_place("room"), of_place("winter store")


def of_bench(reckoning: DueContext, rule_of: RuleOf) -> Iterator[Due]:
    """Lowest and highest of the room and of every place apart from it, each round; a place of
    resting stock seldom."""
    bench = reckoning.bench
    for shelf in bench.shelves.values():
        there = bench.standing() if shelf.apart else ()
        living = [one for one in there if one.lots and bench.shelf_of(one) is shelf]
        if living:
            resting = all(all_rest(bench, container) for container in living)
            awake = [one for one in living if resting or not all_rest(bench, one)]
            own = rule_of((WINTER_STORE if resting else ROOM).words)
            yield from _thermometer(reckoning, own, "shelf", shelf.name, awake)
    yield from _thermometer(reckoning, rule_of(ROOM.words), "room", "", _awake(bench))


def _thermometer(
    reckoning: DueContext,
    rule: TimedRule | None,
    kind: PlaceKind,
    where: str,
    living: list[Container],
) -> Iterator[Due]:
    """When a place is to be read for the sake of the containers that stand there."""
    if rule is None or not living:
        return
    readings = readings_of(reckoning, where)
    last = readings[-1] if readings else None
    if last is not None and any(_awake_since(reckoning.bench, one) < last.at for one in living):
        since = utc(last.at)
    else:
        since = min(_awake_since(reckoning.bench, one) for one in living)
    due = next_asked(reckoning.moment, rule, since)
    late = due + GRACE if rule.late is None else after(since, rule.late)
    yield make_place_due(reckoning, rule, kind, where, since, last, due, late_at=late)


def _awake(bench: Bench) -> list[Container]:
    """The containers for whose sake the room is read: none where all that lives in it rests over
    the winter."""
    shelves = ((one, bench.shelf_of(one)) for one in bench.standing())
    standing = [one for one, shelf in shelves if not (shelf and shelf.apart)]
    living = [one for one in standing if one.lots]
    return [one for one in living if not all_rest(bench, one)] if living else standing


def _awake_since(bench: Bench, container: Container) -> datetime:
    woken = container.purpose_since if container.purpose_before == "overwintering" else None
    awake = awake_in_winter(bench, container)
    came = arrived(replace(container, lots=awake) if awake else container, "")
    return max(utc(at) for at in (container.since, woken, came) if at is not None)


CHECK = Check(
    name="room",
    help="Lowest and highest since last read.",
    value=Value(10, 0.05, 0.0005),
    severity=1,
    place=10,
    answered_by=("air",),
    rules=(
        Rule(when=ROOM, each_round=True, basis=f"lowest and highest each round: {COMMON}"),
        Rule(
            when=WINTER_STORE,
            **hours(7 * DAY, late=16 * DAY),
            basis=f"a place of stock in diapause alone is read when it is looked at: {COMMON}",
        ),
    ),
    of_bench=of_bench,
    question=Question(
        "What does the thermometer show? Type the reading, as 21.4, or lowest and highest since"
        " the last, as 15/24, then Enter.",
        (Answer("enter", "read", air, DEGREES, must=True, by_enter=True),),
    ),
    helped=(Helped("", outside=True),),
)
