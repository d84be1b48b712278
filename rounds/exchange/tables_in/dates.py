"""Dates as people write them in tables; what order day and month have is told by the whole column.

A day without a time of day is taken at noon. Noon is that of summer time all year, so that a whole
number of days lies between two dates, whatever clocks did meanwhile.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, date, datetime, timedelta, timezone, tzinfo

from rounds.exchange.loggers.dates import ORDERS, day_reader, find_order
from rounds.exchange.loggers.unclear import UnclearFile
from rounds.exchange.tables_in.unclear import UnclearTable

ORDER_NAMES = {"day-first": "dmy", "month-first": "mdy", "year-first": "ymd"}
FIRST_SERIAL, LAST_SERIAL = 18_000, 65_000  # 1949 to 2077, as spreadsheets count days
_SERIAL_ZERO = date(1899, 12, 30).toordinal()  # the day that spreadsheets call 0
_EPOCH = date(1970, 1, 1).toordinal()
_SERIAL = re.compile(r"^\d{5}(?:[.,]\d+)?$")
_CLOCK = re.compile(r"[ T,]+(\d{1,2}[:h]\d{2}(?::\d{2})?\s*(?:[ap]\.?m\.?)?)\s*$", re.IGNORECASE)
_TIME = re.compile(
    r"^(?P<hours>\d{1,2})(?:\s?[:.h]\s?(?P<minutes>\d{2}))?(?::\d{2})?"
    r"\s?(?:h|hrs?|uhr|uur|heures?|horas?|o'clock)?\s?(?P<half>[ap]\.?m\.?)?$",
    re.IGNORECASE,
)
_WEEKDAY = re.compile(r"^[^\W\d_]{2,10}\.?,?\s+(?=\d)")
_ORDINAL = re.compile(
    r"^(\d{1,2})(?:er|e|\.)(?=\s)|(?<!\S)(\d{1,2})(?:st|nd|rd|th)(?=[\s,]|$)", re.I
)
_ROMAN = re.compile(
    r"^(\d{1,2})[-/. ]\s?(i{1,3}|iv|vi{0,3}|i?x|xi{1,2})(?:[-/. ]\s?(\d{2}|\d{4})|\.)$",
    re.IGNORECASE,
)
_ROMAN_MONTHS = ("", *["i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii"])
# A week of a year, as people number them by ISO 8601: KW 20, KW 20/2021, week 20 2021.
_WEEK = re.compile(
    r"^(?:kw|(?:kalender)?woche|week|wk|semaine|sem|semana)\.? ?(\d{1,2})"
    r"(?:[ ,/.-]+((?:19|20)\d{2}|\d{2}))?$",
    re.IGNORECASE,
)
# What stands between the first and the last of several days.
_BETWEEN = re.compile(
    r"\s?[-–—]\s?|\s?/\s?|\s(?:to|until|bis|au|à|al|a|tot|t/m|and|und|et|y|en)\s",
    re.IGNORECASE,
)
_FROM = re.compile(
    r"^(?:from|between|vom|von|zwischen|du|entre|del|van|tussen)\s(?=\d)", re.IGNORECASE
)
# The middle third of a month in words, with its first and last day; our choice.
_MID_MONTH = re.compile(
    r"^(?:mid|middle|mitte|mi|mediados|half)(?:\s?-\s?|\s)(?:of |de |van )?"
    r"([^\W\d_]{3,}\.?(?:,?\s\d{4})?)$",
    re.IGNORECASE,
)
_MONTH_FIRST = re.compile(r"^([^\W\d_]{3,}\.?) (\d{1,2})\s?[-–—]\s?(\d{1,2})((?:,? \d{4})?)$")
LONGEST_RANGE = 50  # signs of a cell that tells of several days
_OF = re.compile(r"\s+(?:de|of|del)\s+")


def _in_figures(text: str) -> str:
    """A date whose day is an ordinal, as ``2nd May``, ``May 2nd``, with the number alone."""
    return _ORDINAL.sub(lambda found: found[1] or found[2], text)


def _in_roman(text: str) -> str:
    """A date whose month is in Roman figures, as ``3.V.2023``, with the month's name."""
    match = _ROMAN.match(text)
    month = _ROMAN_MONTHS.index(match[2].casefold()) if match else 0
    if not match or not month:
        return text
    return f"{match[1]} {date(2000, month, 1):%b}{match[3] and ' '}{match[3] or ''}"


def parts_of(cell: str) -> tuple[str, timedelta | None]:
    """The date of a cell as it is read by numbers, and the time of day beside it."""
    text = " ".join(cell.split())
    match = _CLOCK.search(text)
    clock = clock_in(match[1]) if match else None
    text = text[: match.start()] if match and clock is not None else text
    text = _in_figures(text)
    text = _WEEKDAY.sub("", text) if not re.match(r"^[^\W\d_]+\.? \d{1,2},? \d{4}$", text) else text
    text = _in_roman(_OF.sub(" ", text))
    return text.strip(" ."), clock


def clock_in(cell: str, *, hours_alone: bool = True) -> timedelta | None:
    """The time of day in a cell, as ``8:30``, ``8.30 Uhr``, ``19h``, ``7 pm``, ``0730``; None where
    it is none.

    Args:
        hours_alone: whether a number alone is an hour.
    """
    text = " ".join(cell.split())
    match = _TIME.match(text) or re.match(r"^(?P<hours>\d{2})(?P<minutes>\d{2})$", text)
    if match is None or (text.isdecimal() and not hours_alone):
        return None
    found = match.groupdict()
    hours, minutes, half = int(found["hours"]), int(found["minutes"] or 0), found.get("half") or ""
    if half and 1 <= hours <= 12:
        hours = hours % 12 + (12 if half.casefold().startswith("p") else 0)
    return timedelta(hours=hours, minutes=minutes) if hours < 24 and minutes < 60 else None


def _day_of(text: str, read: Callable[[str], int | None]) -> tuple[int, timedelta] | None:
    """Days since 1970, and the time of day that is in a spreadsheet's number."""
    if _SERIAL.match(text):
        value = float(text.replace(",", "."))
        if FIRST_SERIAL <= value <= LAST_SERIAL:
            whole = int(value)
            minutes = round((value - whole) * 1440)
            return whole + _SERIAL_ZERO - _EPOCH, timedelta(minutes=minutes)
        return None
    day = read(text)
    return None if day is None else (day, timedelta(0))


def is_week(cell: str) -> bool:
    """Whether a cell is a week, with its year or without."""
    return _WEEK.match(" ".join(cell.split())) is not None


def middle_of_week(cell: str) -> date | None:
    """The Thursday of a week with its year, by ISO 8601, from which no day of it is further than
    three; None where it is none."""
    match = _WEEK.match(" ".join(cell.split()))
    if match is None or not match[2]:
        return None
    year = int(match[2]) + (2000 if len(match[2]) == 2 else 0)
    try:
        return date.fromisocalendar(year, int(match[1]), 4)
    except ValueError:
        return None


def looks_like_date(cell: str) -> bool:
    """Whether a cell can be a date in any order, its year left away perhaps, or several days from
    one to another; a spreadsheet's bare number is not enough."""
    return _is_one_date(cell) or first_and_last(cell) is not None


def is_shaped_as_date(cell: str) -> bool:
    """Whether a cell is written as a date in figures, be there no such day: ``31.6.2022``."""
    return re.fullmatch(r"(?:\d{1,2}([./-])){2}(?:\d{2}|\d{4})", cell.strip()) is not None


def first_and_last(cell: str) -> tuple[str, str] | None:
    """The first and last of several days, as of ``3-5 May 2016``, ``16.6.-20.6.2016``, ``3.5. bis
    5.5.``; None where a cell is none such. A first day without a year has that of the last; of
    ``mi-mai 2019`` they are the 10th and the 20th."""
    text = _FROM.sub("", " ".join(cell.split()))
    if (mid := _MID_MONTH.match(text)) and _is_one_date(f"1 {mid[1]}"):
        return f"10 {mid[1]}", f"20 {mid[1]}"
    if len(text) > LONGEST_RANGE or not _BETWEEN.search(text) or _is_one_date(text):
        return None
    for found in _BETWEEN.finditer(text):
        first, last = text[: found.start()], text[found.end() :]
        if not _is_one_date(last):
            continue
        if match := re.fullmatch(r"(\d{1,2})\.?", first):
            first = re.sub(r"^\d{1,2}(?!\d)", match[1], last)
        else:
            dot = "." if re.fullmatch(r"\d{1,2}\.\d{1,2}", first) else ""
            first = _one_with_year(f"{first}{dot}", year_in(last))
        if _is_one_date(first) and first != last:
            return first, last
    if match := _MONTH_FIRST.match(text):
        month, day, last, year = match.groups()
        return f"{month} {day}{year or ''}", f"{month} {last}{year or ''}"
    return None


def _is_one_date(cell: str) -> bool:
    if middle_of_week(_one_with_year(cell, "2000")) is not None:
        return True
    text, _ = parts_of(_one_with_year(cell, "2000"))
    return not _SERIAL.match(text) and any(
        _day_of(text, day_reader(order)) is not None for order in ORDERS
    )


def is_serial(cell: str) -> bool:
    """Whether a cell can be a date as spreadsheets count days."""
    return bool(_SERIAL.match(cell)) and FIRST_SERIAL <= float(cell.replace(",", ".")) <= (
        LAST_SERIAL
    )


def date_order(columns: Mapping[str, Sequence[str]], wish: str, today: date) -> tuple[str, str]:
    """In which order the dates of a table are written, dmy, mdy or ymd, and how that is known.

    Each column is looked at as a whole; one that does not tell is read as the others.

    Args:
        columns: the cells of each column of dates, by its name.
        wish: ``day-first``, ``month-first`` or ``year-first``, where the keeper said so.

    Raises:
        UnclearTable: no column tells, or two tell otherwise.
    """
    if wish:
        return ORDER_NAMES[wish], f"{wish.replace('-', ' ')}, as given"
    told: dict[str, str] = {}
    unclear: UnclearFile | None = None
    where = ""
    for name, cells in columns.items():
        texts = list(dict.fromkeys(parts_of(cell)[0] for cell in cells))
        try:
            order, how = find_order(texts, "", today.toordinal() - _EPOCH)
        except UnclearFile as trouble:
            order, how = _by_custom(texts, trouble.choices)
            if not order:
                unclear, where = trouble, where or name
                continue
        if order:
            told.setdefault(order, f"{name}: {how}")
    if len(told) == 1:
        ((order, how),) = told.items()
        return order, how
    choices = tuple(name for name, order in ORDER_NAMES.items() if order in (told or ORDERS))
    if len(told) > 1:
        raise UnclearTable(
            f"dates are written in two orders ({'; '.join(told.values())}): which is it?",
            "dates",
            "dates",
            choices,
        )
    if unclear is not None:
        choices = tuple(name for name, order in ORDER_NAMES.items() if order in unclear.choices)
        text = unclear.line.partition(";")[0]
        raise UnclearTable(
            f"{where}: {text}",
            "dates",
            where,
            choices,
        )
    return "", "they can be read in one way only"


def _by_custom(texts: Sequence[str], orders: Sequence[str]) -> tuple[str, str]:
    """The one of some orders that people write so: a year of two figures stands first with dashes
    alone."""
    if "dmy" in orders and all(_WITH_DOTS.match(text) for text in texts if text[:1].isdigit()):
        return "dmy", "day first, for dates with dots are written so"  # common practice, no source
    customary = [order for order in orders if order != "ymd"]
    if len(customary) == 1 and not any("-" in text for text in texts):
        return customary[0], f"{ORDERS[customary[0]]}, for no year of two figures stands first so"
    return "", ""


_NO_YEAR = re.compile(
    r"^(?P<day>\d{1,2})(?P<sign>[./-])(?P<month>\d{1,2})(?P<end>[./-]?)$"
    r"|^\d{1,2}\.? [^\W\d_]{3,}\.?$|^[^\W\d_]{3,}\.? \d{1,2}$"
)


_WITH_DOTS = re.compile(r"^\d{1,2}\.\s?\d{1,2}\.\s?(?:\d{2}|\d{4})$")


def order_named(text: str) -> str:
    """The order that somebody means: ``d``, ``day``, ``day first`` for ``day-first``; the text as
    it is where it is none."""
    wanted = "-".join(text.casefold().split())
    by_letters = next((name for name, order in ORDER_NAMES.items() if order == wanted), "")
    near = [name for name in ORDER_NAMES if wanted and name.startswith(wanted)]
    return by_letters or (near[0] if len(near) == 1 else text)


def year_in(cell: str) -> str:
    """The year that stands in a date; empty where none does."""
    match = re.search(r"(?<!\d)((?:19|20)\d{2})(?!\d)|\d[./-]\d{1,2}[./-](\d{2})$", cell)
    return (match[1] or match[2]) if match else ""


def with_year(cell: str, year: str) -> str:
    """A date that has no year, with one, each of two that are the first and last of several days;
    any other cell as it is. ``3.5`` alone is a number."""
    days = first_and_last(cell)
    if days is None:
        return _one_with_year(cell, year)
    has_one = not year or year_in(days[1])
    return cell if has_one else " - ".join(_one_with_year(day, year) for day in days)


def _one_with_year(cell: str, year: str) -> str:
    text = _in_roman(" ".join(cell.split()))
    week = _WEEK.match(text)
    if week and year and not week[2]:
        return f"{text} {year}"
    text = _OF.sub(" ", _in_figures(text))
    match = _NO_YEAR.match(text)
    if not match or not year:
        return cell
    if match["day"]:
        is_number = match["sign"] == "." and not match["end"]
        sign = match["sign"]
        return cell if is_number else f"{match['day']}{sign}{match['month']}{sign}{year}"
    return f"{text}, {year}" if text[:1].isalpha() else f"{text} {year}"


class DateReader:
    """Reads the dates of a table.

    Args:
        order: dmy, mdy, ymd; empty where each can be read in one way only.
        zone: of the keeper; a day is taken at noon of its summer time.
    """

    def __init__(self, order: str, zone: tzinfo) -> None:
        self._read = day_reader(order)
        self._zone = zone

    def middle(self, cell: str) -> datetime | None:
        """The middle of a week, or of the days from the noon of a first to that of a last one; None
        where it is one day, or none."""
        days = first_and_last(cell)
        if days is None:
            week = middle_of_week(cell)
            return noon_of(week, self._zone) if week else None
        first, last = map(self.read, days)
        return first + (last - first) / 2 if first and last else None

    def read(self, cell: str, time_of_day: timedelta | None = None) -> datetime | None:
        """The instant of a cell; None where it is no date. A week is its middle, and so are several
        days.

        Args:
            time_of_day: of a column beside it; one in the cell goes before.
        """
        middle = self.middle(cell)
        if middle is not None:
            return middle
        text, clock = parts_of(cell)
        clock = clock if clock is not None else time_of_day
        found = _day_of(text, self._read)
        if found is None:
            return None
        day, part = found
        try:
            midnight = datetime.fromordinal(day + _EPOCH)
        except (ValueError, OverflowError):
            return None
        if clock is None and not part:
            return noon_of(midnight.date(), self._zone)
        return (midnight + (clock if clock is not None else part)).replace(tzinfo=self._zone)


def noon_of(day: date, zone: tzinfo) -> datetime:
    """Noon of a day, in the zone's summer time, which it keeps in winter too."""
    return datetime(day.year, day.month, day.day, 12, tzinfo=timezone(_summer_offset(zone)))


def _summer_offset(zone: tzinfo) -> timedelta:
    """How far a zone is from UTC while clocks are put forward: the greater of its two offsets, in
    one year for all, for rules of clocks change too."""
    offsets = [
        datetime(2020, month, 1, tzinfo=UTC).astimezone(zone).utcoffset() for month in (1, 7)
    ]
    return max(offset for offset in offsets if offset is not None)
