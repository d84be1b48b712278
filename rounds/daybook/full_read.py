"""The whole past of a book in the order in which it happened, month by month, in less memory than
all of it takes.

The files are gone over twice. The first time only tells, of each line, when it happened and under
what id, so that what was typed long after, what was struck, and what stands under one id twice is
known before it matters. The second time the entries are read whole, one month after the other.
"""

from __future__ import annotations

import os
import time
from array import array
from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime
from itertools import pairwise
from pathlib import Path
from typing import Any

import msgspec

from rounds.bench.folding import says_the_same, stands_for
from rounds.bench.incremental_fold import History
from rounds.daybook.lines import (
    BOM,
    MAX_BYTES_A_LINE,
    NEWER,
    LineProblems,
    Position,
    Problem,
    Progress,
    ReadMark,
    Stamp,
    entry_files,
    line_at,
    month_of,
    print_before,
    running,
    says_otherwise,
    stamp_of,
    unread,
)
from rounds.daybook.partial import size_of
from rounds.daybook.safe_files import open_plain
from rounds.entries import codec as written
from rounds.entries.base import Entry
from rounds.entries.registry import CrossedOut
from rounds.tallies.journal import Journal

TELL_EVERY = 1 << 22  # bytes


class _Glance(msgspec.Struct, gc=False):
    at: datetime
    id: str
    what: str = ""
    part_of: str = ""


_glance = msgspec.json.Decoder(_Glance).decode
_NOT_READ = (msgspec.MsgspecError, ValueError, TypeError, RecursionError, OverflowError)


class FullRead:
    """A book's files as they are now.

    Args:
        folder: the book.
        progress: told how far it is, every few megabytes; it may raise to stop.
        until: entries that happened after it are kept apart; none where it is not given.

    Raises:
        OSError: the folder cannot be read.
    """

    def __init__(
        self, folder: Path, progress: Progress | None = None, until: datetime | None = None
    ) -> None:
        self._problems = LineProblems()
        self.position: Position = {}
        self.count = 0
        self.newer = 0  # lines of kinds that only a newer version knows
        self.again = 0  # lines that repeat another
        self.steady = True  # whether each file was the same both times
        self.contradicting: list[Problem] = []  # lines that differ from others under their id
        self.ahead: list[Entry] = []  # what happened later than it could, in order
        self.partial: dict[str, Entry] = {}  # of sets of lines that are not whole
        self._arrived: dict[str, set[int]] = defaultdict(set)  # of each set, which of its lines
        self._missed: set[str] = set()  # sets of which some lines are not here
        self._until = until
        self._progress = progress
        self._paths = entry_files(folder)
        self._whole = 2 * sum(path.stat().st_size for path in self._paths)
        self._done = 0
        # of the first time: how far, of which file, a digest
        self._ends: dict[Path, tuple[int, Stamp, Any]] = {}
        self._strays: dict[str, list[Entry]] = defaultdict(list)
        self._strikes: dict[str, CrossedOut] = {}
        self._doubled: dict[str, Entry] = {}
        # of these: file and line of that which counts
        self._counts_at: dict[str, tuple[str, int]] = {}
        self._begins = _beginnings(month_of(path) for path in self._paths)
        self._go_over()

    def _home(self, path: Path) -> str:
        """The month whose entries a file holds; empty where its name tells none."""
        month = month_of(path)
        return month if month in self._begins else ""

    def _month_at(self, at: datetime) -> str:
        """The month among those of the files in which an instant falls; the first and the last have
        no end."""
        text = ""
        for month, begin in self._begins.items():
            if text and at < begin:
                break
            text = month
        return text

    def _span(self, month: str) -> tuple[datetime | None, datetime | None]:
        """From when and until when the entries of a month happened; None where it has no end."""
        months = list(self._begins)
        position = months.index(month) if month else 0
        after = months[position + 1 : position + 2]
        return self._begins[month] if position else None, self._begins[after[0]] if after else None

    def _go_over(self) -> None:
        hashes = array("q")
        for path in self._paths:
            try:
                self._ends[path] = self._glance_at(path, hashes)
            except OSError as trouble:
                self._problems.meet(unread(path.name, trouble))
        self._paths = list(self._ends)
        self.count = len(hashes)
        self._missed = {one for one, ids in self._arrived.items() if len(ids) < size_of(one)}
        twice = _repeated(hashes)
        if twice:
            self._choose_of_doubled(twice)

    def _glance_at(self, path: Path, hashes: array[int]) -> tuple[int, Stamp, Any]:
        home = self._home(path)
        begin, end = self._span(home)
        homeless = bool(self._begins) and not home
        offset, read = 0, running()
        with open_plain(path, 1 << 18) as file:
            stamp = stamp_of(os.fstat(file.fileno()), time.time_ns())
            for raw in file:
                if not raw.endswith(b"\n"):
                    break
                self._tell(len(raw))
                line = raw if offset else raw.removeprefix(BOM)
                offset += len(raw)
                read.update(raw)
                if len(line) > MAX_BYTES_A_LINE or not line.lstrip().startswith(b"{"):
                    continue
                try:
                    seen = _glance(line)
                    away = homeless or not _is_within(seen.at, begin, end)
                except _NOT_READ:
                    continue
                hashes.append(hash(seen.id))
                if seen.part_of:
                    self._arrived[seen.part_of].add(hashes[-1])
                if away or seen.what == "struck":
                    self._set_apart(line, away)
        return offset, stamp, read

    def _set_apart(self, line: bytes, away: bool) -> None:
        entry = _read(line)
        if entry is not None and away:
            self._strays[self._month_at(entry.at)].append(entry)
        if isinstance(entry, CrossedOut):
            known = self._strikes.get(entry.id)
            if known is None or stands_for(entry, known):
                self._strikes[entry.id] = entry

    def _choose_of_doubled(self, twice: set[int]) -> None:
        """Of several lines under one id, the one that counts."""
        for path in self._paths:
            with open_plain(path, 1 << 18) as file:
                for number, raw in enumerate(file, 1):
                    line = raw.removeprefix(BOM)
                    entry = _read(line) if _hash_of(line) in twice else None
                    if entry is not None and entry.part_of not in self._missed:
                        self._choose(entry, path.name, number)

    def _choose(self, entry: Entry, file: str, number: int) -> None:
        before = self._counts_at.setdefault(entry.id, (file, number))
        known = self._doubled.setdefault(entry.id, entry)
        self.again += known is not entry
        if not says_the_same(known, entry):
            how = {"counts": stands_for(entry, known), "at_once": entry.at == known.at}
            self.contradicting.append(says_otherwise(file, number, entry.id, before, **how))
        if stands_for(entry, known):
            self._doubled[entry.id] = entry
            self._counts_at[entry.id] = file, number

    @property
    def problems(self) -> list[Problem]:
        """What is wrong with the files; all is known after all parts were read."""
        return self._problems.all()

    @property
    def strikes(self) -> dict[str, str]:
        """Every strike: its id, and the id of what it strikes."""
        return {
            crossed_out.id: crossed_out.entry
            for crossed_out in self._strikes.values()
            if isinstance(self._doubled.get(crossed_out.id, crossed_out), CrossedOut)
            and not self._is_ahead(crossed_out)
            and crossed_out.part_of not in self._missed
        }

    def _is_ahead(self, entry: Entry) -> bool:
        return self._until is not None and entry.at > self._until

    def parts(self) -> Iterator[list[Entry]]:
        """The entries in order, each id once; a month at a time."""
        for month in self._begins or [""]:
            begin, end = self._span(month)
            found: dict[str, Entry] = {}
            self._find(found, self._strays.pop(month, []))
            for path in self._paths:
                if self._home(path) == month:
                    entries = self._read_file(path)
                    self._find(found, (one for one in entries if _is_within(one.at, begin, end)))
            part = [self._doubled.get(one.id, one) for one in found.values()]
            part.sort(key=lambda one: one.order)
            if part and self._is_ahead(part[-1]):
                self.ahead += [one for one in part if self._is_ahead(one)]
                part = [one for one in part if not self._is_ahead(one)]
            yield part
        for path in self._paths:
            if self._begins and not self._home(path):
                for _ in self._read_file(path):
                    # its entries came with their months; what is wrong with its lines is told now
                    pass
        if self._progress and self._whole >= TELL_EVERY:
            self._progress(self._whole, self._whole)

    def _find(self, found: dict[str, Entry], entries: Iterable[Entry]) -> None:
        for entry in entries:
            if entry.part_of in self._missed:
                self.partial[entry.id] = entry
            elif (
                self._doubled.get(entry.id, entry).order == entry.order
            ):  # another under its id never takes its place
                found[entry.id] = entry

    def _read_file(self, path: Path) -> Iterator[Entry]:
        offset = number = 0
        until, stamp, before = self._ends[path]
        read = running()
        try:
            with open_plain(path, 1 << 18) as file:
                for raw in file:
                    if offset >= until:
                        break
                    offset += len(raw)
                    number += 1
                    read.update(raw)
                    self._tell(len(raw))
                    is_like_one = raw.startswith(b"{") and len(raw) < MAX_BYTES_A_LINE
                    entry = _read(raw) if is_like_one else None
                    if entry is None:
                        entry = self._read_slowly(path.name, number, raw)
                    if entry is not None:
                        yield entry
                end = print_before(file.fileno(), offset)
                self.position[path.name] = ReadMark(offset, number, end, (), read, stamp)
            if read.digest() != before.digest():
                self.steady = False
                self._problems.meet(Problem(path.name, 0, "changed while it was read"))
        except OSError as trouble:
            self.steady = False
            self._problems.meet(unread(path.name, trouble))

    def _read_slowly(self, file: str, number: int, raw: bytes) -> Entry | None:
        """A line that is empty, damaged, of a newer version, or begins with a byte order mark."""
        line = line_at(file, number, raw)
        if isinstance(line, Problem):
            self._problems.meet(line)
            return None
        if line is None:
            return None
        try:
            entry = written.read(line.raw)
        except written.NotRead as reason:
            self._problems.meet(Problem(file, number, str(reason), gap=True))
            return None
        if entry is None:
            self.newer += 1
            self._problems.meet(Problem(file, number, NEWER, gap=True))
        return entry

    def _tell(self, done: int) -> None:
        before, self._done = self._done, self._done + done
        if self._progress and before // TELL_EVERY != self._done // TELL_EVERY:
            self._progress(min(self._done, self._whole - 1), self._whole)


def history_of(past: FullRead) -> History:
    """The bench and what is kept beside it, from nothing but the files."""
    return History.read(past.parts(), past.count, past.strikes, Journal())


def _is_within(at: datetime, begin: datetime | None, end: datetime | None) -> bool:
    return (begin is None or at >= begin) and (end is None or at < end)


def _beginnings(months: Iterator[str]) -> dict[str, datetime]:
    found = {}
    for month in sorted(set(months)):
        try:
            found[month] = datetime.fromisoformat(f"{month}-01").replace(tzinfo=UTC)
        except ValueError:
            continue  # no month, or 0000-00 for entries that do not say when they were typed
    return found


def _read(line: bytes) -> Entry | None:
    try:
        return written.read(line)
    except written.NotRead:
        return None


def _hash_of(line: bytes) -> int | None:
    try:
        return hash(_glance(line).id)
    except _NOT_READ:
        return None


def _repeated(hashes: array[int]) -> set[int]:
    """The hashes that come more than once."""
    inorder = sorted(hashes)
    return {one for one, after in pairwise(inorder) if one == after}
