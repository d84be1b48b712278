"""Machines that take themselves for one another, and a synchroniser between their books: every acknowledged line is in both.

Each process says one thing after another at its own copy of the book and acknowledges what is on disk; a synchroniser carries
files both ways meanwhile, and where both sides changed one file it leaves a conflict copy under some name.

two         two machines, each with a home of its own
one home    two copies under one home, so that machine, user and memory are the same
clones      two machines that begin under the very same writer's name, as after a disk image was copied

Run: python -m tests.durability.one_identity --times 20 [--seed N] [--only WHICH] [--each 150]
"""

from __future__ import annotations

import argparse
import itertools
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

from rounds.app.desk import Recorded
from rounds.entries.registry import Note
from tests.benchmarks.bench_due import NOW
from tests.conftest import Clock
from tests.durability.books import desk_at, plain
from tests.memory import PREFIX

WHICH = ("two", "one home", "clones")
CALLED = (
    "{stem}.sync-conflict-{number}.jsonl",
    "{stem} (conflicted copy {number}).jsonl",
    "{stem}.jsonl.conflict{number}",
    "Copy {number} of {stem}.jsonl",
    "lost and found {number}",
)


class Synchroniser:
    """Carries files between two folders: what one side changed goes over, what both changed stays on both as a copy."""

    def __init__(self, folders: tuple[Path, Path], chance: random.Random) -> None:
        self.folders = folders
        self.chance = chance
        self._agreed: dict[str, bytes] = {}  # by name, as both sides had it last
        # files of which whole lines were carried that a disk that failed took back afterwards
        self.taken_back: set[str] = set()
        self._numbers = itertools.count(1)

    def carry(self) -> None:
        """Once through all files."""
        for name in sorted(set(self._names())):
            self._one(name)

    def _names(self) -> Iterator[str]:
        for folder in self.folders:
            yield from (
                path.name
                for path in folder.iterdir()
                if path.is_file() and path.name[0] != "." and "checkpoint-" not in path.name
            )

    def _one(self, name: str) -> None:
        sides = [folder / name for folder in self.folders]
        data = [path.read_bytes() if path.exists() else None for path in sides]
        if data[0] == data[1]:
            self._agreed[name] = data[0] or b""
            return
        before = self._agreed.get(name)
        changed = [one != before for one in data]
        if all(changed) and None not in data:
            winner = self.chance.randrange(2)
            self._conflict(name, data[1 - winner] or b"")
        else:
            winner = changed.index(True)
        winning = data[winner]
        if winning is None:
            winner = 1 - winner
            winning = data[winner] or b""
        loser = sides[1 - winner]
        if loser.exists() and loser.read_bytes() != data[1 - winner]:
            return  # it grew meanwhile: the next time
        whole, _, _ = (data[1 - winner] or b"").rpartition(b"\n")
        if not winning.startswith(whole):
            self.taken_back.add(name)
        self._put(loser, winning)
        self._agreed[name] = winning

    def _conflict(self, name: str, data: bytes) -> None:
        called = self.chance.choice(CALLED).format(stem=Path(name).stem, number=next(self._numbers))
        for folder in self.folders:
            self._put(folder / called, data)
        self._agreed[called] = data

    def _put(self, place: Path, data: bytes) -> None:
        beside = place.with_name(f".{place.name}.incoming")
        beside.write_bytes(data)
        beside.replace(place)


def write(folder: Path, name: str, number: int, each: int) -> None:
    """Say so many things; acknowledge each that is on disk."""
    clock = Clock(NOW)
    desk = desk_at(folder, name, clock)
    for turn in range(each):
        clock.on(seconds=1)
        outcome = desk.record(Note, text=f"{number}: {turn}")
        assert isinstance(outcome, Recorded), outcome
        print(outcome.entry.id, flush=True)
        if turn % 7 == 0:
            desk.hear()
        if turn % 40 == 39:
            desk = desk_at(folder, name, clock)
    desk.hear()


def lines(folder: Path) -> Counter[str]:
    """The ids of all lines of all files of a book, read in the plainest way."""
    found: Counter[str] = Counter()
    for path in folder.iterdir():
        if path.is_file() and "checkpoint-" not in path.name:
            found.update({json.loads(line)["id"] for line in path.read_bytes().splitlines()})
    return found


def once(place: Path, which: str, seed: int, each: int) -> int:
    """Two processes at two copies, and the synchroniser between them.

    Returns:
        How many entries were acknowledged.

    Raises:
        AssertionError: one of them is not in both copies, or the benches differ.
    """
    chance = random.Random(seed)
    folders = (place / "one" / "book", place / "other" / "book")
    homes = [
        str(place / f"{PREFIX}one"),
        str(place / f"{PREFIX}{'one' if which == 'one home' else 'other'}"),
    ]
    name = "same2222" if which == "clones" else ""
    os.environ["XDG_STATE_HOME"] = homes[0]
    desk_at(folders[0], name).record(Note, text="from before")
    shutil.copytree(folders[0], folders[1])
    if which == "clones":
        shutil.copytree(homes[0], homes[1])
    carrier = Synchroniser(folders, chance)
    children = [
        subprocess.Popen(
            [
                sys.executable,
                "-m",
                "tests.durability.one_identity",
                "--write",
                str(folder),
                str(number),
                name,
                "--each",
                str(each),
            ],
            stdout=subprocess.PIPE,
            env=os.environ | {"XDG_STATE_HOME": home},
        )
        for number, (folder, home) in enumerate(zip(folders, homes, strict=True))
    ]
    while any(child.poll() is None for child in children):
        carrier.carry()
    acknowledged = [one for child in children for one in child.communicate()[0].decode().split()]
    assert [child.returncode for child in children] == [0, 0]
    for _ in range(4):
        carrier.carry()
    assert len(set(acknowledged)) == len(acknowledged) == 2 * each
    for folder, home in zip(folders, homes, strict=True):
        os.environ["XDG_STATE_HOME"] = home
        missing = set(acknowledged) - lines(folder).keys()
        assert not missing, (
            f"{len(missing)} of {len(acknowledged)} acknowledged are not in {folder}: {sorted(missing)[:3]}"
        )
        assert {one.id for one in desk_at(folder, name).entries(whole=True)} >= set(acknowledged)
    assert plain(desk_at(folders[0], "")) == plain(desk_at(folders[1], ""))
    return len(acknowledged)


def run(times: int, seed: int, only: str, each: int, told: Callable[[str], object] = print) -> None:
    """So many times each."""
    for which in [only] if only else WHICH:
        counted = 0
        for turn in range(times):
            with tempfile.TemporaryDirectory() as name:
                try:
                    counted += once(Path(name), which, seed * 1_000 + turn, each)
                except AssertionError as trouble:
                    raise AssertionError(
                        f"{which}, time {turn} of seed {seed}: {trouble}"
                    ) from trouble
        told(
            f"{which}: {times} times, {counted:,} entries were acknowledged; all in both copies, none lost"
        )


def main() -> None:
    """As the command line says."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--times", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", choices=WHICH, default="")
    parser.add_argument("--each", type=int, default=150)
    parser.add_argument(
        "--write", nargs=3, metavar=("FOLDER", "NUMBER", "NAME"), help=argparse.SUPPRESS
    )
    options = parser.parse_args()
    if options.write:
        write(Path(options.write[0]), options.write[2], int(options.write[1]), options.each)
    else:
        run(options.times, options.seed, options.only, options.each)


if __name__ == "__main__":
    main()
