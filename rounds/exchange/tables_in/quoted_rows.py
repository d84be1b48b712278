"""The rows of a text whose cells may stand in quotes: a quote that nothing closes swallows no
rows."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from rounds.exchange.loggers.headings_again import lines_named

_LETTERS, _DIGITS = re.compile(r"[^\W\d_]+"), re.compile(r"\d+")


@dataclass(frozen=True, slots=True)
class _Row:
    """A row as it was read.

    Attributes:
        begins, ends: the lines of the file, from 1.
        opens: it opens a quote that nothing closes, and was read without it.
    """

    begins: int
    ends: int
    cells: Sequence[str]
    opens: bool = False


class _Part(NamedTuple):
    """The cells of a line, where in it a quote is opened that it does not close (-1: nowhere), and
    in which of the cells."""

    cells: Sequence[str]
    opened: int = -1
    which: int = 0


class _Place(NamedTuple):
    """A place in the text: the line and how far in it, from 0."""

    line: int
    place: int


class QuotedRows:
    """The rows of a text.

    A cell between quotes may hold the separator and line ends; a quote in it is written twice. What
    only looks so is read as it stands: a lone quote sign (as above), words behind the second quote
    (``"6" pot``), and a quote that is closed by none, or by one with words behind it: that line is
    a row for itself. Time goes with the length of the text.

    Args:
        separator: between the cells.
        quote: about them.
    """

    def __init__(self, text: str, separator: str, quote: str = '"') -> None:
        self._lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
        self._separator, self._quote = separator, quote
        sign, mark = re.escape(separator), re.escape(quote)
        blank = r"[^\S\t]*" if separator == "\t" else r"\s*"
        inside = f"[^{mark}]*(?:{mark}{mark}[^{mark}]*)*"
        self._blank, self._inside = re.compile(blank), re.compile(inside)
        self._closed = re.compile(f"{mark}({inside}){mark}{blank}(?={sign}|$)")
        self._end = re.compile(f"{mark}(?!{mark}){blank}(?={sign}|$)")

    @cached_property
    def rows(self) -> list[_Row]:
        """All of them, empty ones too."""
        return list(self._read(self._usual))

    def told(self) -> str:
        """Which lines open a quote that nothing closes; empty where none does."""
        lines = [row.begins for row in self.rows if row.opens]
        verb = "open" if lines[1:] else "opens"
        return (
            f"{lines_named(lines)} {verb} a quote that nothing closes, read without it"
            if lines
            else ""
        )

    def trouble(self) -> str:
        """Why the text cannot be trusted to be what its quotes make of it; empty where it can."""
        for row in self.rows:
            if row.ends > row.begins and self._holds_rows(row.begins, row.ends):
                return (
                    f"line {row.begins:,} opens a quote ({self._quote}) that is closed in line"
                    f" {row.ends:,}, with what looks like rows between; close it in its own line,"
                    " or take it out; write a note of several lines in one"
                )
        return ""

    @cached_property
    def _usual(self) -> int:
        """How many cells most lines have that stand for themselves; 0 where that is not known."""
        widths = Counter(len(cells) for cells in self._plain if len(cells) > 1)
        return max(widths.items(), key=lambda one: (one[1], one[0]))[0] if widths else 0

    @cached_property
    def _plain(self) -> list[Sequence[str]]:
        """The rows of one line whose quotes are all closed, whatever width is usual."""
        return [row.cells for row in self._read(0) if row.begins == row.ends and not row.opens]

    @cached_property
    def _shapes(self) -> set[str]:
        """What the first cells of rows look like, whatever their letters and digits."""
        return {_shape(cells[0]) for cells in self._plain if len(cells) == self._usual}

    def _read(self, usual: int) -> Iterator[_Row]:
        at = 0
        while at < len(self._lines):
            begins = at
            part = self._line(self._lines[at], usual)
            cells = part.cells
            while part.opened >= 0 and (end := self._end_of(at)):
                before = cells[: len(cells) - len(part.cells) + part.which]
                cell = self._between(at, part.opened, end)
                at, line = end.line, self._lines[end.line]
                behind = len(self._end.match(line, end.place)[0]) + end.place  # type: ignore[index]
                part = self._split(line, behind + 1) if behind < len(line) else _Part([])
                cells = [*before, cell, *part.cells]
            yield _Row(begins + 1, at + 1, cells, opens=part.opened >= 0)
            at += 1

    def _line(self, line: str, usual: int) -> _Part:
        """A line that begins a row: with a quote sign alone in a cell as that sign, where it has
        only so as many cells as is usual."""
        if self._quote not in line:
            return _Part(line.split(self._separator))
        part = self._split(line)
        if usual and (part.opened >= 0 or len(part.cells) != usual):
            as_above = self._split(line, lone=True)
            is_whole = as_above.opened < 0 and len(as_above.cells) == usual
            if is_whole and self._quote in as_above.cells:
                return as_above
        return part

    def _split(self, line: str, place: int = 0, *, lone: bool = False) -> _Part:
        """The cells of a line from a place on; one of a quote sign alone is that where ``lone``."""
        cells: list[str] = []
        opened, which = -1, 0
        while True:
            end = line.find(self._separator, place)
            end = len(line) if end < 0 else end
            raw = line[place:end].strip()
            begins = place + len(self._blank.match(line, place)[0])  # type: ignore[index]
            closed = None
            if line.startswith(self._quote, begins) and not (lone and raw == self._quote):
                closed = self._closed.match(line, begins)
                if opened < 0 and self._inside.fullmatch(line, begins + 1):
                    opened, which = begins, len(cells)
            if closed is not None:
                cells.append(closed[1].replace(self._quote * 2, self._quote))
                end = closed.end()
            else:
                cells.append(raw[1:] if begins == opened else self._unquoted(raw))
            if end >= len(line):
                return _Part(cells, opened, which)
            place = end + 1

    def _unquoted(self, raw: str) -> str:
        """A cell with quotes in it that are not written twice, without those about it."""
        inner = raw[1:-1]
        is_about = len(raw) > 2 and raw[0] == raw[-1] == self._quote
        return inner if is_about and inner.count(self._quote) % 2 else raw

    def _end_of(self, at: int) -> _Place | None:
        """Where the quote ends that a line leaves open; None where it is not closed, or by a quote
        with words behind it."""
        for later in range(at + 1, len(self._lines)):
            line = self._lines[later]
            place = len(self._inside.match(line)[0])  # type: ignore[index]
            if place < len(line):
                return _Place(later, place) if self._end.match(line, place) else None
        return None

    def _between(self, at: int, opened: int, end: _Place) -> str:
        """What stands between a quote and the one in a later line that closes it."""
        first, last = self._lines[at][opened + 1 :], self._lines[end.line][: end.place]
        lines = [first, *self._lines[at + 1 : end.line], last]
        return "\n".join(lines).replace(self._quote * 2, self._quote)

    def _holds_rows(self, begins: int, ends: int) -> bool:
        """Whether most lines of a row behind its first look like rows: as many cells as is usual,
        and the first as the first of rows."""
        lines = [line for line in self._lines[begins:ends] if line.strip()]
        return 2 * sum(map(self._is_like_a_row, lines)) >= len(lines) > 0

    def _is_like_a_row(self, line: str) -> bool:
        cells = line.split(self._separator)
        return len(cells) == self._usual and _shape(cells[0]) in self._shapes


def _shape(cell: str) -> str:
    return _DIGITS.sub("9", _LETTERS.sub("a", cell.strip().strip("\"'").casefold()))
