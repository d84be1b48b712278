"""A file of days with their lowest and highest: no readings of a clock, but what a keeper reads off
a thermometer once a day, and taken in as that."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, tzinfo
from statistics import median

from rounds.exchange.loggers.cells import SEPARATORS, kind_of, number_of, plain, split
from rounds.exchange.loggers.columns import ReadingOptions
from rounds.exchange.loggers.dates import day_reader, find_order
from rounds.exchange.loggers.headings import unit_of
from rounds.exchange.loggers.headings_again import lines_in_one_order
from rounds.exchange.loggers.reading import COLDEST_C, WARMEST_C, LeftOut, LinesLeftOut
from rounds.exchange.loggers.table import LOOKED_AT, headings_above, reads
from rounds.exchange.loggers.text import lines_of
from rounds.exchange.loggers.unclear import UnclearFile
from rounds.exchange.loggers.units import (
    TO_CELSIUS,
    UNIT_NAMES,
    celsius_of,
    refuse_too_hot,
    unit_by_size,
    unit_not_told,
)

END_OF_DAY = time(23, 59)  # a day's lowest and highest are known at its end
_EPOCH_DAY = date(1970, 1, 1).toordinal()
# Headings of the lowest and highest; common practice, no source.
_LOWEST = re.compile(r"\bt?_?min|_min|low|tiefst|minim|laveste|lägst|alin")
_HIGHEST = re.compile(r"\bt?_?max|_max|high|höchst|maxim|højeste|högst|ylin")


@dataclass(frozen=True, slots=True)
class DayRead:
    """The lowest and highest of a day [C], known at its end."""

    at: datetime
    low_c: float
    high_c: float


@dataclass(frozen=True, slots=True)
class DailyLog:
    """The days of a file, what was taken for what, and what was left out, and why."""

    days: tuple[DayRead, ...]
    taken: tuple[str, ...]
    not_taken: tuple[LinesLeftOut, ...]


def read_days(
    raw: bytes, *, zone: tzinfo, now: datetime, wishes: ReadingOptions
) -> DailyLog | None:
    """The days of a file; None where it is another one: where a line has a time of day, or no
    column is headed as the lowest or the highest.

    Raises:
        UnclearFile: several columns may be meant, or the file does not tell the unit or the order
            of its dates.
    """
    lines, _ = lines_of(raw)
    rows = _rows(lines)
    if rows is None:
        return None
    headings, first, separator = rows
    lines, named_again = lines_in_one_order(lines, first, separator)
    headings = headings_above(lines, first, separator)[0] if named_again else headings
    low, high = (_headed(headings, pattern) for pattern in (_LOWEST, _HIGHEST))
    dates = next(
        place
        for place, cell in enumerate(split(lines[first], separator))
        if kind_of(cell) == "date"
    )
    if low is None or high is None:
        return None
    table = [
        (number, [plain(cell) for cell in split(line, separator)])
        for number, line in enumerate(lines[first:], start=first + 1)
        if line.strip() and line != lines[first - 1]
    ]
    order, order_told = find_order(
        list(dict.fromkeys(cells[dates] for _, cells in table if len(cells) > dates)),
        wishes.date_order,
        now.date().toordinal() - _EPOCH_DAY + 1,
    )
    units, unit_told = _units(headings, [low, high], table, wishes.unit)
    read_day, out, days = day_reader(order), LeftOut(), dict[datetime, DayRead]()
    for number, cells in table:
        found = _day(cells, (dates, low, high), read_day, units, zone, now)
        if isinstance(found, DayRead) and found.at not in days:
            days[found.at] = found
        else:
            why = found if isinstance(found, str) else "its day is that of a line before it"
            out.add(why, number)
    return DailyLog(
        tuple(days[at] for at in sorted(days)),
        (
            f"days: '{headings[dates]}', {order_told}",
            f"lowest: '{headings[low]}', highest: '{headings[high]}', {unit_told}",
            *named_again,
        ),
        out.told(),
    )


def _rows(lines: Sequence[str]) -> tuple[list[str], int, str] | None:
    """The heading, the index of the first line with a date and two numbers, and the separator."""
    for separator in SEPARATORS:
        for number, line in enumerate(lines[:LOOKED_AT]):
            if separator not in line:
                continue
            if reads(line, separator):
                return None
            kinds = [kind_of(cell) for cell in split(line, separator)]
            dates, numbers = kinds.count("date"), kinds.count("number")
            if dates == 1 and numbers + kinds.count("empty") > 1 and numbers and number:
                heading = [plain(cell) for cell in split(lines[number - 1], separator)]
                return (heading, number, separator) if len(heading) >= len(kinds) else None
    return None


def _headed(headings: Sequence[str], pattern: re.Pattern[str]) -> int | None:
    found = [
        place
        for place, heading in enumerate(headings)
        if pattern.search(heading.casefold()) and "hum" not in heading.casefold()
    ]
    if len(found) > 1:
        names = ", ".join(f"'{headings[place]}'" for place in found)
        raise UnclearFile(f"several columns may be meant: {names}; leave one of them in the file")
    return found[0] if found else None


def _units(
    headings: Sequence[str],
    columns: Sequence[int],
    table: Sequence[tuple[int, list[str]]],
    wish: str,
) -> tuple[list[Callable[[float], float]], str]:
    """What makes a number of each column Celsius, and how the units were told."""
    said = [unit_of(headings[column]) for column in columns]
    named = sorted({*said} - {""})
    numbers = [
        number
        for _, cells in table
        for column in columns
        if len(cells) > column and (number := number_of(cells[column])) is not None
    ]
    highest = max(numbers, default=0.0)
    if not wish and len(named) == 1:
        refuse_too_hot(named[0], median(numbers) if numbers else 0.0)
    if not wish and "" not in said and len(named) > 1:
        return [TO_CELSIUS[unit] for unit in said], " and ".join(UNIT_NAMES[unit] for unit in said)
    unit = wish or (named[0] if len(named) == 1 else unit_by_size(highest)[0])
    if not unit:
        raise unit_not_told(min(numbers, default=0.0), highest)
    return [TO_CELSIUS[unit]] * len(said), UNIT_NAMES[unit]


def _day(
    cells: Sequence[str],
    columns: tuple[int, int, int],
    read_day: Callable[[str], int | None],
    units: Sequence[Callable[[float], float]],
    zone: tzinfo,
    now: datetime,
) -> DayRead | str:
    """One line's day, or why it is none."""
    if len(cells) <= max(columns):
        return "too few columns"
    day = read_day(cells[columns[0]])
    low, high = (celsius_of(cells[at], unit) for at, unit in zip(columns[1:], units, strict=True))
    if day is None:
        return "there is no such date"
    if low is None or high is None:
        return "no lowest or no highest"
    if low > high:
        return "its lowest is above its highest"
    if low < COLDEST_C or high > WARMEST_C:
        return f"its temperature is not between {COLDEST_C:g} and {WARMEST_C:g} C"
    at = datetime.combine(date.fromordinal(day + _EPOCH_DAY), END_OF_DAY, tzinfo=zone)
    return DayRead(at, low, high) if at <= now else "its day is not over"
