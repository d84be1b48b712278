"""Several loggers in one file, by a column of their names or serial numbers or by lines between
their tables: only one is read."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence

from rounds.exchange.loggers.cells import number_of, plain, split
from rounds.exchange.loggers.columns import ReadingOptions, may_be_temperature, wished
from rounds.exchange.loggers.headings import (
    NAMES,
    loggers_in,
    says_something_else,
    says_temperature,
)
from rounds.exchange.loggers.table import LoggerTable, reads
from rounds.exchange.loggers.unclear import UnclearFile

MAX_TOLD = 12
_HEADING = re.compile(
    rf"(?:{NAMES})(?!.*(?:temp|celsius|fahrenheit|°|hum|time|date|type|status|batt))",
    re.IGNORECASE,
)
_LINE = re.compile(
    rf"^\W*(?P<what>[^:;,=\t]{{0,20}}\b(?:{NAMES})[^:;,=\t]{{0,20}}?)(?:\s*[:;,=\t]\s*|\s+(?=\S+$))(?P<name>[^;,\t]*?\w)\W*$",
    re.IGNORECASE,
)


def device_column(table: LoggerTable, wishes: ReadingOptions) -> int | None:
    """The column of the loggers' names or serial numbers, where there is one.

    It is headed so, is not read as a measure, and what stands in it is few and repeated: no numbers
    that can be readings, and others that can be.
    """
    measures = {
        wished(table, wish, option)
        for option, wish in (
            ("time", wishes.time),
            ("temperature", wishes.temperature),
            ("humidity", wishes.humidity),
        )
        if wish
    }
    headed = [
        column
        for column, heading in enumerate(table.headings)
        if column not in measures and _HEADING.search(heading) and _holds_names(table, column)
    ]
    others = [
        column
        for column in range(table.width)
        if column not in headed and (column in measures or may_be_temperature(table, column))
    ]
    return headed[0] if headed and others else None


def _holds_names(table: LoggerTable, column: int) -> bool:
    """Whether what stands in it is few and repeated, and no numbers that can be readings."""
    names = [row[column] for row in table.sample if len(row) > column and row[column]]
    if not names or len(set(names)) > max(MAX_TOLD, len(names) // 2):
        return False
    numbers = [name for name in names if number_of(name) is not None]
    heading = table.headings[column]
    if says_temperature(heading) or says_something_else(heading):
        return not numbers
    return all(number.isdecimal() for number in numbers)


def of_one_device(
    lines: Sequence[str], table: LoggerTable, wishes: ReadingOptions, column: int | None
) -> tuple[list[str], str]:
    """The file with the lines of one logger alone, the others' left empty, and how it was told;
    empty where there is only one, and where headings name the one that the keeper named.

    Args:
        column: that of the loggers' names.

    Raises:
        Unclear: there are several and none was named, or none of that name.
    """
    wish = wishes.device
    whose = [] if column is None else list(_in_column(lines, table, column))
    headed = [name for heading in table.headings for name in loggers_in(heading)]
    if not whose and wish.casefold().strip() in (name.casefold() for name in headed):
        return list(lines), ""
    if not whose and (wish or _is_named_later(lines, table)):
        whose = list(_by_lines(lines, table))
    readings = Counter(one for one, is_reading in whose if one and is_reading)
    named = [reading for reading in readings if reading.casefold() == wish.casefold().strip()]
    if wish and len(named) != 1:
        names = tuple(readings) or tuple(dict.fromkeys(headed))
        are = "are" if len(names) > 1 else "is"
        known = f"there {are} {_listed(names)}" if names else "the file names none"
        raise UnclearFile(
            f"no logger in it is called '{wish}'; {known}", "device", names[:MAX_TOLD]
        )
    if len(readings) < 2:
        return list(lines), f"logger: {named[0]}, as given" if named else ""
    if not wish:
        raise UnclearFile(
            f"it holds readings of {len(readings)} loggers: {_listed(tuple(readings))}; say which"
            " with --device, and take in each at its place",
            "device",
            tuple(readings)[:MAX_TOLD],
        )
    kept = [
        line if one in ("", named[0]) else "" for line, (one, _) in zip(lines, whose, strict=True)
    ]
    others = ", ".join(f"{count:,} of {one}" for one, count in readings.items() if one != named[0])
    return kept, f"logger: {named[0]}, as given; not taken in: {others}"


def _listed(names: Sequence[str]) -> str:
    return f"{', '.join(names[:MAX_TOLD])}{' and more' if len(names) > MAX_TOLD else ''}"


def _in_column(lines: Sequence[str], table: LoggerTable, column: int) -> Iterator[tuple[str, bool]]:
    """Whose each line is by a column of loggers' names, and whether it is a reading."""
    for number, line in enumerate(lines):
        cells = split(line, table.separator) if number >= table.first else []
        name = plain(cells[column]) if len(cells) > column else ""
        is_heading = name == table.headings[column]
        yield ("", False) if is_heading else (name, bool(name))


def _is_named_later(lines: Sequence[str], table: LoggerTable) -> bool:
    """Whether a line behind the first reading names a logger."""
    return any(
        line and not line[0].isdecimal() and _LINE.match(line)
        for line in lines[table.first :]
        if len(line) < 200
    )


def _by_lines(lines: Sequence[str], table: LoggerTable) -> Iterator[tuple[str, bool]]:
    """Whose each line is by lines such as ``Serial number: 4711`` above the readings of each
    logger."""
    said: dict[str, str] = {}
    has_read = False
    for line in lines:
        if line and not line.isspace() and reads(line, table.separator):
            has_read = True
            yield " ".join(said.values()), True
            continue
        match = _LINE.match(line) if len(line) < 200 else None
        if match:
            said = {} if has_read else said
            has_read = False
            said[match["what"].casefold()] = match["name"]
        yield (" ".join(said.values()) if said else ""), False
