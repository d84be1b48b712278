"""Several loggers in one file, by a column of their names or serial numbers or by lines between
their tables: only one is read."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence

from rounds.exchange.loggers.cells import plain, split
from rounds.exchange.loggers.table import LoggerTable, reads
from rounds.exchange.loggers.unclear import UnclearFile

MAX_TOLD = 12
# As loggers of several countries write it; common practice, no source.
_NAMES = r"device|serial|logger|sensor|probe|station|s/n|mac\b|ger[äa]t|appareil|capteur|sonde|enregistreur|seriennummer"  # noqa: E501
_HEADING = re.compile(
    rf"(?:{_NAMES})(?!.*(?:temp|celsius|fahrenheit|°|hum|time|date|type|status|batt))",
    re.IGNORECASE,
)
_LINE = re.compile(
    rf"^\W*(?P<what>[^:;,=\t]{{0,20}}\b(?:{_NAMES})[^:;,=\t]{{0,20}}?)(?:\s*[:;,=\t]\s*|\s+(?=\S+$))(?P<name>[^;,\t]*?\w)\W*$",
    re.IGNORECASE,
)


def of_one_device(lines: Sequence[str], table: LoggerTable, wish: str) -> tuple[list[str], str]:
    """The file with the lines of one logger alone, the others' left empty, and how it was told;
    empty where there is only one.

    Args:
        wish: the logger that the keeper named.

    Raises:
        Unclear: there are several and none was named, or none of that name.
    """
    whose = _by_column(lines, table)
    if not whose and (wish or _is_named_later(lines, table)):
        whose = list(_by_lines(lines, table))
    readings = Counter(one for one, is_reading in whose if one and is_reading)
    named = [reading for reading in readings if reading.casefold() == wish.casefold().strip()]
    if wish and len(named) != 1:
        known = f"there are {_listed(readings)}" if readings else "the file names none"
        raise UnclearFile(
            f"no logger in it is called '{wish}'; {known}", "device", tuple(readings)[:MAX_TOLD]
        )
    if len(readings) < 2:
        return list(lines), f"logger: {named[0]}, as given" if named else ""
    if not wish:
        raise UnclearFile(
            f"it holds readings of {len(readings)} loggers: {_listed(readings)}; say which with"
            " --device, and take in each at its place",
            "device",
            tuple(readings)[:MAX_TOLD],
        )
    kept = [
        line if one in ("", named[0]) else "" for line, (one, _) in zip(lines, whose, strict=True)
    ]
    others = ", ".join(f"{count:,} of {one}" for one, count in readings.items() if one != named[0])
    return kept, f"logger: {named[0]}, as given; not taken in: {others}"


def _listed(readings: Counter[str]) -> str:
    names = ", ".join(list(readings)[:MAX_TOLD])
    return f"{names} and more" if len(readings) > MAX_TOLD else names


def _by_column(lines: Sequence[str], table: LoggerTable) -> list[tuple[str, bool]]:
    """Whose each line is by a column that names the logger, and whether it is a reading; nothing
    where there is no such column."""
    for column, heading in enumerate(table.headings):
        if _HEADING.search(heading) and table.mostly(column) in ("text", "number", "epoch"):
            return list(_in_column(lines, table, column))
    return []


def _in_column(lines: Sequence[str], table: LoggerTable, column: int) -> Iterator[tuple[str, bool]]:
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
