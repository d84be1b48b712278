"""Anything a keeper can do, in any order, on two laptops, with restarts, late lines, strikes and clock changes.

After every step each desk's bench and due checks must be those of a plain reading of all lines, and agree with a
plain model that was written without looking at the fold.

Run: python -m tests.durability.machine [--steps 10000]
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import tempfile
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from rounds.app import reading as book_reading
from rounds.app.desk import Desk, Recorded, Refusal
from rounds.bench import incremental_fold
from rounds.bench.instants import COUNTS_AHEAD
from rounds.checks.due import all_dues
from rounds.checks.due_state import Due
from rounds.daybook import Daybook
from rounds.entries import codec as written
from rounds.entries.registry import (
    Air,
    BroodBegun,
    Cleaned,
    Closed,
    Died,
    Drank,
    Entry,
    LeaveBe,
    Looked,
    Moved,
    Note,
    PutOff,
    SetUp,
    Stocked,
    Suspect,
)
from tests.conftest import Clock
from tests.durability.books import settled
from tests.durability.plain_bench import cups, thirsty_since
from tests.plain_fold import fold

LAPTOPS = ("aaaa1111", "bbbb2222")
CODES = ("A2", "A3", "A4", "A5")
PARIS = ZoneInfo("Europe/Paris")
BEGIN = datetime(2026, 3, 27, 19, 0, tzinfo=PARIS)  # clocks go forward in the night of the 29th

sides = st.integers(0, 1)
codes = st.sampled_from(CODES)
late = st.one_of(st.just(0), st.just(0), st.integers(1, 90), st.integers(90, 6_000))  # minutes ago

HALF_DAY = timedelta(hours=12)


class Season(RuleBasedStateMachine):
    """Two desks at one book."""

    def __init__(self) -> None:
        super().__init__()
        self.place = Path(tempfile.mkdtemp(prefix="rounds-machine-"))
        self.folder = self.place / "book"
        self.clock = Clock(BEGIN)
        self.desks = [self._open(side) for side in range(2)]
        self._kept = (
            incremental_fold.KEPT,
            incremental_fold.MAX_SEALED,
            incremental_fold.NEAR,
            book_reading.WORTH_A_CHECKPOINT,
        )
        (
            incremental_fold.KEPT,
            incremental_fold.MAX_SEALED,
            incremental_fold.NEAR,
            book_reading.WORTH_A_CHECKPOINT,
        ) = 5, 3, 2, 4

    def teardown(self) -> None:
        (
            incremental_fold.KEPT,
            incremental_fold.MAX_SEALED,
            incremental_fold.NEAR,
            book_reading.WORTH_A_CHECKPOINT,
        ) = self._kept
        shutil.rmtree(self.place)

    def _open(self, side: int) -> Desk:
        book = Daybook.open(self.folder, LAPTOPS[side])
        return Desk(book, clock=self.clock, entropy=os.urandom, zone=PARIS, keeper="KM")

    def _say(self, side: int, kind: type[Entry], ago: int = 0, **fields: Any) -> None:
        before = self._size()
        at = (
            (self.clock.now.astimezone(UTC) - timedelta(minutes=ago)).astimezone(PARIS)
            if ago
            else None
        )
        outcome = self.desks[side].record(kind, at, **fields)
        assert isinstance(outcome, Recorded | Refusal)
        if isinstance(outcome, Refusal):
            assert self._size() == before, "what was refused was written"
            assert "\n" not in outcome.line

    def _size(self) -> int:
        return sum(path.stat().st_size for path in self.folder.glob("entries-*.jsonl"))

    @initialize()
    def begin(self) -> None:
        self._say(0, BroodBegun, code="QUE-26-02/A", taxon="Boloria dia")
        for code in CODES[:3]:  # one of them empty, for animals that are moved
            self._say(0, SetUp, container=code, purpose="laying")
        for code in CODES[:2]:
            self._say(0, Stocked, container=code, brood="QUE-26-02/A", stage="adult", number=3)

    @rule(
        side=sides, code=codes, ago=late, purpose=st.sampled_from(["laying", "holding", "rearing"])
    )
    def set_up(self, side: int, code: str, ago: int, purpose: str) -> None:
        self._say(side, SetUp, ago, container=code, purpose=purpose)

    @rule(side=sides, code=codes, ago=late)
    def close(self, side: int, code: str, ago: int) -> None:
        self._say(side, Closed, ago, container=code)

    @rule(side=sides, code=codes, ago=late, number=st.integers(1, 5))
    def stock(self, side: int, code: str, ago: int, number: int) -> None:
        self._say(
            side, Stocked, ago, container=code, brood="QUE-26-02/A", stage="adult", number=number
        )

    @rule(side=sides, code=codes, ago=late, number=st.integers(1, 3))
    def die(self, side: int, code: str, ago: int, number: int) -> None:
        self._say(side, Died, ago, container=code, number=number)

    @rule(side=sides, code=codes, to=codes, ago=late, number=st.integers(1, 3))
    def move(self, side: int, code: str, to: str, ago: int, number: int) -> None:
        if code != to:
            self._say(side, Moved, ago, container=code, to=to, number=number)

    @rule(side=sides, code=codes, ago=late)
    def drink(self, side: int, code: str, ago: int) -> None:
        self._say(side, Drank, ago, container=code)

    @rule(side=sides, code=codes, ago=late, kind=st.sampled_from([Cleaned, Looked, Suspect]))
    def tend(self, side: int, code: str, ago: int, kind: type[Entry]) -> None:
        self._say(side, kind, ago, container=code)

    @rule(side=sides, code=codes, hours=st.integers(1, 40))
    def leave_be(self, side: int, code: str, hours: int) -> None:
        self._say(
            side,
            LeaveBe,
            container=code,
            until=self.clock.now + timedelta(hours=hours),
            why="moulting",
        )

    @rule(side=sides, code=codes, hours=st.integers(1, 20))
    def put_off(self, side: int, code: str, hours: int) -> None:
        until = self.clock.now + timedelta(hours=hours)
        self._say(side, PutOff, container=code, check="clean", until=until, why="no time")

    @rule(side=sides, ago=late, temperature=st.integers(5, 35))
    def read_air(self, side: int, ago: int, temperature: int) -> None:
        self._say(side, Air, ago, temperature_c=temperature)

    @rule(side=sides, text=st.text(max_size=40))
    def note(self, side: int, text: str) -> None:
        self._say(side, Note, text=text)

    @rule(side=sides, data=st.data())
    def strike(self, side: int, data: st.DataObject) -> None:
        known = [one["id"] for one in self._lines()]
        if known:
            outcome = self.desks[side].strike(data.draw(st.sampled_from(known)), "wrong")
            assert isinstance(outcome, Recorded | Refusal)

    @rule(side=sides)
    def strike_last(self, side: int) -> None:
        self.desks[side].strike_last("wrong")

    @rule(side=sides, number=st.integers(1, 3), code=codes)
    def say_several(self, side: int, number: int, code: str) -> None:
        before = self._size()
        outcome = self.desks[side].say_many(
            [(Cleaned, {"container": code}), *[(Note, {"text": "one of several"})] * number]
        )
        assert isinstance(outcome, Recorded) or self._size() == before

    @rule(side=sides)
    def restart(self, side: int) -> None:
        self.desks[side] = self._open(side)

    @rule(side=sides)
    def rest(self, side: int) -> None:
        self.desks[side].reading.rest()

    @rule(side=sides)
    def lose_the_checkpoint(self, side: int) -> None:
        (self.folder / f"checkpoint-{LAPTOPS[side]}").unlink(missing_ok=True)

    @rule(minutes=st.integers(1, 2_000))
    def time_passes(self, minutes: int) -> None:
        self.clock.on(minutes=minutes)

    @precondition(lambda self: self.clock.now > BEGIN + timedelta(days=2))
    @rule(minutes=st.integers(1, 1_500))
    def the_clock_is_set_back(self, minutes: int) -> None:
        self.clock.on(minutes=-minutes)

    def _lines(self) -> list[dict[str, Any]]:
        return [
            json.loads(line)
            for path in self.folder.glob("entries-*.jsonl")
            for line in path.read_bytes().splitlines()
        ]

    @invariant()
    def both_desks_stand_at_the_bench_that_the_lines_add_up_to(self) -> None:
        until = self.clock.now + COUNTS_AHEAD  # what is later waits: the clock was set back
        lines = [line for line in self._lines() if datetime.fromisoformat(line["at"]) <= until]
        entries = [written.read(json.dumps(line).encode()) for line in lines]
        bench = fold([one for one in entries if one is not None])
        whole = settled(bench)
        for desk in self.desks:
            desk.hear()
            assert settled(desk.bench) == whole
            assert not desk.reading.problems
            moment = desk.moment()
            assert told(desk.dues()) == told(all_dues(bench, moment))
        model = cups(lines)
        assert model.keys() == bench.containers.keys()
        dues = {(due.where, due.check): due for due in self.desks[0].dues()}
        for code, cup in model.items():
            container = bench.containers[code]
            assert (container.purpose, container.count("adult")) == (cup.purpose, len(cup.adults))
            due = dues.get((code, "drink"))
            if cup.purpose == "laying":
                assert (due is not None) == bool(cup.adults)
            if due is not None and cup.purpose == "laying":
                since = thirsty_since(cup)
                assert due.since == since, (code, due, cup, container)
                # Those that never drank are due at once, and nothing is due after it is late.
                late = since + timedelta(hours=14)
                now = min(
                    next((came for came, fed in cup.adults if not fed), since + HALF_DAY), late
                )
                urgent, known = since + timedelta(hours=24), container.logged
                # Nobody could be asked before their cup was written down, and nobody said more.
                is_news = due.last is None and since >= container.since
                if is_news and now < known <= self.clock.now:
                    now, urgent = known, urgent + (known - now)
                assert (due.due, due.urgent) == (now, urgent), (
                    code,
                    due,
                    cup,
                    container,
                )


def told(dues: list[Due]) -> list[str]:
    """Due checks in an order of their own, each with the entry that it rests on."""
    return sorted(
        f"{due.where} {due.place_kind} {due.check} {due.subject} {due.due} {due.late} {due.urgent} {due.danger} {due.severity} "
        f"{due.since} {due.put_off_until} {due.reason} {due.last and due.last.id}"
        for due in dues
    )


def run(steps: int, each: int = 50, *, always_the_same: bool = False) -> None:
    """So many steps, each history beginning anew after fifty."""
    chosen = settings(
        max_examples=max(1, steps // each),
        stateful_step_count=each,
        deadline=None,
        suppress_health_check=list(HealthCheck),
        phases=[
            Phase.generate
        ],  # a failure is told as it was found: to shorten it can take longer than to find it
        derandomize=always_the_same,
        database=None,
    )
    run_state_machine_as_test(Season, settings=chosen)  # type: ignore[no-untyped-call]


def main() -> None:
    """As the command line says."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--steps", type=int, default=10_000)
    options = parser.parse_args()
    run(options.steps)
    print(f"{options.steps:,} steps: every bench and every due check as a plain reading has them")


if __name__ == "__main__":
    main()
