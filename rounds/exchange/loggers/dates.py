"""Dates as loggers write them, and in which order day, month and year stand."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from datetime import date
from itertools import pairwise

from rounds.exchange.loggers.unclear import UnclearFile

ORDERS = {"dmy": "day first", "mdy": "month first", "ymd": "year first"}
_EPOCH_DAY = date(1970, 1, 1).toordinal()
# days between one date of a file and the next: as they follow, and as they never do
_IN_STEP, _TORN = 3, 20

# The first letters of month names, long enough to tell them apart, in the languages loggers speak;
# common practice, no source.
_MONTHS = {
    **dict.fromkeys(("jan", "ene", "gen", "janv"), 1),
    **dict.fromkeys(("feb", "fév", "fev", "helmi"), 2),
    **dict.fromkeys(("mar", "mär", "mrz", "mrt", "maa"), 3),
    **dict.fromkeys(("apr", "avr", "abr"), 4),
    **dict.fromkeys(("may", "mai", "mei", "mag", "maj"), 5),
    **dict.fromkeys(("jun", "juin", "giu"), 6),
    **dict.fromkeys(("jul", "juil", "lug"), 7),
    **dict.fromkeys(("aug", "aoû", "aou", "ago"), 8),
    **dict.fromkeys(("sep", "set"), 9),
    **dict.fromkeys(("oct", "okt", "ott", "out"), 10),
    **dict.fromkeys(("nov",), 11),
    **dict.fromkeys(("dec", "dez", "déc", "dic"), 12),
}
_NAMED = re.compile(r"^(\d{1,2})[-/. ]\s?([^\W\d_]{3,10})\.?[-/. ,]+(\d{2}|\d{4})$")
_NAMED_FIRST = re.compile(r"^([^\W\d_]{3,10})\.? (\d{1,2}),? (\d{4})$")
_COMPACT = re.compile(r"^(\d{4})(\d{2})(\d{2})$")
_PARTS = re.compile(r"^(\d{1,4})[-/.](\d{1,2})[-/.](\d{1,4})$")

DayReader = Callable[[str], int | None]


def _month(name: str) -> int:
    name = name.casefold()
    return next((_MONTHS[name[:size]] for size in (5, 4, 3) if name[:size] in _MONTHS), 0)


def _whole(year: str) -> int:
    """The year that is written: of four digits as it is; of fewer 69 to 99 in the last century,
    else this (POSIX %y)."""
    number = int(year)
    return number if len(year) == 4 else number + (1900 if number >= 69 else 2000)


def _day(year: str, month: int | str, day: str) -> int | None:
    """Days since 1970; None where there is no such day."""
    try:
        return date(_whole(year), int(month), int(day)).toordinal() - _EPOCH_DAY
    except ValueError:
        return None


def _sure(text: str) -> int | None:
    """The day of a date that can be read in one way only; None where it cannot be read or in
    several."""
    named = _NAMED.match(text)
    if named:
        return _day(named[3], _month(named[2]), named[1])
    named = _NAMED_FIRST.match(text)
    if named:
        return _day(named[3], _month(named[1]), named[2])
    compact = _COMPACT.match(text)
    if compact:
        return _day(compact[1], compact[2], compact[3])
    parts = _PARTS.match(text)
    if parts and len(parts[1]) == 4:
        return _day(parts[1], parts[2], parts[3])
    return None


def _in_order(text: str, order: str) -> int | None:
    """The day of a date of three numbers under one of the orders."""
    parts = _PARTS.match(text)
    if (
        not parts
        or len(parts[1]) > 2
        or len(parts[3]) == 3
        or (order == "ymd" and len(parts[3]) == 4)
    ):
        return None
    year, month, day = (parts[order.index(name) + 1] for name in "ymd")
    return _day(year, month, day)


def day_reader(order: str) -> DayReader:
    """Reads a date as days since 1970; where it could be read in several ways, in that order."""

    def read(text: str) -> int | None:
        sure = _sure(text)
        return sure if sure is not None or not order else _in_order(text, order)

    return read


def find_order(dates: Sequence[str], wish: str, today: int) -> tuple[str, str]:
    """The order of the numbers in a file's dates, and how it was told.

    Args:
        dates: the file's different dates, in the order of the file.
        wish: what the keeper said; it holds where given.
        today: days since 1970; no reading is from later.

    Returns:
        dmy, mdy, ymd, or nothing where every date can be read in one way only.

    Raises:
        Unclear: the file does not tell.
    """
    open_dates = [
        text
        for text in dates
        if _sure(text) is None and any(_in_order(text, order) is not None for order in ORDERS)
    ]
    if not open_dates:
        return "", "they can be read in one way only"
    if wish:
        return wish, f"{ORDERS[wish]}, as given"
    days = {order: [_in_order(text, order) for text in open_dates] for order in ORDERS}
    most = max(sum(day is not None for day in result) for result in days.values())
    fitting = [
        order for order, found in days.items() if sum(day is not None for day in found) == most
    ]
    if len(fitting) == 1:
        proof = _proof(open_dates, fitting[0], days)
        return fitting[0], f"{ORDERS[fitting[0]]}, for {proof} can be no other"
    past = [order for order in fitting if all(day is None or day <= today for day in days[order])]
    if len(past) == 1:
        return past[0], f"{ORDERS[past[0]]}, for otherwise some lie ahead of today"
    fitting = past or fitting
    steps = {order: _widest_step(days[order]) for order in fitting}
    in_step = [order for order in fitting if steps[order] <= _IN_STEP]
    if (
        len(in_step) == 1
        and len(open_dates) > 1
        and all(steps[order] >= _TORN for order in fitting if order != in_step[0])
    ):
        return in_step[0], f"{ORDERS[in_step[0]]}, for only so do the days follow one another"
    raise UnclearFile(
        f"the date {open_dates[0]} can be {' or '.join(ORDERS[order] for order in fitting)}; say"
        f" which with --date-order {' or '.join(fitting)}",
        "date-order",
        tuple(fitting),
    )


def _proof(dates: Sequence[str], order: str, days: dict[str, list[int | None]]) -> str:
    """The first date that only this order can read."""
    for number, text in enumerate(dates):
        if days[order][number] is not None and all(
            found[number] is None for name, found in days.items() if name != order
        ):
            return text
    return "most of them"


def _widest_step(days: Sequence[int | None]) -> int:
    known = [day for day in days if day is not None]
    return max((abs(following - one) for one, following in pairwise(known)), default=0)
