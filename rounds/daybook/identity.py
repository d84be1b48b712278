"""Whether the book at a path is still the one that was opened there: another disk may lie at one
mount point."""

from __future__ import annotations

import contextlib
from collections.abc import Collection
from pathlib import Path

from rounds import late
from rounds.daybook.lines import FileLine, ReadMark, entry_files, id_of, lines_of, lines_under

_MONTH = late.pattern(r"-\d{4}-\d{2}\.jsonl$")


class Identity:
    """A book, known by a line of each writer, which stay there however the book grows.

    One writer's file may be taken away, or an older book put in its place, from before that writer
    came: the lines of the others tell it still, whatever the names of their files.

    Args:
        folder: where it lies now.
        is_made: whether the folder was made just now: a system may give a new one the inode of one
            that was deleted.
    """

    def __init__(self, folder: Path, *, is_made: bool = False) -> None:
        self._folder = folder
        self.is_made = is_made
        self._place = self._placed()
        self._lines = _first_lines(folder)
        self.began_empty = not self._lines  # whether no line could be read at first

    @property
    def lines(self) -> tuple[str, ...]:
        """The ids of the lines by which it is known, the oldest first; none as long as it has none
        that can be read."""
        self._lines = self._lines or _first_lines(self._folder)
        return self._lines

    @property
    def place(self) -> tuple[int, int] | None:
        """Device and inode of the folder; None where there is none."""
        return self._place

    def has_any(self, lines: Collection[str]) -> bool:
        """Whether the book at the path now is the one that is known by these lines."""
        if set(self.lines) & set(lines):
            return True
        with contextlib.suppress(OSError):
            return any(
                True
                for path in entry_files(self._folder)
                for line in lines
                for _ in lines_under(path, line)
            )
        return False

    def is_another(self) -> bool:
        """Whether another book lies at the path now; a folder that is gone or empty is none."""
        place = self._placed()
        if place is None or place == self._place:
            return False
        if self._lines and (now := _first_lines(self._folder)):
            known, self._lines = self._lines, now
            if not self.has_any(known):
                self._lines = known
                return True
        self._place = place
        return False

    def _placed(self) -> tuple[int, int] | None:
        try:
            about = self._folder.stat()
        except OSError:
            return None
        return about.st_dev, about.st_ino


def _first_lines(folder: Path) -> tuple[str, ...]:
    """The ids of the first line of each writer's oldest file, and of each other file."""
    with contextlib.suppress(OSError):
        oldest = {_MONTH.sub("", path.name): path for path in reversed(entry_files(folder))}
        return tuple(sorted(filter(None, map(_first_line, oldest.values()))))
    return ()


def _first_line(path: Path) -> str:
    with contextlib.suppress(OSError):
        for result, _ in lines_of(path, ReadMark()):
            if isinstance(result, FileLine) and (found := id_of(result.raw)):
                return found
    return ""
