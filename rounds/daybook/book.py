"""A book: a private folder that only grows."""

from __future__ import annotations

import fcntl
import os
import stat
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, NamedTuple

from rounds.bench.history import History, Kept
from rounds.bench.kinds.base import Entry
from rounds.daybook.checkpoint import Checkpoint, Taken
from rounds.daybook.lines import Batch, Position, Problem, entry_files, ids_like, read_on
from rounds.daybook.past import Past, Progress, history_of
from rounds.daybook.storage import DaybookDB, LogStorage, LogTable

ASIDE = "aside"
MOST_PROBLEMS = 200  # that a checkpoint remembers


class Recalled(NamedTuple):
    """A bench recalled: from a checkpoint, or from so many entries read."""

    history: History
    newest_id: str
    problems: list[str]
    read: int


class Daybook:
    """An open book.

    Args:
        folder: where it lies; made, private to its owner, where there is none.
        laptop: letters and digits that name this machine.
    """

    def __init__(self, folder: Path, laptop: str, position: Position | None = None, **system: Callable[..., Any]) -> None:
        self.folder = folder
        self.laptop = laptop
        self._storage = LogStorage(folder, laptop, **system)
        self._db = DaybookDB(storage=lambda: self._storage)
        self.position: Position = position or {}
        self._checkpoint = Checkpoint(folder, laptop)
        self._first_problems = self._opening()

    @classmethod
    def open(cls, folder: Path, laptop: str, position: Position | None = None) -> Daybook:
        """Open a book, or begin one.

        Raises:
            OSError: the folder cannot be made or read.
        """
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        return cls(folder, laptop, position)

    def _opening(self) -> list[Problem]:
        problems = []
        mode = stat.S_IMODE(self.folder.stat().st_mode)
        if mode & 0o077:
            problems.append(Problem(self.folder.name, 0, f"others may read this book (mode {mode:03o}); chmod 700 it"))
        for path in entry_files(self.folder):
            if path.name.startswith(f"entries-{self.laptop}-"):
                problems.extend(self._set_torn_end_aside(path))
        return problems

    def _set_torn_end_aside(self, path: Path) -> list[Problem]:
        """What a killed writer left of a line is kept in a file of its own; the entry files end in whole lines."""
        try:
            with path.open("r+b") as file:
                fcntl.flock(file, fcntl.LOCK_EX)  # a line that is being written is not torn
                file.seek(0, os.SEEK_END)
                size = file.tell()
                if size == 0:
                    return []
                file.seek(max(0, size - 2_000_000))
                tail = file.read()
                torn = tail[tail.rfind(b"\n") + 1 :]
                if not torn:
                    return []
                aside = self.folder / ASIDE
                aside.mkdir(mode=0o700, exist_ok=True)
                kept = aside / f"{path.name}.torn-{datetime.now(UTC):%Y%m%dT%H%M%S%f}"
                kept.write_bytes(torn)
                kept.chmod(0o600)
                file.truncate(size - len(torn))
                os.fsync(file.fileno())
        except OSError as trouble:
            return [Problem(path.name, 0, f"its torn end could not be set aside: {trouble.strerror or trouble}")]
        return [Problem(path.name, 0, f"its last line was torn; {len(torn)} bytes set aside in {ASIDE}/{kept.name}")]

    def append_many(self, entries: Sequence[Mapping[str, Any]]) -> None:
        """Append entries; on return they are on disk.

        Raises:
            NotSaved: nothing was written, and why.
        """
        self.table.insert_multiple(entries)

    def append_lines(self, lines: Sequence[bytes]) -> None:
        """Append entries as they were written elsewhere, byte by byte; on return they are on disk.

        Raises:
            NotSaved: some may not be written, and why.
        """
        self._storage.append_lines(lines)

    def new_lines(self) -> Batch:
        """Every complete line since the last look, whoever wrote it."""
        batch, self.position = read_on(self.folder, self.position)
        batch.problems[:0] = self._first_problems
        self._first_problems = []
        return batch

    def recall(self, progress: Progress | None = None, *, anew: bool = False) -> Recalled:
        """The bench as far as it was read: from the checkpoint, else (or where it must be anew) from the files alone.

        The next look goes on from there.
        """
        believed = None if anew else self._checkpoint.load()
        if believed:
            kept, taken = believed
            self.position = taken.position
            return Recalled(History(kept), taken.newest_id, list(taken.problems), 0)
        past = Past(self.folder, progress)
        history = history_of(past)
        self.position = past.position
        return Recalled(history, past.newest_id, [str(problem) for problem in past.problems], past.count)

    def to_keep(self, kept: Kept, newest_id: str, problems: Sequence[str]) -> Callable[[], object]:
        """What writes a checkpoint of a bench that holds all that was read so far; to be called in any thread."""
        taken = Taken(self.position, newest_id, tuple(problems[:MOST_PROBLEMS]))
        return lambda: self._checkpoint.save(kept, taken)

    def entries(self, progress: Progress | None = None) -> Iterator[Entry]:
        """Every entry of the book in order, each once; the next look is not moved by it."""
        for part in Past(self.folder, progress).parts():
            yield from part

    def holds(self, entry_id: str) -> bool:
        """Whether an entry of that id stands anywhere in the files."""
        return any(entry_id == one for path in entry_files(self.folder) for one in ids_like(path, entry_id))

    @property
    def table(self) -> LogTable:
        """The entries as a TinyDB table, for questions."""
        table = self._db.table(DaybookDB.default_table_name)
        assert isinstance(table, LogTable)
        return table

    def close(self) -> None:
        """Nothing stays open."""
        self._db.close()
