"""All tables, their dictionary, and how they are written: comma separated, UTF-8 with a mark for
spreadsheets, times in ISO 8601, units in the heading."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterator
from typing import IO, BinaryIO

from rounds.bench.plurals import count
from rounds.exchange.source import Source
from rounds.exchange.tables.animals import ANIMALS
from rounds.exchange.tables.daybook import DAYBOOK
from rounds.exchange.tables.laying import LAYING
from rounds.exchange.tables.table import ExportTable, Value, cell, columns

MARK = "utf-8-sig"  # by which spreadsheets know it for UTF-8


def _dictionary(source: Source) -> Iterator[tuple[Value, ...]]:
    for table in TABLES.values():
        for column in table.columns:
            yield (
                table.name,
                column.heading,
                column.meaning,
                column.unit or column.in_dictionary,
                column.missing or "never empty",
            )


DICTIONARY = ExportTable(
    "dictionary",
    "what each column of each table means, its unit, and what an empty cell says",
    columns("""
            table | name of the table
            column | heading of the column
            meaning | what it says
            unit | of its numbers | it has none
            missing | what an empty cell says
            """),
    _dictionary,
)
TABLES: dict[str, ExportTable] = {
    table.name: table for table in (*ANIMALS, *LAYING, *DAYBOOK, DICTIONARY)
}


def write_table(table: ExportTable, source: Source, out: IO[bytes]) -> int:
    """Write one table; the number of its rows comes back."""
    text = io.TextIOWrapper(out, encoding=MARK, newline="")
    number = write_rows(table.headings, source.counted(table.name, table.told_by(source)), text)
    text.detach()
    return number


def write_rows(
    headings: tuple[str, ...], rows: Iterator[tuple[Value, ...]], out: io.TextIOBase
) -> int:
    """Write rows under their headings; how many there were."""
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(headings)
    number = 0
    for number, row in enumerate(rows, start=1):  # noqa: B007 - counted after
        writer.writerow([cell(value) for value in row])
    return number


def write_tables(
    names: tuple[str, ...], source: Source, out: BinaryIO, *, together: bool
) -> list[str]:
    """Write one table, or several together as files in a ZIP; what was written is told, a line a
    table."""
    if not together:
        return [_told(name, write_table(TABLES[name], source, out)) for name in names]
    texts = []
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in names:
            with archive.open(f"{name}.csv", "w") as member:
                texts.append(_told(name, write_table(TABLES[name], source, member)))
    return texts


def _told(name: str, rows: int) -> str:
    return f"{name}: {count(rows, 'row')}"
