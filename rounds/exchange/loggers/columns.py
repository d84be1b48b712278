"""Which column is what: by its heading, by what its cells are, or by what the keeper said."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from rounds.exchange.loggers.cells import unit_in
from rounds.exchange.loggers.headings import (
    bare,
    loggers_in,
    says_humidity,
    says_something_else,
    says_temperature,
    unit_of,
)
from rounds.exchange.loggers.table import LoggerTable
from rounds.exchange.loggers.unclear import UnclearFile

# As loggers of several countries write it; common practice, no source.
_NUMBERED = re.compile(
    r"^(#|no\.?|nr\.?|n°|nº|id|index|record|sample|serial|line|row|lfd\.?|pos\.?)\b|^#"
)


@dataclass(frozen=True, slots=True)
class ReadingOptions:
    """What the keeper said of a file; empty where it is to be found out.

    Attributes:
        time, temperature, humidity: a column's heading, a part of it that no other has, or its
        number from 1.
        date_order: dmy, mdy or ymd.
        unit: c, f or k.
        device: the name or serial number of one of several loggers.
    """

    time: str = ""
    temperature: str = ""
    humidity: str = ""
    date_order: str = ""
    unit: str = ""
    device: str = ""


@dataclass(frozen=True, slots=True)
class Columns:
    """Which columns are read; ``clock`` is a second column of times of day, ``half`` one of am and
    pm."""

    time: int
    clock: int | None
    half: int | None
    temperature: int
    humidity: int | None
    told: tuple[str, ...]


def choose(table: LoggerTable, wishes: ReadingOptions, device: int | None) -> Columns:
    """The columns to read, and how each was told.

    Args:
        device: the column of the loggers' names.

    Raises:
        Unclear: several could be meant, or none of that name.
    """
    time, clock, half = _time(table, wishes.time, device)
    taken: set[int | None] = {time, clock, half, device}
    humidity_wish = wished(table, wishes.humidity, "humidity") if wishes.humidity else None
    if humidity_wish is not None:
        taken.add(humidity_wish)
    numbers = _numbers(table, taken, wishes.device)
    temperature, how = _temperature(table, wishes.temperature, numbers, wishes.unit or "c")
    if humidity_wish is None:
        humidity, humidity_told = _humidity(table, [one for one in numbers if one != temperature])
    else:
        humidity, humidity_told = humidity_wish, f"humidity: {table.named(humidity_wish)}, as given"
    times = " and ".join(table.named(one) for one in (time, clock, half) if one is not None)
    told = (f"time: {times}", f"temperature: {table.named(temperature)}, {how}", humidity_told)
    return Columns(time, clock, half, temperature, humidity, told)


def wished(table: LoggerTable, wish: str, option: str) -> int:
    """The column that the keeper named."""
    if wish.isdecimal() and 1 <= int(wish) <= table.width and wish not in table.headings:
        return int(wish) - 1
    wanted, names = wish.casefold().strip(), [name.casefold() for name in table.headings]
    exact = [number for number, name in enumerate(names) if name == wanted]
    part = [number for number, name in enumerate(names) if wanted in name]
    for numbers in (exact, part):
        if len(numbers) == 1:
            return numbers[0]
    what = "several columns are" if part else "no column is"
    every = range(table.width)
    raise _asked(f"{what} called '{wish}'; there are {_listed(table, every)}", option, every)


def _listed(table: LoggerTable, columns: Sequence[int]) -> str:
    return ", ".join(table.named(one) for one in columns[:12])


def _asked(words: str, option: str, columns: Sequence[int]) -> UnclearFile:
    """Which of some columns is meant, by its number."""
    return UnclearFile(words, option, tuple(str(one + 1) for one in columns[:12]))


def _time(table: LoggerTable, wish: str, device: int | None) -> tuple[int, int | None, int | None]:
    kinds = ["text" if column == device else table.mostly(column) for column in range(table.width)]
    if wish:
        chosen = wished(table, wish, "time")
        clock = _clock_for(table, chosen) if kinds[chosen] == "date" else None
        return chosen, clock, _half_for(table, clock)
    for kind in ("both", "epoch"):
        numbers = [column for column, one in enumerate(kinds) if one == kind]
        if kind == "epoch" and len(numbers) > 1:
            numbers = [
                column
                for column in numbers
                if re.search(r"time|epoch|unix|date", table.headings[column].casefold())
            ] or numbers
        if len(numbers) > 1:
            words = f"several columns hold times: {_listed(table, numbers)}"
            raise _asked(f"{words}; say which with --time", "time", numbers)
        if numbers:
            return numbers[0], None, None
    dates = [column for column, one in enumerate(kinds) if one == "date"]
    if not dates:
        words = "no column holds dates; say which it is with --time"
        raise _asked(words, "time", range(table.width))
    if len(dates) > 1:
        words = f"several columns hold dates: {_listed(table, dates)}"
        raise _asked(f"{words}; say which with --time", "time", dates)
    clock = _clock_for(table, dates[0])
    return dates[0], clock, _half_for(table, clock)


def _clock_for(table: LoggerTable, date: int) -> int:
    """The column of times of day that is nearest to the dates, the one after them before the one in
    front."""
    clocks = [column for column in range(table.width) if table.mostly(column) == "clock"]
    if not clocks:
        raise UnclearFile(
            f"{table.named(date)} holds dates without a time of day, and no other column does;"
            " readings need both"
        )
    return min(clocks, key=lambda column: (abs(column - date), column < date))


def _half_for(table: LoggerTable, clock: int | None) -> int | None:
    """The column after the clock where it says am or pm throughout."""
    if clock is None or clock + 1 >= table.width:
        return None
    cells = [row[clock + 1] for row in table.sample if len(row) > clock + 1]
    if cells and all(re.fullmatch(r"[AaPp]\.?[Mm]\.?", cell) for cell in cells):
        return clock + 1
    return None


def _numbers(table: LoggerTable, taken: set[int | None], device: str) -> list[int]:
    """The columns of readings, of the logger that the keeper named where headings name one."""
    numbers = [
        column
        for column in range(table.width)
        if column not in taken
        and table.mostly(column) == "number"
        and not _counts_lines(table, column)
    ]
    others = [one for one in numbers if _is_of_another(table.headings[one], device)]
    return numbers if others == numbers else [one for one in numbers if one not in others]


def _is_of_another(heading: str, device: str) -> bool:
    named = [one.casefold() for one in loggers_in(heading)]
    return bool(device and named) and device.casefold().strip() not in named


def may_be_temperature(table: LoggerTable, column: int) -> bool:
    """Whether a column's numbers can be temperatures, as far as they and their heading tell."""
    heading = table.headings[column]
    return (
        table.mostly(column) == "number"
        and not _counts_lines(table, column)
        and (says_temperature(heading) or not says_something_else(heading))
    )


def _counts_lines(table: LoggerTable, column: int) -> bool:
    """Whether a column only numbers the lines."""
    heading = table.headings[column]
    if _NUMBERED.search(heading.casefold()) and not says_temperature(heading):
        return True
    cells = [row[column] for row in table.sample if len(row) > column]
    if (
        table.headings[column]
        or len(cells) < 3
        or not all(cell.isdecimal() and len(cell) < 10 for cell in cells)
    ):
        return False
    steps = {int(following) - int(one) for one, following in pairwise(cells)}
    return steps == {1}


def _temperature(
    table: LoggerTable, wish: str, numbers: Sequence[int], unit: str
) -> tuple[int, str]:
    if wish:
        return wished(table, wish, "temperature"), "as given"
    called = [column for column in numbers if says_temperature(table.headings[column])]
    if len(called) == 1:
        return called[0], "by its heading"
    in_unit = [column for column in called if unit_of(table.headings[column]) == unit]
    if (
        len(called) == 2
        and len(in_unit) == 1
        and len({bare(table.headings[column]) for column in called}) == 1
    ):
        return in_unit[0], "by its heading, which is also there in another unit"
    beside = [
        column
        for column in called or numbers
        if any(unit_in(row[column]) for row in table.sample if len(row) > column)
    ]
    if len(beside) == 1:
        return beside[0], "by the unit beside its numbers"
    left = called or [
        number for number in numbers if not says_something_else(table.headings[number])
    ]
    if len(left) == 1:
        return left[0], "the only numbers that can be one"
    every = _listed(table, range(table.width))
    words = f"several columns may be the temperature: {_listed(table, left)}"
    if not left:
        words = f"no column seems to hold temperatures; there are {every}"
    raise _asked(f"{words}; say which with --temperature", "temperature", left or numbers)


def _humidity(table: LoggerTable, numbers: Sequence[int]) -> tuple[int | None, str]:
    called = [column for column in numbers if says_humidity(table.headings[column])]
    if len(called) == 1:
        return called[0], f"humidity: {table.named(called[0])}, by its heading"
    if called:
        words = f"humidity: left out, for {_listed(table, called)} may be it"
        return None, f"{words}; say which with --humidity"
    return None, "humidity: no column is called so"
