"""Killed at any moment (SIGKILL): what was acknowledged is there, once, and the next start is clean.

Run: python -m tests.durability.kills --times 1000 [--seed N] [--only WORK]
"""

from __future__ import annotations

import argparse
import contextlib
import hashlib
import io
import itertools
import json
import os
import random
import select
import signal
import sys
import tempfile
import zipfile
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import NoReturn

from rounds.app import reading as book_reading
from rounds.app.desk import Desk, Recorded
from rounds.bench import incremental_fold
from rounds.daybook import Daybook
from rounds.daybook.verify import examine
from rounds.entries.registry import Note
from rounds.exchange.backup import write_backup
from rounds.exchange.merge import merge
from rounds.shell.main import main as command
from tests.benchmarks.bench_due import NOW
from tests.benchmarks.long_book import write_book
from tests.conftest import PARIS, Clock
from tests.durability.books import bench_of, desk_at, desk_long_after, plain

LAPTOP = "aaaa1111"
READINGS = 2_000
WAKING = {signal.SIGALRM, signal.SIGCHLD}
Acknowledge = Callable[[str], None]
Work = Callable[[Path, random.Random, Acknowledge], None]


def quiet(done: int, whole: int) -> None:
    """Nobody asks how far it is."""


def _say(desk: Desk, chance: random.Random, acknowledge: Acknowledge, clock: Clock) -> None:
    """Say something, now and then late, several at once, or a strike; acknowledge what was said to be saved."""
    clock.on(seconds=1)
    turn = chance.random()
    if turn < 0.1:
        outcome = desk.record(
            Note, text="late", at=clock.now - timedelta(minutes=chance.randrange(1, 5_000))
        )
    elif turn < 0.2:
        outcome = desk.say_many(
            [(Note, {"text": "first of two"}), (Note, {"text": "second of two"})]
        )
    elif turn < 0.3:
        outcome = desk.strike_last("wrong cup")
    else:
        outcome = desk.record(Note, text="x" * chance.randrange(1, 1_500))
    if isinstance(outcome, Recorded):
        for entry in outcome.entries:
            acknowledge(entry.id)


def saying(folder: Path, chance: random.Random, acknowledge: Acknowledge) -> None:
    """Says one thing after another."""
    clock = Clock(NOW)
    desk = desk_at(folder, LAPTOP, clock)
    while True:
        _say(desk, chance, acknowledge, clock)


def checkpointing(folder: Path, chance: random.Random, acknowledge: Acknowledge) -> None:
    """Says, and writes a checkpoint after each few."""
    book_reading.WORTH_A_CHECKPOINT = 1
    clock = Clock(NOW)
    while True:
        desk = desk_at(folder, LAPTOP, clock)
        for _ in range(chance.randrange(1, 4)):
            _say(desk, chance, acknowledge, clock)
        desk.reading.rest()


def backing_up(folder: Path, chance: random.Random, acknowledge: Acknowledge) -> None:
    """Says, and writes a backup over the last."""
    clock = Clock(NOW)
    desk = desk_at(folder, LAPTOP, clock)
    while True:
        _say(desk, chance, acknowledge, clock)
        write_backup(folder, folder.with_name("kept.zip"), replace=True, progress=quiet)


def merging(folder: Path, chance: random.Random, acknowledge: Acknowledge) -> None:
    """Takes another book in."""
    desk = desk_at(folder)
    _say(desk, chance, acknowledge, Clock(NOW))
    merge(Daybook.open(folder, LAPTOP), folder.with_name("other"), quiet)
    acknowledge("merged")
    signal.pause()


def importing(folder: Path, chance: random.Random, acknowledge: Acknowledge) -> None:
    """Takes a logger's readings in."""
    del chance
    _import(folder)
    acknowledge("imported")
    signal.pause()


def _import(folder: Path) -> None:
    with contextlib.redirect_stdout(io.StringIO()):
        done = command(
            [
                "temperatures",
                str(folder.with_name("logger.csv")),
                "--zone",
                "UTC",
                "--book",
                str(folder),
            ]
        )
    assert done == 0


def breaking_off(folder: Path, chance: random.Random, acknowledge: Acknowledge) -> None:
    """Dies by itself in the middle of a write, as when the power goes."""
    left = itertools.count(chance.randrange(12), -1)

    def write(descriptor: int, data: bytes) -> int:
        if next(left) > 0:
            return os.write(descriptor, data)
        os.write(descriptor, data[: chance.randrange(len(data))])
        os.kill(os.getpid(), signal.SIGKILL)
        raise AssertionError

    clock = Clock(NOW)
    desk = Desk(
        Daybook(folder, LAPTOP, write=write),
        clock=clock,
        entropy=os.urandom,
        zone=PARIS,
        keeper="KM",
    )
    while True:
        _say(desk, chance, acknowledge, clock)


WORKS: dict[str, tuple[Work, float]] = {  # with the longest time until the kill [s]
    "saying": (saying, 0.2),
    "checkpointing": (checkpointing, 0.3),
    "backing up": (backing_up, 0.3),
    "merging": (merging, 0.3),
    "importing": (importing, 0.4),
    "breaking off": (breaking_off, 5.0),
}

SAYS = ("saying", "checkpointing", "backing up")  # that acknowledge what they say, one by one
SLOWEST = 30.0  # [s] until a child that opens a book has said something
ENOUGH = 8  # kills of one work, that some of them must have come behind an acknowledgement


def killed(folder: Path, work: str, seed: int) -> list[str]:
    """Let a child do some work on a book and kill it at a random moment.

    Returns:
        What it had acknowledged.
    """
    chance = random.Random(seed)
    do, longest = WORKS[work]
    reading, writing = os.pipe()
    while signal.sigtimedwait(WAKING, 0):
        pass  # of the child before
    child = os.fork()
    if not child:
        _work(do, folder, chance, reading, writing)
    os.close(writing)
    if work in SAYS and chance.random() < 0.5:  # a slow machine may not come so far otherwise
        select.select([reading], [], [], SLOWEST)
    after = chance.uniform(0, longest)
    signal.setitimer(signal.ITIMER_REAL, after)  # the parent is woken, and kills
    signal.sigtimedwait(WAKING, longest + 5)
    signal.setitimer(signal.ITIMER_REAL, 0)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    with os.fdopen(reading, "rb") as pipe:
        acknowledged = pipe.read().decode().split("\n")
    if not os.WIFSIGNALED(status):
        raise AssertionError(f"the child of {work} ended by itself: {acknowledged[-2:]}")
    return acknowledged[:-1]


def _work(do: Work, folder: Path, chance: random.Random, reading: int, writing: int) -> NoReturn:
    os.close(reading)
    try:
        do(folder, chance, lambda text: os.write(writing, f"{text}\n".encode()) and None)
    except BaseException as trouble:
        os.write(writing, f"{trouble!r}\n".encode())
    finally:
        os._exit(3)


def lines_by_id(folder: Path) -> Counter[str]:
    """How many lines there are of each id."""
    found: Counter[str] = Counter()
    for path in folder.glob("entries-*.jsonl"):
        for line in path.read_bytes().split(b"\n")[:-1]:
            found[json.loads(line)["id"]] += 1
    return found


def judge(folder: Path, acknowledged: set[str]) -> None:
    """What must hold after any kill.

    Raises:
        AssertionError: it does not.
    """
    desk = desk_long_after(folder)
    for problem in desk.reading.problems:
        assert "its last line was torn" in problem, problem
        assert "set aside in aside/" in problem, problem
    found = lines_by_id(folder)
    missing = acknowledged - found.keys() - {"merged", "imported"}
    assert not missing, f"acknowledged and not there: {sorted(missing)}"
    assert max(found.values(), default=1) == 1, "a line stands there twice"
    assert plain(desk) == bench_of(folder), "the bench is not that of the lines"
    assert not desk_long_after(folder).reading.problems, "the second start is not clean"
    kept = folder.with_name("kept.zip")
    if kept.exists():
        with zipfile.ZipFile(kept) as archive:
            assert archive.testzip() is None


def judge_merge(folder: Path, merged: bool) -> None:
    """After a kill in a merge, doing it again takes in the rest, and what was acknowledged is all there."""
    other = folder.with_name("other")
    before = lines_by_id(folder)
    if merged:
        assert lines_by_id(other).keys() <= before.keys()
    for _ in range(2):
        merge(Daybook.open(folder, LAPTOP), other, quiet)
    found = lines_by_id(folder)
    assert found.keys() == before.keys() | lines_by_id(other).keys()
    assert (folder / "photos" / "K7.jpg").read_bytes() == (other / "photos" / "K7.jpg").read_bytes()


def judge_import(folder: Path, imported: bool) -> None:
    """After a kill in an import, what was said to be taken in is whole, and doing it again takes in the rest, once."""
    for again in range(2):
        if again or not imported:
            _import(folder)
        readings = [
            one for series in desk_long_after(folder).bench.logged.values() for one in series
        ]
        assert sum(one.rows for one in readings) == READINGS
        for one in readings:
            assert hashlib.sha256((folder / one.file).read_bytes()).hexdigest() == one.digest
    assert not [
        one
        for one in examine(folder, LAPTOP, datetime.now(UTC)).found
        if one.sort in ("series", "damage")
    ]


def fresh(place: Path, number: int) -> Path:
    """A book to work on, beside another to be merged."""
    folder = place / str(number) / "book"
    write_book(folder, 300, 4)
    with folder.with_name("logger.csv").open("w") as file:
        file.write("time,temperature (C)\n")
        for line in range(READINGS):
            file.write(
                f"{NOW - timedelta(days=30, minutes=-10 * line):%Y-%m-%dT%H:%M:%S}Z,{20 + line % 9}.5\n"
            )
    other = folder.with_name("other")
    write_book(other, 300, 4)
    (other / "photos").mkdir(mode=0o700)
    (other / "photos" / "K7.jpg").write_bytes(os.urandom(1_000_000))
    with max(
        other.glob("entries-aaaa1111-*.jsonl"), default=other / "entries-aaaa1111-2026-05.jsonl"
    ).open("a") as file:
        for line in range(400):
            moment = (NOW + timedelta(seconds=line)).isoformat()
            file.write(
                json.dumps(
                    {
                        "what": "note",
                        "id": f"zother{line:04d}",
                        "at": moment,
                        "logged": moment,
                        "text": "y" * 900,
                    }
                )
                + "\n"
            )
    return folder


def run(times: int, seed: int, only: str = "", told: Callable[[str], object] = print) -> None:
    """Kill so many times.

    Raises:
        AssertionError: something was lost or doubled, the seed and turn are said; or nothing was acknowledged, so that
            nothing could be lost.
    """
    signal.pthread_sigmask(signal.SIG_BLOCK, WAKING)
    incremental_fold.KEPT, incremental_fold.MAX_SEALED = 60, 4
    kills: Counter[str] = Counter()
    acknowledgements: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as name:
        folder, acknowledged = Path(name), set[str]()
        for turn in range(times):
            work = only or list(WORKS)[turn % len(WORKS)]
            if turn % 25 == 0 or work in ("merging", "importing"):
                folder, acknowledged = fresh(Path(name), turn), set()
            try:
                heard = killed(folder, work, seed * 1_000_003 + turn)
                acknowledged.update(heard)
                judge(folder, acknowledged)
                if work == "merging":
                    judge_merge(folder, "merged" in heard)
                    judge(folder, acknowledged)
                if work == "importing":
                    judge_import(folder, "imported" in heard)
            except AssertionError as trouble:
                raise AssertionError(
                    f"kill {turn} of seed {seed}, while {work}: {trouble}"
                ) from trouble
            kills[work] += 1
            acknowledgements[work] += len(heard)
    told(f"{times} kills ({', '.join(f'{number} while {work}' for work, number in kills.items())})")
    in_vain = [one for one in SAYS if kills[one] >= ENOUGH and not acknowledgements[one]]
    if in_vain or not acknowledgements.total():
        raise AssertionError(
            f"nothing was acknowledged while {' and '.join(in_vain or kills)}: such kills prove nothing"
        )
    told(
        f"{acknowledgements.total():,} entries were acknowledged; none lost, none doubled, every next start clean"
    )


def main() -> None:
    """As the command line says."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--times", type=int, default=1_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", choices=WORKS, default="")
    options = parser.parse_args()
    run(options.times, options.seed, options.only)


if __name__ == "__main__":
    sys.exit(main())
