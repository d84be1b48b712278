"""What the desk keeps of checks and forecasts over a change is what reckoning all of it anew gives."""

from __future__ import annotations

import sys
from datetime import timedelta
from typing import Any

import pytest

from rounds.app.desk import Desk, Recorded
from rounds.checks import due as reckoning
from rounds.checks.due import all_dues
from rounds.daybook.storage import LogStorage
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.forecasts.foresight import Forecasts
from tests.conftest import Clock

USUAL: tuple[tuple[type[Entry], dict[str, Any]], ...] = (
    (k.Drank, {}),
    (k.Offered, {}),
    (k.FoodRefused, {}),
    (k.FeederChanged, {}),
    (k.HostSeen, {"left": "plenty"}),
    (k.HostSeen, {"state": "limp"}),
    (k.Searched, {"found": 0}),
    (k.Searched, {"found": 2}),
    (k.FrassSeen, {"level": "none"}),
    (k.Looked, {}),
    (k.Looked, {"sign": "still"}),
    (k.LidOpened, {}),
    (k.Misted, {}),
    (k.Cleaned, {}),
    (k.Note, {"text": "the sill is dry"}),
)


def anew(desk: Desk) -> list[object]:
    """All checks and all that is coming, from the bench alone."""
    foresight = Forecasts(desk.bench, desk.zone, desk.reading.series)
    coming = [foresight.coming(container) for container in desk.bench.standing()]
    return [all_dues(desk.bench, desk.moment(), foresight=foresight), coming]


def kept(desk: Desk) -> list[object]:
    """The same as the desk has it."""
    return [desk.dues(), [desk.foresight.coming(one) for one in desk.bench.standing()]]


@pytest.mark.parametrize(("kind", "fields"), USUAL)
def test_what_is_kept_is_what_is_reckoned_anew(
    demo_desk: Desk, kind: type[Entry], fields: dict[str, Any]
) -> None:
    desk, said = demo_desk, 0
    kept(desk)
    for place, container in enumerate(list(desk.bench.standing())):
        said += isinstance(desk.record(kind, container=container.code, **fields), Recorded)
        if not place % 4:
            assert kept(desk) == anew(desk), (container.code, kind.__name__)
    assert said
    assert kept(desk) == anew(desk)


def test_as_time_goes_by_what_hangs_on_the_hour_is_reckoned_again(
    demo_desk: Desk, clock: Clock
) -> None:
    kept(demo_desk)
    for _ in range(12):
        clock.on(minutes=25)
        assert kept(demo_desk) == anew(demo_desk)
        demo_desk.record(k.Note, text="the sill is dry")
        assert kept(demo_desk) == anew(demo_desk)


def test_what_holds_until_an_instant_is_kept_until_then_and_no_longer(
    demo_desk: Desk, clock: Clock
) -> None:
    kept(demo_desk)
    met = 0
    for _ in range(25):
        reckoned = map(demo_desk.reckoning.kept_dues.reckoned, demo_desk.bench.containers)
        ends = [one.until for one in reckoned if one is not None and one.until is not None]
        if not ends:
            break
        for instant in (min(ends) - timedelta(milliseconds=1), min(ends)):
            clock.on(seconds=(instant - demo_desk.now()).total_seconds())
            assert kept(demo_desk) == anew(demo_desk), instant
            met += 1
    assert met > 20


def test_where_it_is_kept_a_while_the_passing_of_time_reckons_by_what_is_known_now(
    demo_desk: Desk, clock: Clock
) -> None:
    desk = demo_desk
    desk.reckoning.kept_dues.lag = timedelta(minutes=1)
    kept(desk)
    for hours in (1, 5, 9, 11):
        clock.on(hours=hours)
        desk.record(k.Note, text="the sill is dry")
        desk.reckoning.time_goes_by()
        assert kept(desk) == anew(desk)


def test_an_answer_reckons_its_own_container_alone(
    demo_desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = demo_desk
    desk.dues()
    females = [one for one in desk.bench.standing() if one.females]
    desk.record(k.Drank, container=females[0].code)
    desk.dues()  # the first line of the morning: what it was warm overnight is known by now
    reckoned: list[str] = []
    facts_of = reckoning.facts_of

    def counted(context: Any, container: Any) -> Any:
        reckoned.append(container.code)
        return facts_of(context, container)

    monkeypatch.setattr(reckoning, "facts_of", counted)
    assert isinstance(desk.record(k.Drank, container=females[1].code), Recorded)
    desk.dues()
    assert reckoned == [females[1].code]


def calls_for(desk: Desk, codes: list[str]) -> int:
    """How many calls one answer for all these takes."""
    calls = 0

    def count(frame: object, event: str, argument: object) -> None:
        nonlocal calls
        calls += event in ("call", "c_call")

    sys.setprofile(count)
    try:
        outcome = desk.say_many([(k.Drank, {"container": code}) for code in codes])
    finally:
        sys.setprofile(None)
    assert isinstance(outcome, Recorded)
    assert len(outcome.entries) == len(codes)
    return calls


def test_one_answer_for_many_cups_takes_so_many_times_as_long_and_one_flush(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk.record(k.BroodBegun, code="QA", taxon="Boloria dia")
    codes = [f"C{letter}{other}" for letter in "ABCDEFGH" for other in "ABCDEFGH"]
    for code in codes:
        desk.record(k.SetUp, container=code, purpose="laying")
        desk.record(k.Stocked, container=code, brood="QA", stage="adult", sex="female", number=1)
    calls_for(desk, codes[:1])
    flushes: list[object] = []
    put = LogStorage._put

    def counted(storage: LogStorage, *what: Any) -> Any:
        flushes.append(storage)
        return put(storage, *what)

    monkeypatch.setattr(LogStorage, "_put", counted)
    few, many = calls_for(desk, codes[:16]), calls_for(desk, codes)
    assert many < 4.4 * few
    assert len(flushes) == 2  # one an answer
