"""Whether the book at a path is still the one that was opened there: another disk may lie at one
mount point."""

from __future__ import annotations

import contextlib
from pathlib import Path

import msgspec

from rounds.daybook.lines import FileLine, ReadMark, entry_files, lines_of, lines_under
from rounds.daybook.safe_files import NOT_DECODED


class WithId(msgspec.Struct):
    """Of a line, its id alone."""

    id: str


class Identity:
    """A book, known by a line of it, which stays there however the book grows.

    Args:
        folder: where it lies now.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._place = self._placed()
        self._line = _first_line(folder)

    @property
    def line(self) -> str:
        """The id of the line by which it is known; empty as long as it has none that can be
        read."""
        self._line = self._line or _first_line(self._folder)
        return self._line

    def has(self, line: str) -> bool:
        """Whether the book at the path now is the one that is known by that line."""
        with contextlib.suppress(OSError):
            return any(True for path in entry_files(self._folder) for _ in lines_under(path, line))
        return False

    def is_another(self) -> bool:
        """Whether another book lies at the path now; a folder that is gone or empty is none."""
        place = self._placed()
        if place is None or place == self._place:
            return False
        if self._line and _first_line(self._folder) and not self.has(self._line):
            return True
        self._place = place
        return False

    def _placed(self) -> tuple[int, int] | None:
        try:
            about = self._folder.stat()
        except OSError:
            return None
        return about.st_dev, about.st_ino


def _first_line(folder: Path) -> str:
    with contextlib.suppress(OSError):
        for path in entry_files(folder):
            for result, _ in lines_of(path, ReadMark()):
                if isinstance(result, FileLine):
                    with contextlib.suppress(*NOT_DECODED):
                        return msgspec.json.decode(result.raw, type=WithId).id
    return ""
