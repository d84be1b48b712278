"""Where the table stands in a file: what separates its columns, its heading, its first line."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from rounds.exchange.loggers.cells import SEPARATORS, CellKind, kind_of, plain, split, unit_in
from rounds.exchange.loggers.unclear import UnclearFile

LOOKED_AT = 2_000  # lines searched for the first reading
TIMES = ("both", "epoch", "date", "clock")
SAMPLE = 400  # readings that tell what a column holds
SAMPLE_AGAIN = 20  # more of them below each line that names the columns again


@dataclass(frozen=True, slots=True)
class LoggerTable:
    """A table found.

    Attributes:
        separator: between its columns.
        headings: one a column, empty where there is none.
        first: index of its first line of readings.
        head: the line of its heading, empty where there is none.
        above: the lines above its heading.
        kinds: for each column, what its cells are and how many of the sample are that.
        sample: the cells of its first readings.
    """

    separator: str
    headings: tuple[str, ...]
    first: int
    head: str
    above: tuple[str, ...]
    kinds: tuple[Counter[CellKind], ...]
    sample: tuple[tuple[str, ...], ...]

    @property
    def width(self) -> int:
        """How many columns."""
        return len(self.headings)

    def mostly(self, column: int) -> CellKind:
        """What most of a column's filled cells are."""
        filled = [(count, kind) for kind, count in self.kinds[column].items() if kind != "empty"]
        return max(filled, key=lambda one: one[0])[1] if filled else "empty"

    def named(self, column: int) -> str:
        """A column as it is told to the keeper."""
        heading = self.headings[column]
        return f"'{heading}' (column {column + 1})" if heading else f"column {column + 1}"


def is_reading(kinds: Sequence[CellKind]) -> bool:
    """Whether a line's cells hold a time and a number."""
    timed = "both" in kinds or "epoch" in kinds or ("date" in kinds and "clock" in kinds)
    return timed and "number" in kinds


def find_table(lines: Sequence[str]) -> LoggerTable:
    """The table of a file.

    Raises:
        Unclear: no line holds a time and a number.
    """
    return _described(lines, *begin_of_table(lines))


def begin_of_table(lines: Sequence[str]) -> tuple[int, str]:
    """The index of the first line of readings, and what separates the columns.

    Raises:
        Unclear: no line holds a time and a number.
    """
    hint = lines[0].strip() if lines else ""
    wanted = hint[4:5] if hint.lower().startswith("sep=") else ""
    best: tuple[int, int, str] | None = None
    for separator in [wanted] if wanted in SEPARATORS else SEPARATORS:
        good = [number for number, line in enumerate(lines[:LOOKED_AT]) if reads(line, separator)][
            :SAMPLE
        ]
        if good and (best is None or len(good) > best[0]):
            best = (len(good), good[0], separator)
    if best is None:
        raise UnclearFile(
            "no line has a time and a temperature; give a text file with a column of times and one"
            " of temperatures"
        )
    _, first, separator = best
    while first and _lacks_only_a_number(lines[first - 1], lines[first], separator):
        first -= 1
    return first, separator


def _lacks_only_a_number(line: str, below: str, separator: str) -> bool:
    """Whether a line has as many cells as the one below it, its time in the same place: a reading
    that failed."""
    if not line or len(line) > 4_000 or separator not in line:
        return False
    cells, others = split(line, separator), split(below, separator)
    times = [
        (kind_of(one), kind_of(other))
        for one, other in zip(cells, others, strict=False)
        if kind_of(other) in TIMES
    ]
    return len(cells) == len(others) and all(one == other for one, other in times)


def reads(line: str, separator: str) -> bool:
    """Whether a line holds a reading, cut at that separator."""
    if not line or len(line) > 4_000 or separator not in line:
        return False
    return is_reading([kind_of(cell) for cell in split(line, separator)])


def _described(lines: Sequence[str], first: int, separator: str) -> LoggerTable:
    headings, position = headings_above(lines, first, separator)
    head = lines[position] if headings else ""
    rows = list(_sample(lines, first, separator, SAMPLE))
    if head:
        again = [number for number in range(first, len(lines)) if lines[number] == head]
        for number in again[:SAMPLE]:
            rows += _sample(lines, number, separator, SAMPLE_AGAIN)
    width = max(_filled_width(row) for row in rows)
    if (
        separator == ","
        and 2 <= len(headings) < width
        and not any("." in cell for row in rows for cell in row[1:])
    ):
        raise UnclearFile(
            f"{len(headings)} columns have a heading and line {first + 1} has {width}: commas seem"
            " to stand for decimals too; save the file with semicolons or tabs between the columns"
        )
    width = max(width, len(headings))
    kinds: list[Counter[CellKind]] = [Counter() for _ in range(width)]
    for row in rows:
        for column, cell in enumerate(row[:width]):
            kinds[column][kind_of(cell)] += 1
    above = tuple(line for line in lines[:position] if line.strip())
    return LoggerTable(
        separator,
        tuple([*headings, *[""] * width][:width]),
        first,
        head,
        above,
        tuple(kinds),
        tuple(rows),
    )


def _sample(
    lines: Sequence[str], first: int, separator: str, most: int
) -> Iterator[tuple[str, ...]]:
    """The cells of the first readings from a line on."""
    readings = (line for line in lines[first : first + LOOKED_AT] if reads(line, separator))
    for line in islice(readings, most):
        yield tuple(plain(cell) for cell in split(line, separator))


def _filled_width(row: Sequence[str]) -> int:
    """How many columns a line has, without the empty ones that a separator at its end makes."""
    return max((column + 1 for column, cell in enumerate(row) if cell), default=0)


def headings_above(lines: Sequence[str], first: int, separator: str) -> tuple[list[str], int]:
    """The heading above the first reading, one line or names with their units below; and the index
    where it begins."""
    position = first - 1
    while position >= 0 and not lines[position].strip():
        position -= 1
    cells = _heading_cells(lines, position, separator)
    if not cells:
        return [], first
    if position > 0 and all(not cell or _only_a_unit(cell) for cell in cells):
        names = _heading_cells(lines, position - 1, separator)
        if len(names) >= len(cells):
            units = [*cells, *[""] * len(names)]
            return [
                f"{name} {unit}".strip() for name, unit in zip(names, units, strict=False)
            ], position - 1
    return cells, position


def _heading_cells(lines: Sequence[str], place: int, separator: str) -> list[str]:
    if place < 0 or len(lines[place]) > 4_000:
        return []
    cells = [plain(cell) for cell in split(lines[place], separator)]
    cells = cells[: _filled_width(cells)]
    if len(cells) < 2 or any(kind_of(cell) in ("number", "both", "epoch") for cell in cells):
        return []
    return cells


def _only_a_unit(cell: str) -> bool:
    return bool(unit_in(cell)) or "%" in cell or len(cell) <= 3 or cell.startswith(("(", "["))
