"""What a start takes up of the checks that were reckoned last is what reckoning all of it anew gives."""

from __future__ import annotations

import os
import random
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from rounds.app import reading
from rounds.app.desk import Desk, Recorded
from rounds.checks import due as reckoning
from rounds.checks.due import all_dues
from rounds.daybook import Daybook
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.forecasts.foresight import Forecasts
from tests.app.test_kept_checks import USUAL
from tests.conftest import PARIS, Clock

Start = Callable[[], Desk]


@pytest.fixture
def start(demo_desk: Desk, clock: Clock, monkeypatch: pytest.MonkeyPatch) -> Start:
    """Starts again at the demo, of which a checkpoint was written."""
    monkeypatch.setattr(reading, "WORTH_A_CHECKPOINT", 1)
    demo_desk.reading.rest()
    monkeypatch.setattr(reading, "WORTH_A_CHECKPOINT", 1_000)
    counter = iter(range(1_000_000, 2_000_000))

    def start_again() -> Desk:
        return Desk(
            Daybook.open(demo_desk.book.folder, "aaaa1111"),
            clock=clock,
            entropy=lambda size: next(counter).to_bytes(size, "big"),
            zone=PARIS,
            keeper="KM",
            tells_checks=True,
        )

    return start_again


def anew(desk: Desk) -> list[object]:
    """All checks from the bench alone."""
    foresight = Forecasts(desk.bench, desk.zone, desk.reading.series)
    return list(all_dues(desk.bench, desk.moment(), foresight=foresight))


def reckoned_by(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The containers that a desk reckons to tell what is due."""
    found: list[str] = []
    facts_of = reckoning.facts_of

    def counted(context: Any, container: Any) -> Any:
        found.append(container.code)
        return facts_of(context, container)

    with monkeypatch.context() as patch:
        patch.setattr(reckoning, "facts_of", counted)
        desk.dues()
    return found


def with_checks_kept(start: Start) -> Desk:
    """A desk that told what is due and was left."""
    desk = start()
    desk.record(k.Note, text="the sill is dry")  # what it was warm overnight is known by now
    desk.dues()
    desk.keep_checks()
    return desk


def test_a_start_reckons_what_hangs_on_the_hour_alone(
    start: Start, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = with_checks_kept(start)
    clock.on(minutes=1)
    reckoned = before.reckoning.kept_dues.all_of(before.bench)
    holds = {code for code, one in reckoned if not one.until or one.until > clock.now}
    kept = {code for code, one in reckoned if code in holds and not one.by_the_hour}
    assert len(kept) > 5
    desk = start()
    assert not kept & set(reckoned_by(desk, monkeypatch))
    assert desk.reckoning.took_up_checks
    assert desk.dues() == anew(desk)


@pytest.mark.parametrize(("kind", "fields"), USUAL[::3])
def test_after_a_line_that_a_command_said_its_container_is_reckoned_again(
    start: Start, kind: type[Entry], fields: dict[str, Any]
) -> None:
    with_checks_kept(start)
    for container in list(start().bench.standing())[::6]:
        outcome = start().record(kind, container=container.code, **fields)
        desk = start()
        assert desk.dues() == anew(desk), (container.code, kind.__name__)
        if isinstance(outcome, Recorded):
            stays = all(one.stays_here(desk.bench) for one in outcome.entries)
            assert desk.reckoning.took_up_checks or not stays


def test_after_a_line_about_more_than_one_container_all_are_reckoned(
    start: Start, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_checks_kept(start)
    start().record(k.Air, temperature_c=31)
    desk = start()
    assert set(reckoned_by(desk, monkeypatch)) >= {one.code for one in desk.bench.standing()}
    assert not desk.reckoning.took_up_checks
    assert desk.dues() == anew(desk)


@pytest.mark.parametrize("seed", range(2))
def test_whatever_is_said_and_struck_while_time_goes_by(
    start: Start, clock: Clock, seed: int
) -> None:
    chance, taken = random.Random(seed), 0
    with_checks_kept(start)
    for step in range(9):
        desk = start()
        places = [one.code for one in desk.bench.standing()]
        for _ in range(chance.choice((0, 1, 1, 2))):
            kind, fields = chance.choice(USUAL)
            earlier = clock.now - timedelta(minutes=chance.choice((0, 0, 0, 5, 400)))
            desk.record(kind, at=earlier, container=chance.choice(places), **fields)
        chance.choice((lambda: None, lambda: None, lambda: None, desk.strike_last))()
        clock.on(minutes=chance.choice((0, 1, 3, 9, 45, 700 if step == 6 else 2)))
        desk = start()
        assert desk.dues() == anew(desk), (seed, step)
        taken += desk.reckoning.took_up_checks
        if chance.random() < 0.6:
            desk.keep_checks()
    assert taken


def entry_file(desk: Desk) -> Path:
    """Where this machine's last lines are."""
    return max(desk.book.folder.glob("entries-*"), key=lambda path: path.stat().st_mtime_ns)


def kept_file() -> Path:
    """What is remembered of the checks."""
    (found,) = Path(os.environ["XDG_STATE_HOME"]).rglob("*.checks")
    return found


def test_a_line_that_was_altered_since_is_reckoned_as_it_reads_now(start: Start) -> None:
    code = next(one.code for one in start().bench.standing() if one.females)
    start().record(k.Drank, container=code)
    with_checks_kept(start)
    file = entry_file(start())
    lines = file.read_bytes().splitlines(keepends=True)
    assert b'"drank"' in lines[-2]
    file.write_bytes(b"".join([*lines[:-2], lines[-2].replace(b'"drank"', b'"misted"'), lines[-1]]))
    desk = start()
    assert desk.dues() == anew(desk)
    assert not desk.reckoning.took_up_checks


def test_what_is_remembered_may_be_torn_or_gone(start: Start) -> None:
    with_checks_kept(start)
    data = kept_file().read_bytes()
    for torn in (b"", data[:40], data[:-9], data.replace(b"K", b"L")):
        kept_file().write_bytes(torn)
        desk = start()
        assert desk.dues() == anew(desk)
        assert not desk.reckoning.took_up_checks
    kept_file().write_bytes(data)
    assert start().dues() == anew(start())
    kept_file().unlink()
    assert start().dues() == anew(start())


def test_another_version_reckons_all(start: Start, monkeypatch: pytest.MonkeyPatch) -> None:
    with_checks_kept(start)
    monkeypatch.setattr("rounds.app.last_checks.made_by", lambda: "another")
    desk = start()
    assert desk.dues() == anew(desk)
    assert not desk.reckoning.took_up_checks


def test_a_clock_that_was_set_back_reckons_all(start: Start, clock: Clock) -> None:
    with_checks_kept(start)
    clock.on(minutes=-2)
    desk = start()
    assert desk.dues() == anew(desk)
    assert not desk.reckoning.took_up_checks
