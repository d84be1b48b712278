"""A file as rows of cells: CSV of any separator, encoding and quote, or a spreadsheet."""

from __future__ import annotations

import io
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

from rounds.exchange.loggers.cells import SEPARATORS, ordinary
from rounds.exchange.loggers.headings_again import (
    NamesOfColumns,
    are_words,
    under_their_own,
)
from rounds.exchange.loggers.text import decoded, is_no_text
from rounds.exchange.tables_in.points import with_degrees
from rounds.exchange.tables_in.quoted_rows import QuotedRows
from rounds.exchange.tables_in.unclear import UnclearTable
from rounds.exchange.tables_in.values import is_nothing, sex_in, sexes_in, whole
from rounds.exchange.tables_in.vocabulary import RATIO, bare, has

SPREADSHEETS = (".xlsx", ".xlsm", ".xls", ".ods")
MAX_ROWS, MAX_COLUMNS = 1_048_576, 200  # as many rows as a spreadsheet has
LONGEST_CELL = 32_767  # letters, as many as a cell of a spreadsheet holds
_BOTH_SEXES = re.compile(r"(|.*[\s(,])([^\s/:(]+)\s*[/:]\s*([^\s/:)]+)(.*)")
_OF_EACH = re.compile(r"(\d{1,5})\s*[/:;+]\s*(\d{1,5})")  # so many of one, so many of the other
LOOKED_AT = 200  # rows that tell where the table begins


@dataclass(frozen=True, slots=True)
class FileRow:
    """A row of the table: its number in the file, from 1, and a cell for each column."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FileTable:
    """A table as it stands in a file.

    Attributes:
        headings: one for each column; a column without one is called by its number.
        rows: below the headings, empty ones left out.
        read_as: how the file was read, in words.
        tab: the sheet of a spreadsheet; empty of its first, and of what has none.
        not_read: the other sheets that hold a table.
        above: the rows above the headings.
    """

    headings: tuple[str, ...]
    rows: tuple[FileRow, ...]
    read_as: str
    tab: str = ""
    not_read: tuple[str, ...] = ()
    above: tuple[FileRow, ...] = ()

    def name(self, file: str) -> str:
        """By what the table goes: each sheet of a file is a table of its own."""
        return f"{file} ({self.tab})" if self.tab else file

    def column(self, position: int) -> list[str]:
        """The filled cells of a column."""
        return [cell for row in self.rows if (cell := row.cells[position])]


def read_sheet(path: Path, raw: bytes, tab: str = "", encoding: str = "") -> FileTable:
    """The table in a file.

    Args:
        raw: what is in the file.
        tab: which sheet of a spreadsheet; the first that holds a table where empty.
        encoding: of a text, as the keeper named it; found out where empty.

    Raises:
        UnclearTable: there is no table in it, or no such sheet, or no such encoding.
    """
    if is_spreadsheet(path):
        rows, read_as, name, others = _spreadsheet(path, raw, tab)
        return replace(_sheet(rows, read_as), tab=name, not_read=tuple(others))
    try:
        text, written = decoded(raw, encoding)
    except (LookupError, ValueError):
        raise UnclearTable(
            f"no encoding is called '{encoding}'; it can be utf-8, cp1250, cp1252, iso-8859-2"
        ) from None
    if is_no_text(text):
        raise UnclearTable(
            f"{path.name} is no text; give a table as .csv, {', '.join(SPREADSHEETS)}"
        )
    quoted, separator = _separated(text.replace("\0", ""))
    if trouble := quoted.trouble():
        raise UnclearTable(trouble)
    rows = [_row(row.ends, row.cells) for row in quoted.rows]
    told = f"; {quoted.told()}" if quoted.told() else ""
    return _sheet(rows, f"{SEPARATORS[separator]} between the columns, {written}{told}")


def is_spreadsheet(path: Path) -> bool:
    """Whether a file is named as a spreadsheet is."""
    return path.suffix.casefold() in SPREADSHEETS


def as_text(path: Path, raw: bytes) -> bytes:
    """A file as text, for what reads lines: of a spreadsheet its rows, with tabs between the cells;
    any other as it is.

    Raises:
        UnclearTable: it cannot be read as a spreadsheet.
    """
    if not is_spreadsheet(path):
        return raw
    rows, *_ = _spreadsheet(path, raw, "")
    return "\n".join("\t".join(row.cells) for row in rows).encode()


def _separated(text: str) -> tuple[QuotedRows, str]:
    """The rows of a text, and what separates its cells: what makes most rows of one width."""
    hint = text[:6].lower()
    first = [text[4]] if hint.startswith("sep=") and text[4:5] in SEPARATORS else list(SEPARATORS)
    if hint.startswith("sep="):
        text = text.partition("\n")[2]
    best: tuple[tuple[int, int], QuotedRows, str] | None = None
    for separator in first:
        quoted = _quoted(text, separator)
        if len(quoted.rows) > MAX_ROWS:
            raise UnclearTable(f"more than {MAX_ROWS:,} lines; give a file with fewer")
        widths = Counter(len(row.cells) for row in quoted.rows if len(row.cells) > 1)
        if widths:
            width, often = max(widths.items(), key=lambda item: (item[1], item[0]))
            if best is None or (often, width) > best[0]:
                best = (often, width), quoted, separator
    if best is None:
        raise UnclearTable(
            "no line has two columns; separate them by commas, semicolons or tabs, and name them"
            " in the first line"
        )
    return best[1], best[2]


def _quoted(text: str, separator: str) -> QuotedRows:
    quote = "'" if '"' not in text and _is_in_apostrophes(text, separator) else '"'
    return QuotedRows(text, separator, quote)


def _is_in_apostrophes(text: str, separator: str) -> bool:
    """Whether cells stand between apostrophes: each of the first line begins with one, and each
    that begins with one ends with one."""
    lines = [[cell.strip() for cell in line.split(separator)] for line in text.splitlines()]
    begun = [cell for line in lines for cell in line if cell.startswith("'") and cell != "''"]
    first = [cell for cell in next(filter(any, lines), []) if cell]
    is_first = bool(first) and all(cell.startswith("'") for cell in first)
    return is_first and all(len(cell) > 1 and cell.endswith("'") for cell in begun)


def _row(number: int, typed: Iterable[str]) -> FileRow:
    cells = tuple(" ".join(ordinary(cell).split()) for cell in typed)
    longest = max(map(len, cells), default=0)
    if longest > LONGEST_CELL:
        raise UnclearTable(
            f"line {number} has a cell of {longest:,} letters; give {LONGEST_CELL:,} at most"
        )
    return FileRow(number, cells)


def _spreadsheet(path: Path, raw: bytes, tab: str) -> tuple[list[FileRow], str, str, list[str]]:
    """The rows of the first sheet that holds some, or of the one that is named; which it is and
    which there are, in words; its name, empty of the first; and the others."""
    try:
        from python_calamine import (
            CalamineError,
            CalamineWorkbook,
        )  # only here: nothing else needs it
    except ImportError:
        raise UnclearTable(
            "spreadsheets need the package python-calamine; install it, or save the table as CSV"
        ) from None
    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(raw))
        names = [name for name in book.sheet_names if not tab or name.casefold() == tab.casefold()]
        if not names:
            raise UnclearTable(
                f"no sheet is called '{tab}'; there {'is' if len(book.sheet_names) == 1 else 'are'}"
                f" {', '.join(book.sheet_names)}"
            )
        tables = {name: list(_typed(book, name)) for name in book.sheet_names}
    except (CalamineError, OSError, ValueError) as trouble:
        if isinstance(trouble, UnclearTable):
            raise
        raise UnclearTable(
            f"{path.name} cannot be read as a spreadsheet; save it anew, or as CSV"
        ) from None
    filled = [name for name, rows in tables.items() if len(rows) > 1]
    there = [name for name in filled if name in names]
    if not there:
        raise UnclearTable(f"{path.name} holds no table; a table has a line of names and a row")
    which = there[0]
    others = [name for name in filled if name != which]
    not_read = f"; not read: {', '.join(others)}; --tab '{others[0]}' reads it" if others else ""
    return tables[which], f"sheet {which}{not_read}", "" if which == filled[0] else which, others


def _typed(book: Any, name: str) -> Iterator[FileRow]:
    for number, cells in enumerate(
        book.get_sheet_by_name(name).to_python(skip_empty_area=False), start=1
    ):
        if number > MAX_ROWS:
            raise UnclearTable(f"more than {MAX_ROWS:,} lines; give a file with fewer")
        if any(cell != "" for cell in cells):
            yield _row(number, map(_as_text, cells))


def _as_text(value: object) -> str:
    """A typed cell as it would be written by hand."""
    match value:
        case bool():
            return "yes" if value else "no"
        case datetime():
            clock = "" if value.time() == time() else " %H:%M:%S" if value.second else " %H:%M"
            return value.strftime(f"%Y-%m-%d{clock}")
        case date():
            return value.isoformat()
        case timedelta():
            return f"{value / timedelta(days=1):g}"
        case time():
            return f"{value:%H:%M:%S}" if value.second else f"{value:%H:%M}"
        case float():
            return f"{value:.10g}"
    return str(value)


def _sheet(rows: Sequence[FileRow], read_as: str) -> FileTable:
    """The table among some rows: it begins with the first row that has a name for most columns."""
    filled = [row for row in rows if any(row.cells)]
    widths = Counter(_width(row) for row in filled[:LOOKED_AT] if _width(row) > 1)
    if not widths or len(filled) < 2:
        raise UnclearTable("there is no table in it; a table has a line of names and rows below")
    usual = max(widths.items(), key=lambda item: (item[1], item[0]))[0]
    start = next(
        (place for place, row in enumerate(filled[:LOOKED_AT]) if _names_columns(row, usual)), None
    )
    if start is None:
        raise UnclearTable(
            "no line names the columns; write a first line such as: date, container, species,"
            " number, what happened"
        )
    if start and _groups(filled[start - 1], filled[start]):
        start -= 1
    width = min(MAX_COLUMNS, max(_width(row) for row in filled[start:]))
    first, *below = [
        FileRow(row.number, tuple([*row.cells[:width], *[""] * width][:width]))
        for row in filled[start:]
    ]
    headings, in_two = list(first.cells), []
    if len(below) > 1 and _names_below(headings, below[0]):
        second = below.pop(0)
        headings = list(_joined(headings, second.cells))
        naming = {_folded(first), _folded(second)}
        in_two = [row.number for row in below if _folded(row) in naming]
        below = [row for row in below if _folded(row) not in naming]
        _in_this_order(first, second, below)
    order, placed, named = under_their_own(headings, [(row.number, row.cells) for row in below])
    rows = [FileRow(number, cells) for number, cells in placed]
    read_as = "; ".join([read_as, *order.told(in_two)])
    if not rows:
        raise UnclearTable("no row stands below the names of the columns")
    above = tuple(filled[:start])
    named, degrees, of_place = with_degrees(named, [row.cells for row in rows])
    read_as += of_place
    rows = [FileRow(row.number, tuple(cells)) for row, cells in zip(rows, degrees, strict=True)]
    return _with_a_column_a_sex(FileTable(tuple(named), tuple(rows), read_as, above=above))


def _in_this_order(first: FileRow, second: FileRow, below: Iterable[FileRow]) -> None:
    """Refuse a table that names its columns in two lines, and below in another order."""
    names = [NamesOfColumns(row.cells) for row in (first, second)]
    for row in below:
        if any(one.come_again_in(row.cells) for one in names):
            raise UnclearTable(
                f"line {row.number} names the columns again, otherwise than above; give it and what"
                " is below as a table of its own"
            )


def _folded(row: FileRow) -> str:
    return "\t".join(row.cells).casefold()


def _with_a_column_a_sex(sheet: FileTable) -> FileTable:
    """A table in which what is called after both sexes, and holds two numbers a cell, is a column
    each: ``Adults ♂/♀`` of ``20/17`` or ``20 ♂ 17 ♀``."""
    for at, heading in enumerate(sheet.headings):
        found = _BOTH_SEXES.fullmatch(heading)
        cells = [cell for cell in sheet.column(at) if not is_nothing(cell)]
        of_both = bool(cells) and all(_OF_EACH.fullmatch(cell) or sexes_in(cell) for cell in cells)
        if has(RATIO, bare(heading)) and not _add_up(sheet, at):
            continue
        if not (found and of_both) or {*map(sex_in, found.groups()[1:3])} != {"female", "male"}:
            continue
        before, one, other, behind = found.groups()
        order = sex_in(one), sex_in(other)
        named = [f"{before}{sex}{behind}".strip() for sex in (one, other)]
        rows = tuple(
            replace(
                row, cells=(*row.cells[:at], *_of_each(row.cells[at], order), *row.cells[at + 1 :])
            )
            for row in sheet.rows
        )
        headings = (*sheet.headings[:at], *named, *sheet.headings[at + 1 :])
        return _with_a_column_a_sex(replace(sheet, headings=headings, rows=rows))
    return sheet


def _add_up(sheet: FileTable, at: int) -> bool:
    """Whether the two numbers of each cell of a column are in all what another column has there, so
    that they are of animals, not a share."""
    both = [_OF_EACH.fullmatch(row.cells[at]) for row in sheet.rows]
    sums = [sum(map(int, found.groups())) if found else None for found in both]
    return any(
        all(
            one is None or whole(row.cells[other]) == one
            for one, row in zip(sums, sheet.rows, strict=True)
        )
        for other in range(len(sheet.headings))
        if other != at
    )


def _of_each(cell: str, order: Sequence[str]) -> Sequence[str]:
    """The two numbers of a cell, in the order of the sexes above; it twice where it holds none."""
    if sexes := sexes_in(cell):
        return [str(sexes.get(sex, 0)) for sex in order]
    found = _OF_EACH.fullmatch(cell)
    return found.groups() if found else (cell, cell)


def _names_below(headings: Sequence[str], row: FileRow) -> bool:
    """Whether the row below the names of the columns names them further, as date and number of what
    is named above both: words alone, one of them where no name is above, or each another where
    several names above are the same."""
    cells = list(zip(headings, row.cells, strict=False))
    often = Counter(name.casefold() for name in headings if name)
    same = [pair for pair in cells if often[pair[0].casefold()] > 1]
    tell_apart = bool(same) and all(cell for _, cell in same) and len({*same}) == len(same)
    further = tell_apart or any(cell and not heading for heading, cell in cells)
    return further and are_words(row.cells)


def _groups(above: FileRow, names: FileRow) -> bool:
    """Whether the row above the names of the columns says what groups of them are of: it names one
    that they do not, or tells apart some that are called alike."""
    words = [cell for cell in above.cells if cell]
    if len(words) < 2 or names.number != above.number + 1 or not _names_below(above.cells, names):
        return False
    often = Counter(name.casefold() for name in names.cells if name)
    alone = any(cell and not name for cell, name in zip(above.cells, names.cells, strict=False))
    return alone or max(often.values()) > 1


def _joined(above: Sequence[str], below: Sequence[str]) -> Iterator[str]:
    """Names in two lines as one; one above holds for the columns to the right that have none."""
    last = ""
    for name, further in zip(above, below, strict=False):
        last = name or last
        yield f"{last if further else name} {further}".strip()


def _width(row: FileRow) -> int:
    return max((position + 1 for position, cell in enumerate(row.cells) if cell), default=0)


def _names_columns(row: FileRow, usual: int) -> bool:
    """Whether a row has the words of headings: for most columns one, and none is a number or a
    date."""
    cells = [cell for cell in row.cells if cell]
    return len(cells) >= max(2, usual // 2) and are_words(cells)
