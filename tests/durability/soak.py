"""A simulated season through the desk at full speed: two keepers, two rounds a day, every due check answered.

Each week the bench and the due checks of both desks are compared with a plain reading of the lines and with the plain
model; and the memory taken must not grow with the days while the bench stays the same. One more day is walked on the screen,
key by key, and compared in the same way.

Run: python -m tests.durability.soak [--days 150] [--cups 60]
"""

from __future__ import annotations

import argparse
import asyncio
import gc
import json
import os
import random
import tempfile
import time
import traceback
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import msgspec

from rounds.app.desk import Desk, Recorded, Refusal
from rounds.checks.due import all_dues
from rounds.checks.due_state import Due, standing
from rounds.checks.question import DEGREES, Answer, AnswerContext
from rounds.checks.questions import question_for
from rounds.entries.registry import (
    Air,
    BroodBegun,
    HostIn,
    RoundFinished,
    RoundStarted,
    SetUp,
    ShelfSetUp,
    Stocked,
)
from rounds.screens.app import RoundsApp
from tests.conftest import Clock, Hand
from tests.durability.books import bench_of, desk_at, settled
from tests.durability.machine import told
from tests.durability.plain_bench import cups, thirsty_since
from tests.quick_loop import quick_loop
from tests.screens.driving import walk

PARIS = ZoneInfo("Europe/Paris")
BEGIN = datetime(2026, 3, 1, 6, 30, tzinfo=PARIS)  # the clocks go forward in it
LAPTOPS = ("aaaa1111", "bbbb2222")
PURPOSES = ("laying", "laying", "rearing", "pupation")
STAGES = {"laying": "adult", "rearing": "larva", "pupation": "pupa"}
MAX_GROWTH_MB = 16  # between the first third of the season and its end


class Season:
    """Two keepers at one book."""

    def __init__(self, folder: Path, number_of_cups: int, seed: int) -> None:
        self.folder = folder
        self.chance = random.Random(seed)
        self.clock = Clock(BEGIN)
        self.desks = [desk_at(folder, laptop, self.clock) for laptop in LAPTOPS]
        self.refused: list[str] = []
        self.entries = 0
        self._set_up(number_of_cups)

    def _set_up(self, number: int) -> None:
        desk = self.desks[0]
        self._must(desk, BroodBegun, code="QUE-26-02/A", taxon="Boloria dia")
        for shelf in "BCD":
            self._must(desk, ShelfSetUp, shelf=shelf, barrier="moat")
        for place in range(number):
            code, purpose = (
                f"C{place + 2}".replace("0", "Z").replace("1", "Y"),
                PURPOSES[place % len(PURPOSES)],
            )
            self._must(
                desk, SetUp, container=code, purpose=purpose, shelf="BCD"[place % 3], place=place
            )
            instar = 3 if purpose == "rearing" else 0
            self._must(
                desk,
                Stocked,
                container=code,
                brood="QUE-26-02/A",
                stage=STAGES[purpose],
                number=4,
                instar=instar,
            )
            if purpose != "pupation":
                self._must(desk, HostIn, container=code, plant="violet", batch="A", sprigs=3)

    def _must(self, desk: Desk, kind: type, **fields: object) -> None:
        outcome = desk.record(kind, **fields)
        assert isinstance(outcome, Recorded), outcome
        self.entries += len(outcome.entries)

    def day(self, number: int) -> None:
        """Two rounds, each by another keeper, the second one now and then typed late."""
        for hour, desk in ((7, self.desks[number % 2]), (18, self.desks[(number + 1) % 2])):
            day = (BEGIN + timedelta(days=number)).date()
            self.clock.now = datetime(
                day.year, day.month, day.day, hour, self.chance.randrange(30), tzinfo=PARIS
            )
            desk.hear()
            self._must(desk, RoundStarted, name="morning" if hour < 12 else "evening")
            self._must(desk, Air, temperature_c=18 + self.chance.randrange(8), humidity_percent=60)
            for due in desk.dues():
                if standing(due, desk.now()) != "ahead" or due.check in ("drink", "look"):
                    self._answer(desk, due)
            if self.chance.random() < 0.2:
                desk.strike_last("wrong cup")
            self._must(desk, RoundFinished)
            desk.reading.rest()

    def _answer(self, desk: Desk, due: Due) -> None:
        """Give the usual answer, else the first that needs nothing more."""
        self.clock.on(seconds=self.chance.randrange(2, 9))
        question = question_for(desk.bench, due)
        for answer in sorted(question.answers, key=lambda one: not one.usual):
            if answer.prompt is not None:
                continue
            number, second = _numbers(answer) if answer.must else (None, None)
            sayings = answer.says(AnswerContext(desk.bench, due, desk.now(), number, second))
            late = desk.now() - timedelta(minutes=20) if self.chance.random() < 0.05 else None
            outcome = desk.say_many(sayings, late) if sayings else None
            if isinstance(outcome, Recorded):
                self.entries += len(outcome.entries)
                return
            if isinstance(outcome, Refusal):
                self.refused.append(outcome.line)

    def day_on_screen(self, number: int) -> int:
        """One more day, both rounds walked by keys on the screen to their end; how many keys that took comes back."""
        with asyncio.Runner(loop_factory=quick_loop) as runner:
            return sum(runner.run(self._round_on_screen(number, hour)) for hour in (7, 18))

    async def _round_on_screen(self, number: int, hour: int) -> int:
        day, desk = (BEGIN + timedelta(days=number)).date(), self.desks[0]
        self.clock.now = datetime(day.year, day.month, day.day, hour, 5, tzinfo=PARIS)
        desk.hear()
        before = desk.bench.entries
        app = RoundsApp(desk, monotonic=Hand())
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("r")
            walked = await walk(pilot, app, most=4_000)
        assert walked.finished, f"not at its end after {walked.presses} keys"
        assert desk.bench.open_round is None
        self.entries += desk.bench.entries - before
        return walked.presses

    def compare(self) -> None:
        """Both desks against a plain reading.

        Raises:
            AssertionError: they differ.
        """
        bench = bench_of(self.folder)
        lines = [
            json.loads(line)
            for path in self.folder.glob("entries-*.jsonl")
            for line in path.read_bytes().splitlines()
        ]
        model = {code: cup for code, cup in cups(lines).items() if cup.purpose == "laying"}
        for desk in self.desks:
            desk.hear()
            assert settled(desk.bench) == bench
            assert told(desk.dues()) == told(all_dues(bench, desk.moment()))
            drinks = {due.where: due.since for due in desk.dues() if due.check == "drink"}
            assert drinks == {code: thirsty_since(cup) for code, cup in model.items() if cup.adults}


def _numbers(answer: Answer) -> tuple[float | None, float | None]:
    return (20.0, 24.0) if answer.takes == DEGREES else (2.0, None)


def in_a_child(work: Callable[[], None]) -> None:
    """Work in a copy of this process, so that what the plain reading takes is not counted as the desks'.

    Raises:
        AssertionError: it failed; its own words are on the error stream.
    """
    child = os.fork()
    if child == 0:
        status = 1
        try:
            work()
            status = 0
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(status)
    assert os.waitpid(child, 0)[1] == 0, "a bench or a due check is not as a plain reading has it"


def resident_mb() -> float:
    """The memory that this process holds [MB]."""
    gc.collect()
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def run(days: int, number_of_cups: int, seed: int = 1) -> str:
    """So many days; what was found is told.

    Raises:
        AssertionError: a bench or a due check is wrong, or the memory grows.
    """
    with tempfile.TemporaryDirectory() as name:
        start = time.perf_counter()
        season = Season(Path(name) / "book", number_of_cups, seed)
        early = resident_mb()
        for number in range(days):
            season.day(number)
            if number % 7 == 6 or number == days - 1:
                in_a_child(season.compare)
            if number == days // 3:
                early = resident_mb()
        late, took = resident_mb(), time.perf_counter() - start
        assert late - early < MAX_GROWTH_MB, (
            f"{early:.0f} MB after a third, {late:.0f} MB at the end"
        )
        presses = season.day_on_screen(days)
        season.compare()
        size = len(msgspec.json.encode(season.desks[0].bench)) / 1e6
        return (
            f"{days} days, {number_of_cups} cups, {season.entries:,} entries in {took:.0f} s; every due check as a plain reading has it; "
            f"a day more on the screen took {presses:,} keys; "
            f"{early:.0f} MB after a third of the season, {late:.0f} MB at its end; the bench is {size:.1f} MB as text"
        )


def main() -> None:
    """As the command line says."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--days", type=int, default=150)
    parser.add_argument("--cups", type=int, default=60)
    options = parser.parse_args()
    print(run(options.days, options.cups))


if __name__ == "__main__":
    main()
