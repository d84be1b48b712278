"""The last lines that this machine wrote into a book, kept outside of it too: what others take out
of the files is written again."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple

from rounds import late
from rounds.daybook.identity import Identity
from rounds.daybook.kept_aside import KeptAside
from rounds.daybook.lines import entry_files, id_of, missing_ids
from rounds.daybook.safe_files import is_left, open_plain, read_plain
from rounds.daybook.systems import read_at

ENDING = ".said.jsonl"
MAX_BYTES = 1 << 18  # that are kept, some hundreds of lines; beyond that the older half is let go
_ROW = late.pattern(rb"(?P<file>\S+) (?P<offset>\d+) (?P<line>\{.*\})")


class OwnLine(NamedTuple):
    """A line, and where it was written: the file, and its offset there [bytes]."""

    file: str
    offset: int
    line: bytes


class OwnLines:
    """What is kept of one book; where nothing can be kept, what this process wrote.

    Args:
        folder: the book.
        identity: by what it is known: another book that comes to lie at its path gets none of it.
        beside: where this machine remembers things of it, without an ending; None where nothing can
            be.
        lacks: whether this machine has seen lines in the book that are not there now.
    """

    def __init__(
        self,
        folder: Path,
        identity: Identity,
        beside: Path | None,
        lacks: Callable[[], bool] = lambda: False,
    ) -> None:
        self._folder = folder
        self._kept = KeptAside(identity, beside, ENDING, lacks)
        self._rows: list[bytes] = []  # that could not be kept yet
        self.not_kept = ""  # why they could not be
        self.waits = False  # for a file that is being copied
        # files of which one of these lines stands in the book, but not as it was written
        self.otherwise: frozenset[str] = frozenset()

    def add(self, file: str, offset: int, data: bytes) -> None:
        """Whole lines that are in a file now, from that offset on."""
        rows = []
        for line in data.splitlines(keepends=True):
            rows.append(b"%s %d %s" % (file.encode(), offset, line.rstrip(b"\n")))
            offset += len(line)
        self._rows += rows
        if len(data) > MAX_BYTES // 2 or self.not_kept:
            self._rows = _newest(self._rows)
        try:
            self._kept.add(self._rows)
            self._rows, self.not_kept = [], ""
            if self._kept.size > MAX_BYTES:
                self._kept.keep(_newest(self._kept.lines()))
        except OSError as trouble:
            self.not_kept = trouble.strerror or str(trouble)

    def rows(self) -> list[OwnLine]:
        """All that is kept, in the order in which it was written."""
        self._kept.gather()
        found = map(_ROW.fullmatch, (*self._kept.lines(), *self._rows))
        return [
            OwnLine(os.fsdecode(one["file"]), int(one["offset"]), one["line"])
            for one in found
            if one
        ]

    def files(self) -> set[str]:
        """The files that these lines were written to."""
        return {row.file for row in self.rows()}

    def forget(self) -> None:
        """Let go of what is in the book; what is not there is kept, for it stands nowhere else."""
        with contextlib.suppress(OSError):
            rows = self.rows()
            gone = set(self._gone(rows).values())
            left = [
                b"%s %d %s" % (os.fsencode(row.file), row.offset, row.line)
                for row in rows
                if row.line in gone
            ]
            if left:
                self._kept.keep(left)
            else:
                self._kept.forget()
            self._rows = []

    def taken_out(self) -> dict[str, bytes]:
        """Those under whose ids no line stands in the files any more, by their ids; none while a
        file is being copied, which is one that ends within a line and grew just now.

        Raises:
            OSError: a file cannot be read, so that it cannot be told.
        """
        rows = self.rows()
        there: set[bytes] = set()
        self.waits = False
        for file in {row.file for row in rows}:
            with contextlib.suppress(FileNotFoundError), open_plain(self._folder / file) as opened:
                about = os.fstat(opened.fileno())
                ends_whole = not about.st_size or (
                    read_at(opened.fileno(), 1, about.st_size - 1) == b"\n"
                )
                if not ends_whole and not is_left(about):
                    self.waits = True
                    return {}
                opened.seek(min(row.offset for row in rows if row.file == file))
                there.update(opened.read().split(b"\n")[:-1])
        absent = [row for row in rows if row.line not in there]
        gone = self._gone(absent)
        self.otherwise = self._changed([row for row in absent if id_of(row.line) not in gone])
        return gone

    def _changed(self, rows: Sequence[OwnLine]) -> frozenset[str]:
        """The files of those of these that stand nowhere as they were written."""
        left = {row.line: row.file for row in rows}
        for path in reversed(entry_files(self._folder)) if left else ():
            for line in read_plain(path).splitlines():
                left.pop(line, None)
        return frozenset(left.values())

    def _gone(self, rows: Sequence[OwnLine]) -> dict[str, bytes]:
        """Those of these under whose ids no whole line stands in the files, by their ids."""
        left = {found: row.line for row in rows if (found := id_of(row.line))}
        gone = missing_ids(self._folder, left) if left else set()
        return {name: line for name, line in left.items() if name in gone}

    def as_written(self, file: str) -> tuple[bytes, int] | None:
        """A file as this machine left it, though another lies there now, and from which offset on
        it is known here.

        None where that is not known, or where one of these lines stands nowhere in the book as it
        was written.
        """
        rows = [row for row in self.rows() if row.file == file]
        whole = b"".join(row.line + b"\n" for row in rows)
        if not rows or rows[-1].offset + len(rows[-1].line) + 1 != rows[0].offset + len(whole):
            return None
        left = {row.line for row in rows}
        before = b""
        for path in reversed(entry_files(self._folder)):
            with contextlib.suppress(OSError):
                data = read_plain(path)
                left.difference_update(data.split(b"\n"))
                before = data[: rows[0].offset] if path.name == file else before
        is_known = not left and len(before) == rows[0].offset
        return (before + whole, rows[0].offset) if is_known else None


def _newest(rows: Sequence[bytes]) -> list[bytes]:
    """The last of these, as many as are kept."""
    room, first = MAX_BYTES // 2, len(rows)
    while first and room >= len(rows[first - 1]):
        first -= 1
        room -= len(rows[first])
    return list(rows[first:])
