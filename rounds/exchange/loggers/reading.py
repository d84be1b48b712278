"""A logger's file read whole: what was taken for what, the readings, and each line that was left
out."""

from __future__ import annotations

from array import array
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import tzinfo
from itertools import pairwise
from statistics import median

from rounds.bench.plurals import count
from rounds.exchange.loggers.cells import BOTH, SEPARATORS, number_of, plain, split, unit_in
from rounds.exchange.loggers.clocks import A_DAY, LocalClock, offset_of, said_offset, seconds_of
from rounds.exchange.loggers.columns import Columns, ReadingOptions, choose
from rounds.exchange.loggers.dates import DayReader, day_reader, find_order
from rounds.exchange.loggers.devices import device_column, of_one_device
from rounds.exchange.loggers.headings import loggers_in, unit_of
from rounds.exchange.loggers.headings_again import lines_in_one_order
from rounds.exchange.loggers.table import LoggerTable, begin_of_table, find_table, reads
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

COLDEST_C, WARMEST_C = -40.0, 60.0  # as at the door
NOT_SET = 631_152_000  # 1990-01-01 in UTC: a logger whose clock was never set starts before that
AHEAD_ALLOWED = 120  # seconds
TOLD_LINES = 5  # line numbers told for each reason
TELL_EVERY = 20_000  # lines between two words of progress
SERIAL_EPOCH = 25_569  # a spreadsheet's day number of 1970-01-01, counted from 1899-12-30
BY_LINE_ABOVE = " as a line above the table says"
NO_WISHES = ReadingOptions()


@dataclass(frozen=True, slots=True)
class LinesLeftOut:
    """Lines left out for one reason: how many, and the numbers of the first of them."""

    why: str
    count: int
    lines: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Log:
    """What a file holds.

    Attributes:
        seconds: instants of the readings, whole seconds since 1970 in UTC, rising.
        temperatures_c: temperatures [C].
        humidities: relative humidity [%], not a number where none was read.
        taken: what was taken for what, a line each.
        not_taken: what was left out, and why.
    """

    seconds: array[int]
    temperatures_c: array[float]
    humidities: array[float]
    taken: tuple[str, ...]
    not_taken: tuple[LinesLeftOut, ...]


class LeftOut:
    """Counts lines left out, by reason."""

    def __init__(self) -> None:
        self._counts: Counter[str] = Counter()
        self._lines: dict[str, tuple[int, ...]] = {}

    def add(self, why: str, line: int) -> None:
        """One more for that reason."""
        self._counts[why] += 1
        if self._counts[why] <= TOLD_LINES:
            self._lines[why] = (*self._lines.get(why, ()), line)

    def told(self) -> tuple[LinesLeftOut, ...]:
        """How many for each reason."""
        return tuple(LinesLeftOut(why, n, self._lines[why]) for why, n in self._counts.items())


def read_log(
    raw: bytes,
    *,
    zone: tzinfo,
    zone_name: str,
    zone_said: bool,
    now: float,
    wishes: ReadingOptions = NO_WISHES,
    progress: Callable[[int, int], None] = lambda done, lines: None,
) -> Log:
    """The readings of a logger's file.

    Args:
        raw: the file's bytes.
        zone: in which its times are where they do not say it themselves.
        zone_name: the zone as it is told to the keeper.
        zone_said: the keeper named the zone, so that what a heading says does not count.
        now: seconds since 1970; later readings are left out.
        progress: told from time to time how many lines are done, of how many.

    Raises:
        Unclear: the file does not tell what is what, or holds no reading.
    """
    lines, encoding = lines_of(raw)
    lines, named_again = lines_in_one_order(lines, *begin_of_table(lines))
    table = find_table(lines)
    device = device_column(table, wishes)
    lines, device_told = of_one_device(lines, table, wishes, device)
    table = find_table(lines) if device_told else table
    columns = choose(table, wishes, device)
    device_told = device_told or _device_told(table.headings[columns.temperature], wishes.device)
    in_heading = (
        None if zone_said else said_offset([table.headings[columns.time], *table.above[:200]])
    )
    unit, unit_told = _unit(table, columns, wishes.unit)
    is_epoch = table.mostly(columns.time) == "epoch"
    _refuse_said_otherwise(lines, table, in_heading, unit_told)
    order_told = "counted in seconds or days"
    read_day = day_reader("")
    if not is_epoch:
        order, order_told = find_order(
            _dates(lines, table, columns), wishes.date_order, int(now // A_DAY) + 1
        )
        read_day = day_reader(order)
    reader = _Reader(table, columns, read_day, in_heading or zone, unit, now)
    log = reader.read(lines, progress)
    zone_told = _zone_told(reader, f"{in_heading}, as the file says" if in_heading else zone_name)
    above = f", {count(len(table.above), 'line')} above it" if table.above else ""
    taken = (
        (
            f"table: from line {table.first + 1}{above}, {SEPARATORS[table.separator]} between"
            f" columns, {encoding}{''.join(f'; {one}' for one in named_again)}"
        ),
        columns.told[0],
        f"dates: {order_told}",
        f"zone: {zone_told}",
        f"{columns.told[1]}, {UNIT_NAMES[unit]}{unit_told}",
        columns.told[2],
        *([device_told] if device_told else []),
    )
    if not log.seconds:
        worst = max(log.not_taken, key=lambda left_out: left_out.count, default=None)
        raise UnclearFile(
            f"no line could be read{f'; most for this: {worst.why}' if worst else ''}"
        )
    return Log(log.seconds, log.temperatures_c, log.humidities, taken, log.not_taken)


def _device_told(heading: str, wish: str) -> str:
    names = loggers_in(heading)
    if not names:
        return ""
    return f"logger: {wish.strip()}, as given" if wish else f"logger: {names[0]}, by its heading"


def _zone_told(reader: _Reader, local: str) -> str:
    if reader.own_offsets and not reader.local_times:
        return "each time has its offset from UTC"
    return f"local time of {local}" if reader.local_times else "UTC"


def _unit(table: LoggerTable, columns: Columns, wish: str) -> tuple[str, str]:
    """C, f or k, and how it was told."""
    if wish:
        return wish, ", as given"
    cells = [row[columns.temperature] for row in table.sample if len(row) > columns.temperature]
    beside = {unit_in(cell) for cell in cells if cell}
    bare = [cell for cell in cells if not unit_in(cell)] or cells
    numbers = [number for number in map(number_of, bare) if number is not None]
    middle = median(numbers) if numbers else 0.0
    by_heading = unit_of(table.headings[columns.temperature])
    if by_heading:
        refuse_too_hot(by_heading, middle)
        return by_heading, ""
    if beside and "" not in beside:
        unit, *others = sorted(beside)
        others_told = "".join(f" or {UNIT_NAMES[one]}" for one in others)
        return unit, f"{others_told} beside each number"
    above = {unit_of(line) for line in table.above} - {""}
    if len(above) == 1:
        return above.pop(), BY_LINE_ABOVE
    by_size, why = unit_by_size(middle)
    if by_size:
        return by_size, f", {why}"
    low, high = (min(numbers), max(numbers)) if numbers else (0.0, 0.0)
    raise unit_not_told(low, high, f" in {table.named(columns.temperature)}")


def _refuse_said_otherwise(
    lines: Sequence[str], table: LoggerTable, offset: tzinfo | None, unit_told: str
) -> None:
    """Refuse a file of which a line below the first reading says another unit or offset from UTC
    than what it was told by.

    Raises:
        UnclearFile: one does.
    """
    unit = next(iter({unit_of(line) for line in table.above} - {""}), "")
    by_line = unit_told == BY_LINE_ABOVE
    if not by_line and offset is None:
        return
    for number, line in enumerate(lines[table.first :], start=table.first + 1):
        if not line[:1].isalpha() or line == table.head or reads(line, table.separator):
            continue
        other_unit = by_line and unit_of(line) not in ("", unit)
        if other_unit or (offset and said_offset([line]) not in (None, offset)):
            raise UnclearFile(
                f"line {number} says '{line.strip()[:60]}', and what stands above the first reading"
                " says otherwise; give it and what is below as a file of its own"
            )


def _dates(lines: Sequence[str], table: LoggerTable, columns: Columns) -> list[str]:
    """The different dates of the file, in its order."""
    found: dict[str, None] = {}
    separator, position = table.separator, columns.time
    for line in lines[table.first :]:
        cells = split(line, separator)
        if len(cells) <= position or cells[position].partition(" ")[0] in found:
            continue
        cell = plain(cells[position])
        if columns.clock is None:
            parts = BOTH.match(cell)
            cell = parts["date"] if parts else ""
        if cell:
            found[cell] = None
    return list(found)


class _Reader:
    """Reads the lines of one table."""

    def __init__(
        self,
        table: LoggerTable,
        columns: Columns,
        read_day: DayReader,
        zone: tzinfo,
        unit: str,
        now: float,
    ) -> None:
        self._separator = table.separator
        self._first = table.first
        self._head = table.head
        self._columns = columns
        self._needed = (
            max(columns.time, columns.temperature, columns.clock or 0, columns.half or 0) + 1
        )
        self._read_day = read_day
        self._days: dict[str, int | None] = {}
        self._seconds: dict[str, int | None] = {}
        # dates met before a space: with a time of day met before they need no looking apart
        self._heads: set[str] = set()
        self._is_epoch = table.mostly(columns.time) == "epoch"
        self._celsius = TO_CELSIUS[unit]
        self._latest = now + AHEAD_ALLOWED
        self._left_out = LeftOut()
        self._clock = LocalClock(zone)
        self._zone = zone
        self.own_offsets = 0
        self.local_times = 0

    def read(self, lines: Sequence[str], progress: Callable[[int, int], None]) -> Log:
        """Every reading, by time."""
        self._clock = LocalClock(self._zone, self._falls(lines))
        seconds, temperatures, humidities, numbers = array("q"), array("d"), array("d"), array("q")
        total = len(lines)
        for number in range(self._first, total):
            if number % TELL_EVERY == 0:
                progress(number, total)
            line = lines[number]
            if not line or line.isspace() or line == self._head:
                continue
            result = self._reading(line)
            if isinstance(result, str):
                self._left_out.add(result, number + 1)
                continue
            seconds.append(result[0])
            temperatures.append(result[1])
            humidities.append(result[2])
            numbers.append(number + 1)
        progress(total, total)
        self._refuse_half_a_day(seconds)
        return self._in_order(seconds, temperatures, humidities, numbers)

    def _refuse_half_a_day(self, seconds: array[int]) -> None:
        """Refuse hours of 1 to 12 that go round twice a day with nothing to tell the halves apart.

        Raises:
            Unclear: they do.
        """
        known = {text: second for text, second in self._seconds.items() if second is not None}
        if not known or any(text[-1:] in "mM." or text[-1:] in "aApP" for text in known):
            return
        if min(known.values()) < 3600 or max(known.values()) >= 13 * 3600:
            return
        steps = [following - one for one, following in pairwise(seconds)]
        if any(step < 0 for step in steps) and any(step > 0 for step in steps):
            raise UnclearFile(
                "its hours run from 1 to 12, round and round, without am or pm; save the file with"
                " a 24-hour clock"
            )

    def _reading(self, line: str) -> tuple[int, float, float] | str:
        """One line's reading, or why it is none."""
        cells = split(line, self._separator)
        if len(cells) < self._needed:
            return "too few columns"
        at = self._instant(cells)
        if isinstance(at, str):
            return at
        temperature = celsius_of(cells[self._columns.temperature], self._celsius)
        if temperature is None:
            if not plain(cells[self._columns.temperature]):
                return "no temperature"
            return "its temperature is no number"
        if not COLDEST_C <= temperature <= WARMEST_C:
            return f"its temperature is not between {COLDEST_C:g} and {WARMEST_C:g} C"
        if at > self._latest:
            return "its time is ahead of now"
        if at < NOT_SET:
            return "its time is before 1990, as of a clock that was not set"
        return at, temperature, self._humidity(cells)

    def _humidity(self, cells: Sequence[str]) -> float:
        place = self._columns.humidity
        if place is None or place >= len(cells):
            return float("nan")
        found = number_of(cells[place])
        return found if found is not None and 0 <= found <= 100 else float("nan")

    def _instant(self, cells: Sequence[str]) -> int | str:
        cell = plain(cells[self._columns.time])
        if self._is_epoch:
            return self._counted(cell)
        offset = ""
        if self._columns.clock is None:
            head, _, tail = cell.partition(" ")
            if head in self._heads and tail in self._seconds:
                day_text, clock_text = head, tail
            elif not (parts := BOTH.match(cell)):
                return "no time" if not cell else "its time cannot be read"
            else:
                day_text, clock_text, offset = parts["date"], parts["clock"], parts["offset"] or ""
                self._heads.add(day_text)
        else:
            day_text, clock_text = cell, plain(cells[self._columns.clock])
            if self._columns.half is not None:
                clock_text += plain(cells[self._columns.half])
        day, second = self._day(day_text), self._second(clock_text)
        if day is None:
            return "there is no such date"
        if second is None:
            return "there is no such time of day"
        return self._placed(day * A_DAY + second, offset)

    def _placed(self, local: int, offset: str) -> int | str:
        if offset:
            east = offset_of(offset)
            if east is None:
                return "its offset from UTC cannot be read"
            self.own_offsets += 1
            return local - east
        self.local_times += 1
        found = self._clock.instant(local)
        if found is None:
            return (
                "the clocks went forward over its time; a logger that keeps one offset all year"
                " needs --zone, as +01:00"
            )
        return found

    def _day(self, text: str) -> int | None:
        if text not in self._days:
            self._days[text] = self._read_day(text)
        return self._days[text]

    def _second(self, text: str) -> int | None:
        if text not in self._seconds:
            if len(self._seconds) > A_DAY:
                self._seconds.clear()
            self._seconds[text] = seconds_of(text)
        return self._seconds[text]

    def _counted(self, cell: str) -> int | str:
        number = number_of(cell)
        if number is None:
            return "no time" if not cell else "its time cannot be read"
        if number < 100_000:
            return self._placed(round((number - SERIAL_EPOCH) * A_DAY), "")
        return int(number // 1000) if number >= 1e11 else int(number)

    def _falls(self, lines: Sequence[str]) -> bool:
        """Whether the newest reading stands first."""
        numbers = []
        for place in (lines[self._first :], reversed(lines[self._first :])):
            for line in place:
                reading = self._reading(line)
                if not isinstance(reading, str):
                    numbers.append(reading[0])
                    break
        self.own_offsets = self.local_times = 0
        return len(numbers) == 2 and numbers[0] > numbers[1]

    def _in_order(
        self,
        seconds: array[int],
        temperatures: array[float],
        humidities: array[float],
        numbers: array[int],
    ) -> Log:
        """By time; of several readings at one time the first counts."""
        if any(one >= following for one, following in pairwise(seconds)):
            places = sorted(range(len(seconds)), key=seconds.__getitem__)
            kept: list[int] = []
            for place in places:
                if kept and seconds[place] == seconds[kept[-1]]:
                    self._left_out.add("its time is that of a reading before it", numbers[place])
                else:
                    kept.append(place)
            seconds = array("q", [seconds[place] for place in kept])
            temperatures = array("d", [temperatures[position] for position in kept])
            humidities = array("d", [humidities[place] for place in kept])
        return Log(seconds, temperatures, humidities, (), self._left_out.told())
