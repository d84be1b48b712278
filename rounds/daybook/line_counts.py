"""What this machine remembers having seen in a book, so that an older copy put over a newer one is told."""

from __future__ import annotations

import contextlib
import os
import secrets
import time
from collections import defaultdict
from collections.abc import Mapping
from pathlib import Path

import msgspec

from rounds.daybook.lines import Position, Problem, group_of
from rounds.daybook.safe_files import read_plain
from rounds.daybook.systems import NEW

SETTLED_NS = 2_000_000_000  # a line that stood there so long was not taken back by a disk that failed
WHAT_TO_DO = "look for the newer copy, or take a backup in with 'rounds merge'; 'rounds check --accept' takes the book as it is"


class Seen:
    """How many lines each file of a book had, its copies taken together with it; kept outside the book.

    Args:
        folder: the book.
        place: where it is kept, without an ending; None where nothing can be.
    """

    def __init__(self, folder: Path, place: Path | None) -> None:
        self._folder = folder
        self._path = place.with_suffix(".seen") if place else None
        self._lines = self._read()
        self._own: set[str] = set()
        self._noted: Position | None = None
        self._looked = False
        self._fewer: list[Problem] = []

    def _read(self) -> dict[str, int]:
        if self._path is None:
            return {}
        try:
            return msgspec.json.decode(read_plain(self._path), type=dict[str, int])
        except (OSError, msgspec.MsgspecError):
            return {}

    def expect(self, lines: Mapping[str, int]) -> None:
        """These many were written from here, by file; of what is written here that is known better than by looking."""
        self._lines.update(lines)
        self._own.update(lines)

    def compare(self, position: Position) -> list[Problem]:
        """Note what was read up to there; what is fewer than was seen before."""
        if position == self._noted:
            return self._fewer
        first, self._looked = not self._looked, True
        self._noted = dict(position)
        now = self._counted(position)
        fewer = [
            Problem(name, 0, _fewer(now.get(name, 0), lines), gap=True)
            for name, lines in self._lines.items()
            if now.get(name, 0) < lines
        ]
        if fewer and any(group_of(name) != name for name in position):
            wanted = sum(max(now.get(name, 0), self._lines.get(name, 0)) for name in now.keys() | self._lines.keys())
            if _distinct(self._folder, list(position)) >= wanted:
                fewer = []  # a copy has them
        grown = {name: lines for name, lines in now.items() if lines > self._lines.get(name, 0)}
        fresh = {group_of(name) for name, mark in position.items() if abs(time.time_ns() - mark.stamp.changed_ns) < SETTLED_NS}
        if first:  # a command may not look again; what others wrote is not taken back by this machine's disk
            fresh &= self._own
        if grown.keys() & fresh:
            self._noted = None  # to be looked at again
        if grown.keys() - fresh:
            self._lines.update({name: lines for name, lines in grown.items() if name not in fresh})
            self._write()
        self._fewer = fewer
        return fewer

    def behind(self, position: Position) -> int:
        """By how many lines that is behind what was seen."""
        now = self._counted(position)
        return sum(max(0, lines - now.get(name, 0)) for name, lines in self._lines.items())

    def most(self, position: Position) -> int:
        """How many lines the book has, or had when this machine saw more of it."""
        now = self._counted(position)
        return sum(max(now.get(name, 0), self._lines.get(name, 0)) for name in now.keys() | self._lines.keys())

    def accept(self, position: Position) -> None:
        """Remember the book as it is now."""
        self._lines = self._counted(position)
        self._write()

    def _counted(self, position: Position) -> dict[str, int]:
        groups: dict[str, list[str]] = defaultdict(list)
        for name in position:
            if group := group_of(name):
                groups[group].append(name)
        return {
            group: position[names[0]].number if len(names) == 1 else _distinct(self._folder, names) for group, names in groups.items()
        }

    def _write(self) -> None:
        """Put in place at once; where it cannot be nothing is remembered, and nothing lost."""
        if self._path is None:
            return
        beside = self._path.with_name(f".{self._path.name}.{secrets.token_hex(4)}")
        with contextlib.suppress(OSError):
            self._path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            descriptor = os.open(beside, os.O_WRONLY | NEW, 0o600)
            with os.fdopen(descriptor, "wb") as file:
                file.write(msgspec.json.encode(self._lines))
            os.replace(beside, self._path)
        with contextlib.suppress(OSError):
            beside.unlink()


def _distinct(folder: Path, names: list[str]) -> int:
    """How many different lines a file and its copies hold together."""
    found: set[int] = set()
    for name in names:
        with contextlib.suppress(OSError):
            found.update(hash(line.strip()) for line in read_plain(folder / name).split(b"\n")[:-1])
    return len(found)


def _fewer(now: int, before: int) -> str:
    gone = "is gone" if not now else f"has {now:,} lines" if now > 1 else "has 1 line"
    return f"{gone}, and this machine has seen {before:,} in it: an older copy was put over it, or lines were taken out; {WHAT_TO_DO}"
