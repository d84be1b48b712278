"""Killed in any weather: a synchroniser at work, a clock that jumps, a disk that fills and empties.

Two machines say one thing after another, each at its own copy of a book and each with a home of its own; a synchroniser carries
files between the copies; now and then a write finds the disk full, in the middle of a line or before it; the clocks jump by hours
and years. Both processes are killed (SIGKILL) at a random moment. After each kill every acknowledged line is in both copies, once;
what was reported as not saved is in neither; the next start is clean and its bench is that of the lines.

Run: python -m tests.durability.weather --times 10000 [--seed N]
"""

from __future__ import annotations

import argparse
import errno
import os
import random
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import NoReturn

from rounds.app import reading as book_reading
from rounds.app.desk import Desk, Recorded, Unsaved
from rounds.bench import incremental_fold
from rounds.daybook import Daybook
from rounds.entries.registry import Note
from tests.benchmarks.bench_due import NOW
from tests.conftest import PARIS, Clock
from tests.durability.books import bench_of, desk_at, desk_long_after, plain
from tests.durability.kills import lines_by_id
from tests.durability.one_identity import Synchroniser
from tests.memory import PREFIX

LONGEST_S = 0.25  # until the kill
A_BOOK_LASTS = 40  # kills
JUMPS = [timedelta(0)] * 6 + [
    timedelta(hours=1),
    timedelta(hours=-3),
    timedelta(days=40),
    timedelta(days=-400),
    timedelta(days=3_650),
]


class Disk:
    """A disk that has room for so many bytes more, and is emptied again after some tries."""

    def __init__(self, chance: random.Random) -> None:
        self._chance = chance
        self._left = chance.randrange(200, 6_000)

    def write(self, descriptor: int, data: bytes) -> int:
        """As much as there is room for; now and then the power goes in the middle of it."""
        if self._chance.random() < 0.02:
            os.write(descriptor, data[: self._chance.randrange(len(data) + 1)])
            os.kill(os.getpid(), signal.SIGKILL)
        if self._left <= 0:
            if self._chance.random() < 0.4:
                self._left = self._chance.randrange(200, 6_000)
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        part, self._left = data[: self._left], self._left - len(data)
        return os.write(descriptor, part)

    def flush(self, descriptor: int) -> None:
        """Now and then what was written does not fit after all."""
        if self._chance.random() < 0.03:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        os.fsync(descriptor)


def say_on(folder: Path, chance: random.Random, tell: Callable[[str], None]) -> NoReturn:
    """Say one thing after another until killed; tell what is on disk, and what was reported as not saved."""
    book_reading.WORTH_A_CHECKPOINT = 20
    disk, clock = Disk(chance), Clock(NOW)
    while True:
        book = Daybook(folder, write=disk.write, flush=disk.flush)
        desk = Desk(book, clock=clock, entropy=os.urandom, zone=PARIS, keeper="KM")
        for _ in range(chance.randrange(1, 30)):
            clock.on(seconds=1)
            clock.now = (
                NOW + chance.choice(JUMPS) + timedelta(seconds=chance.randrange(100_000))
                if chance.random() < 0.1
                else clock.now
            )
            text = "x" * chance.randrange(1, 900)
            if chance.random() < 0.2:
                outcome = desk.say_many([(Note, {"text": "first of two"}), (Note, {"text": text})])
            else:
                outcome = desk.record(Note, text=text)
            if isinstance(outcome, Recorded):
                tell("".join(f"saved {one.id}\n" for one in outcome.entries))
            elif isinstance(outcome, Unsaved):
                desk.unsaved.give_up()
                tell("".join(f"refused {one.id}\n" for one in outcome.entries))
            if chance.random() < 0.2:
                desk.hear()
        desk.reading.rest()


class Child:
    """A process at one copy of the book."""

    def __init__(self, folder: Path, home: Path, seed: int) -> None:
        reading, writing = os.pipe()
        self.process = os.fork()
        if not self.process:
            try:
                os.close(reading)
                os.environ["XDG_STATE_HOME"] = str(home)
                say_on(
                    folder,
                    random.Random(seed),
                    lambda text: os.write(writing, text.encode()) and None,
                )
            except BaseException as trouble:
                os.write(writing, f"ended {trouble!r}\n".encode())
            finally:
                os._exit(3)
        os.close(writing)
        self._reading = reading
        os.set_blocking(reading, False)
        self._heard = b""

    def hear(self) -> None:
        """Empty the pipe, so that the child never waits."""
        while True:
            try:
                data = os.read(self._reading, 1 << 16)
            except BlockingIOError:
                return
            if not data:
                return
            self._heard += data

    def kill(self) -> list[list[str]]:
        """Kill it; what it told, as words."""
        os.kill(self.process, signal.SIGKILL)
        _, status = os.waitpid(self.process, 0)
        self.hear()
        os.close(self._reading)
        told = self._heard.decode().split("\n")[:-1]
        assert os.WIFSIGNALED(status), told[-1]
        return [line.split(" ", 1) for line in told]


def judge(
    folder: Path, home: Path, saved: set[str], refused: set[str], taken_back: set[str]
) -> None:
    """What must hold in one copy after any kill, all having been carried.

    A machine that first looked while lines lay there that were taken back says so, and takes the
    book as it is once it is told to.
    """
    os.environ["XDG_STATE_HOME"] = str(home)
    desk = desk_long_after(folder, "")
    lost = [one for one in desk.reading.problems if "this machine has seen" in one]
    if lost and all(any(name in one for name in taken_back) for one in lost):
        desk.book.accept()
        desk = desk_long_after(folder, "")
    found = lines_by_id(folder)
    missing = saved - found.keys()
    assert not missing, f"acknowledged and not there: {sorted(missing)[:3]} ({len(missing)})"
    assert not refused & found.keys(), (
        f"reported as not saved and there: {sorted(refused & found.keys())[:3]}"
    )
    assert max(found.values(), default=1) == 1, "a line stands there twice"
    # after the lines: what is told without need is no loss
    for problem in desk.reading.problems:
        assert "its last line was torn" in problem, problem
    assert plain(desk) == bench_of(folder), "the bench is not that of the lines"
    assert not desk_long_after(folder, "").reading.problems, "the second start is not clean"


class Run:
    """Two copies of one book and all that was told of them."""

    def __init__(self, place: Path, seed: int) -> None:
        self.folders = (place / "one" / "book", place / "other" / "book")
        self.homes = (place / f"{PREFIX}one", place / f"{PREFIX}other")
        self.chance = random.Random(seed)
        self.saved: set[str] = set()
        self.refused: set[str] = set()
        for folder, home in zip(self.folders, self.homes, strict=True):
            os.environ["XDG_STATE_HOME"] = str(home)
            desk_at(folder, "")
        self.carrier = Synchroniser(self.folders, self.chance)

    def kill_both(self) -> Counter[str]:
        """Let both say and the synchroniser carry until a random moment; kill; judge."""
        children = [
            Child(folder, home, self.chance.getrandbits(40))
            for folder, home in zip(self.folders, self.homes, strict=True)
        ]
        end = time.monotonic() + self.chance.uniform(0, LONGEST_S)
        while time.monotonic() < end:
            self.carrier.carry()
            for child in children:
                child.hear()
        told: Counter[str] = Counter()
        for child in children:
            for sort, entry_id in child.kill():
                told[sort] += 1
                {"saved": self.saved, "refused": self.refused}[sort].add(entry_id)
        for folder, home in zip(self.folders, self.homes, strict=True):
            os.environ["XDG_STATE_HOME"] = str(home)
            desk_at(folder, "")  # the next start sets aside what was torn
        for _ in range(2):
            self.carrier.carry()
        for folder, home in zip(self.folders, self.homes, strict=True):
            judge(folder, home, self.saved, self.refused, self.carrier.taken_back)
        return told


def run(times: int, seed: int, told: Callable[[str], object] = print) -> None:
    """Kill so many times.

    Raises:
        AssertionError: something was lost, doubled or saved against what was said; the seed and turn are told.
    """
    incremental_fold.KEPT, incremental_fold.MAX_SEALED = 60, 4
    counted: Counter[str] = Counter()
    turns = (times + 1) // 2
    for begin in range(0, turns, A_BOOK_LASTS // 2):
        with tempfile.TemporaryDirectory() as name:
            one = Run(Path(name), seed * 1_000_003 + begin)
            for turn in range(begin, min(turns, begin + A_BOOK_LASTS // 2)):
                try:
                    counted += one.kill_both()
                except AssertionError as trouble:
                    raise AssertionError(
                        f"kills {2 * turn} and after of seed {seed}: {trouble}"
                    ) from trouble
                counted["kills"] += 2
        if begin % 200 == 0 or begin + A_BOOK_LASTS // 2 >= turns:
            told(
                f"{counted['kills']:,} kills: {counted['saved']:,} acknowledged entries, each in both copies once; "
                f"{counted['refused']:,} reported as not saved, none of them there"
            )


def main() -> None:
    """As the command line says."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--times", type=int, default=1_000)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    run(options.times, options.seed, lambda line: print(line, flush=True))


if __name__ == "__main__":
    sys.exit(main())
