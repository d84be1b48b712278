"""A book: a private folder that only grows."""

from __future__ import annotations

import contextlib
import os
import stat
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any, NamedTuple

import msgspec

from rounds.bench.incremental_fold import History, PersistedFold
from rounds.daybook.checkpoint import Checkpoint, CheckpointContents
from rounds.daybook.identity import Identity
from rounds.daybook.kept_aside import KeptAside
from rounds.daybook.line_counts import LineCounts
from rounds.daybook.lines import (
    EMPTY,
    NEWER,
    LinesRead,
    Position,
    Problem,
    Progress,
    entry_files,
    lines_under,
    missing_ids,
    position_of,
    read_on,
)
from rounds.daybook.machine_memory import cannot_remember, nothing_remembered
from rounds.daybook.own_lines import OwnLines
from rounds.daybook.safe_files import NOT_DECODED, make_book, put_lines, read_plain
from rounds.daybook.storage import DaybookDB, LogStorage, LogTable, NotSaved
from rounds.daybook.which_book import WhichBook
from rounds.daybook.writer import Writer
from rounds.entries.base import Entry
from rounds.tallies.journal import Journal

ANOTHER = "another book lies in this one's place now"
LISTED = ".listed.txt"
MAX_PROBLEMS = 200  # that a checkpoint remembers; lines of a newer version are told by their number


class LoadedBench(NamedTuple):
    """A bench recalled: from a checkpoint, or from so many lines read."""

    history: History
    problems: list[Problem]
    read: int
    ahead: Sequence[Entry] = ()
    partial: Sequence[Entry] = ()


class Daybook:
    """An open book.

    Args:
        folder: where it lies; made, private to its owner, where there is none.
        name: a writer's name that the caller knows to be nobody else's; without one each book
            folder of each machine has a name of its own, taken at random.
        is_made: whether its folder was made just now.
    """

    def __init__(
        self,
        folder: Path,
        name: str = "",
        position: Position | None = None,
        *,
        is_made: bool = False,
        **system: Callable[..., Any],
    ) -> None:
        self.folder = folder
        self._identity = Identity(folder, is_made=is_made)
        self._which = WhichBook(folder, name, self._identity)
        # where this machine remembers things of the book, without an ending; None where it cannot
        self.beside = self._which.beside
        self.writer = Writer(folder, name, self.beside)
        self._own_lines = OwnLines(folder, self._identity, self.beside, lambda: self.fewer() > 0)
        self._storage = LogStorage(folder, self.writer, **system, wrote=self._own_lines.add)
        self._db = DaybookDB(storage=lambda: self._storage)
        self.position: Position = position or {}
        self.apart = False  # whether something that was read is not in the files any more as it was
        self.accepted = accepted_in(self.beside)  # damaged lines that the keeper knows of
        self._seen = LineCounts(folder, self.beside, self.writer, self._own_lines)
        self._cannot_remember = cannot_remember(self.beside)
        self._checkpoint = Checkpoint(folder, self.writer, self.beside)
        self._aside = KeptAside(self._identity, self.beside)
        # the list of a running bench as far as it was typed, until it is recorded
        self.listed = KeptAside(self._identity, self.beside, LISTED)
        self._first_problems = self._opening()
        self._which.remember()
        self._looked = False
        self._taken_out: dict[str, bytes] | None = None  # as the last look found it

    @classmethod
    def open(cls, folder: Path, name: str = "", position: Position | None = None) -> Daybook:
        """Open a book, or begin one.

        Raises:
            OSError: the folder cannot be made or read.
        """
        is_made = not os.path.lexists(folder)
        make_book(folder)
        return cls(folder, name, position, is_made=is_made)

    def _opening(self) -> list[Problem]:
        problems = []
        mode = stat.S_IMODE(self.folder.stat().st_mode)
        if mode & 0o077:
            text = f"others may read this book (mode {mode:03o}); chmod 700 it"
            problems.append(Problem(self.folder.name, 0, text))
        entry_files(self.folder)  # a book that cannot be read is not an empty one
        self._storage.settle()
        return problems

    @property
    def instead(self) -> str:
        """That it lies where another was, on a disk of its own, in words, as it is seen first; else
        empty."""
        return self._which.instead

    @property
    def cannot_remember(self) -> str:
        """That nothing can be kept of the book on this machine, as found at first or by the last
        write, in words; empty where it can."""
        why = self._own_lines.not_kept
        return self._cannot_remember or (nothing_remembered(why) if why else "")

    def append_many(self, entries: Sequence[Mapping[str, Any]]) -> None:
        """Append entries; on return they are on disk.

        Raises:
            NotSaved: nothing was written, and why.
        """
        self.refuse_another()
        self.table.insert_multiple(entries)
        self._which.remember()

    def append_lines(self, lines: Sequence[bytes]) -> None:
        """Append entries as they were written elsewhere, byte by byte; on return they are on disk.

        Raises:
            NotSaved: some may not be written, and why.
        """
        self.refuse_another()
        self._storage.append_lines(lines)

    def put_whole(self, name: str, data: bytes) -> None:
        """Put a file of another writer in the place of one of which some lines are broken off.

        Raises:
            NotSaved: another book lies at its path now.
            OSError: it cannot be written; the one that is there stays.
        """
        self.refuse_another()
        *lines, half = data.split(b"\n")
        put_lines(self.folder / name, lines, half=half)
        self._seen.forget(name)

    def refuse_another(self) -> None:
        """To be asked before anything is put into the book's folder.

        Raises:
            NotSaved: another book lies at its path now.
        """
        if self._identity.is_another():
            raise NotSaved(f"{ANOTHER}; bring back the one that was opened")

    def new_lines(self) -> LinesRead:
        """Every complete line since the last look, whoever wrote it."""
        if self._identity.is_another():
            self.apart = True
            words = (
                f"{ANOTHER}; nothing is read from it or written to it: bring back the one that was"
                " opened"
            )
            return LinesRead(problems=[Problem(self.folder.name, 0, words, gap=True)])
        batch, self.position = read_on(self.folder, self.position, self.writer.files)
        if batch.changed:
            self.apart = True
            if any(name in self.writer.files for name in batch.changed):
                self.writer.take_new_name()
        batch.problems[:0] = self._first_problems + self._storage.problems
        self._first_problems, self._storage.problems = [], []
        if batch.changed or not self._looked:  # before what is there now passes for what was seen
            self._looked = True
            with contextlib.suppress(OSError):
                self._taken_out = self._own_lines.taken_out()
        lost = self._seen.compare(self.position, batch.changed)
        told = {one.file for one in lost}
        batch.problems = [
            *(one for one in batch.problems if one.text != EMPTY or one.file not in told),
            *lost,
        ]
        return batch

    def load(
        self,
        progress: Progress | None = None,
        *,
        anew: bool = False,
        until: datetime | None = None,
        looks_back: bool = True,
    ) -> LoadedBench:
        """The bench as far as it was read: from the checkpoint, else (or where it must be anew)
        from the files alone.

        The next look goes on from there.

        Args:
            until: what happened after it is kept apart.
            looks_back: whether what went by is wanted beside the bench of a checkpoint, and what
                late lines are folded into.
        """
        believed = None if anew else self._checkpoint.load(whole=looks_back)
        if believed:
            persisted_fold, taken = believed
            self.position = taken.position
            journal = Journal(persisted_fold.beside) if looks_back else None
            history = History(persisted_fold, journal)
            return LoadedBench(history, list(taken.problems), 0, taken.ahead, taken.partial)
        from rounds.daybook.full_read import FullRead, history_of  # only where no checkpoint serves

        past = FullRead(self.folder, progress, until)
        history = history_of(past)
        self.position = past.position
        self.apart = not past.steady
        problems, partial = past.problems + past.contradicting, tuple(past.partial.values())
        lines = sum(mark.number for mark in past.position.values())
        return LoadedBench(history, problems, lines, past.ahead, partial)

    def to_keep(
        self,
        kept: PersistedFold,
        problems: Sequence[Problem],
        ahead: Sequence[Entry] = (),
        partial: Sequence[Entry] = (),
    ) -> Callable[[], object]:
        """What writes a checkpoint of a bench that holds all that was read so far; to be called in
        any thread."""
        newer = [problem for problem in problems if problem.text == NEWER]
        damaged = [one for one in problems if one.text != NEWER][:MAX_PROBLEMS]
        taken = CheckpointContents(self.position, (*damaged, *newer), tuple(ahead), tuple(partial))
        return lambda: self._checkpoint.save(kept, taken)

    def fewer(self) -> int:
        """By how many lines the book is behind what this machine has seen in it."""
        return self._seen.behind(position_of(self.folder))

    def most_lines(self) -> int:
        """How many lines the book has, or had when this machine saw more of it; lines that cannot
        be read count too."""
        return self._seen.most(position_of(self.folder))

    def accept(self, damaged: Iterable[Problem] = ()) -> None:
        """Take the book as it is: what is no longer in it, and what of it cannot be read so, is not
        told again."""
        self._seen.accept(position_of(self.folder))
        self._own_lines.forget()
        self.writer.begin_anew()
        if self.beside is not None:
            self.accepted = frozenset(str(problem) for problem in damaged)
            with contextlib.suppress(OSError):
                put_lines(_accepted_at(self.beside), [msgspec.json.encode(sorted(self.accepted))])

    def known_by(self, first: str) -> str:
        """The id by which this book is known again: that of its first line, or of one before it
        that this machine saw here and that cannot be read now. Kept outside the book, where it can
        be.

        Args:
            first: the id of the first line that can be read; empty where there is none.
        """
        if self.beside is None:
            return first
        path, known = self.beside.with_suffix(".first"), ""
        with contextlib.suppress(OSError):
            known = read_plain(path).decode("utf-8", "replace").strip()
        text = min(filter(None, (first, known)), default="")
        if text != known:
            with contextlib.suppress(OSError):
                put_lines(path, [text.encode("utf-8", "surrogatepass")])
        return text

    def missing(self, ids: Iterable[str]) -> set[str]:
        """Those of the ids under which no line stands in the files.

        Raises:
            OSError: a file cannot be read, so that it cannot be told.
        """
        return missing_ids(self.folder, ids)

    def taken_out(self) -> dict[str, bytes]:
        """What this machine wrote last and others took out of the files again, by the ids.

        Raises:
            OSError: a file cannot be read, so that it cannot be told.
        """
        lost, self._taken_out = self._taken_out, None  # found by this look
        if self._identity.is_another():
            return {}
        lost = self._own_lines.taken_out() if lost is None else lost
        if lost:
            # of a line that is written again no torn beginning stays
            self._storage.settle(self._own_lines.files())
        return lost

    @property
    def waits_for_a_copy(self) -> bool:
        """Whether a file ends within a line and may still be being copied, so that nobody knows yet
        what was taken out of it."""
        return self._own_lines.waits

    def keep_aside(self, lines: Sequence[bytes]) -> None:
        """Keep lines that the book does not take, outside of it, until it is opened again; on
        return they are on disk.

        Raises:
            OSError: it cannot be kept there either.
        """
        self._aside.keep(lines)

    def kept_aside(self) -> list[bytes]:
        """The lines that were kept until the book takes them, by any process of this machine."""
        return self._aside.lines()

    def forget_aside(self) -> None:
        """They are in the book now."""
        self._aside.forget()

    def entries(
        self, progress: Progress | None = None, until: datetime | None = None
    ) -> Iterator[Entry]:
        """Every entry of the book that happened until then, in order, each once; the next look is
        not moved by it."""
        from rounds.daybook.full_read import FullRead

        for part in FullRead(self.folder, progress, until).parts():
            yield from part

    def holds(self, entry_id: str) -> bool:
        """Whether an entry of that id stands anywhere in the files."""
        return bool(self.places_of(entry_id))

    def places_of(self, entry_id: str) -> list[tuple[str, int]]:
        """Where lines of that id stand: files and numbers."""
        return [
            (path.name, number)
            for path in entry_files(self.folder)
            for number in lines_under(path, entry_id)
        ]

    @property
    def table(self) -> LogTable:
        """The entries as a TinyDB table, for questions."""
        table = self._db.table(DaybookDB.default_table_name)
        assert isinstance(table, LogTable)
        return table

    def close(self) -> None:
        """Nothing stays open."""
        self._db.close()


def accepted_in(beside: Path | None) -> frozenset[str]:
    """Damaged lines that the keeper took as they are, as they are told.

    Args:
        beside: where this machine remembers things of the book, without an ending; None where
            nothing can be.
    """
    with contextlib.suppress(OSError, *NOT_DECODED):
        if beside is not None:
            return msgspec.json.decode(read_plain(_accepted_at(beside)), type=frozenset[str])
    return frozenset()


def _accepted_at(beside: Path) -> Path:
    return beside.with_suffix(".accepted")
