"""Times as a keeper types them."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from msgspec import Struct

from rounds import late
from rounds.bench.instants import impossible, is_possible
from rounds.entries.phrase.tokens import Word
from rounds.entries.slots import listed

_SPAN = late.of_figures(
    r"^([-+])(?:(\d+(?:\.\d+)?)d)?(?:(\d+(?:\.\d+)?)h)?(?:(\d+(?:\.\d+)?)m(?:in)?)?$",
    signs="-+",
)
_CLOCK = late.of_figures(r"^([01]?\d|2[0-3]):([0-5]\d)$")
A_LITTLE_AHEAD = timedelta(
    hours=2
)  # a clock time so near is asked about, not taken for yesterday's; our choice
CLOCKS_DIFFER = timedelta(minutes=2)  # what two clocks differ is now
SOON = timedelta(days=60)  # a date so near is not taken for last year's; our choice
_ISO = late.of_figures(r"^\d{4}-\d{2}-\d{2}$")
_DAY = late.of_figures(r"^(\d{1,2})(?:st|nd|rd|th|\.)?$", re.IGNORECASE)
_YEAR = late.of_figures(r"^(?:19|2\d)\d{2}$")
_IN_FIGURES = late.of_figures(r"^(\d{1,2})([./-])(\d{1,2})(?:\2(\d{4}|\d{2})?)?$")
_BARE_NUMBER = late.of_figures(r"^\d+[.,]\d+$")
_YEAR_FIRST = late.of_figures(r"^(\d{4})[./-](\d{1,2})[./-](\d{1,2})$")
_WHOLE_MONTHS = listed(
    "january february march april may june july august september october november december"
)
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_DAYS = {"today": 0, "yesterday": -1, "tomorrow": 1}
WHOLE_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


class UnclearTime(Struct, frozen=True):
    """What was typed is not clear: one line, where in the text, and the nearest right words."""

    message: str
    at: int = 0
    suggestions: tuple[str, ...] = ()


def is_time_word(word: str) -> bool:
    """Whether a word begins a time; a weekday only in full, for its short forms are words too."""
    lower = word.lower()
    return bool(
        lower in _DAYS
        or lower in WHOLE_WEEKDAYS
        or _CLOCK.match(word)
        or (len(word) > 1 and _SPAN.match(word))
        or re.match(r"^\d{4}-\d{2}-\d{2}(T\d{2}:\d{2}.*)?$", word)
    )


def is_weekday(word: str) -> bool:
    """Whether a word is a day of the week, whole or its first three letters."""
    lower = word.lower()
    return any(lower == day[: max(3, len(lower))] for day in WHOLE_WEEKDAYS)


def weekday_in_full(word: str) -> bool:
    """Whether a word is a day of the week, written in full."""
    return word.lower() in WHOLE_WEEKDAYS


def is_month(word: str) -> bool:
    """Whether a word is a month, whole or its first three letters."""
    lower = word.lower()
    return any(lower == month[: max(3, len(lower))] for month in _WHOLE_MONTHS)


def misspelt_month(word: str) -> str:
    """The short name of the month that a word is a slip of: ``Juno``; '' where it is none."""
    near = late.nearest(word.lower(), _WHOLE_MONTHS + _MONTHS, 1, 0.75)
    return (
        near[0][:3].title()
        if near and not is_month(word) and near[0][0] == word[:1].lower()
        else ""
    )


def is_day_of_month(word: str) -> bool:
    """Whether a word is the day of a date, as 20 or 20th."""
    return bool(_DAY.match(word))


def is_year(word: str) -> bool:
    """Whether a word is the year of a date, in four digits."""
    return bool(_YEAR.match(word))


def is_date_in_figures(word: str) -> bool:
    """Whether a word is a date without the name of its month: ``20.5.``, ``20/5/27``,
    ``2027/05/20``."""
    return bool(_IN_FIGURES.match(word) or _YEAR_FIRST.match(word))


def is_bare_number(word: Word) -> bool:
    """Whether a word is a number with decimals, which is a date only behind what says so."""
    return bool(_BARE_NUMBER.match(word.text))


def time_in(text: str, *, now: datetime, zone: tzinfo) -> datetime | None:
    """The first time that is typed anywhere in a line, with the time of day behind it; None where
    there is none."""
    words = [word for word in text.split() if word]
    for word, following in zip(words, [*words[1:], ""], strict=True):
        with_clock = _CLOCK.match(following) is not None and ":" not in word
        if is_time_word(word) or (is_weekday(word) and with_clock):
            result = read_time(f"{word} {following}" if with_clock else word, now=now, zone=zone)
            return result if isinstance(result, datetime) else None
    return None


def read_time(
    text: str, *, now: datetime, zone: tzinfo, ahead: bool = False
) -> datetime | UnclearTime:
    """The instant that was typed.

    Forms: ``-20m``, ``-1h30m``, ``+24h``, ``7:40``, ``yesterday 18:10``, ``mon 07:00``, ``23 May``,
        ``Sat 23 May``, ``May 23, 2026``,
    ``23.5.2026``, ``23/5/26``, ``2026-05-03 18:10``, RFC 3339. Of two figures that may each be the
    month it is asked which. Hours of a span are of time that passes, whatever the clocks did
    meanwhile; whole days of it end at the same hour of a day.
    A day alone is its noon, today before noon now.
    A clock time alone is the last such time, or the next one where ``ahead``; one that is a little
    ahead of now may be a slip, and is asked about. A local time that a clock change leaves out is
    refused; one that comes twice
    is its first coming.
    """
    result = _typed(
        text, now.astimezone(UTC), zone, ahead
    )  # two times of one zone are compared by their clock faces
    return (
        UnclearTime(f"'{text.strip()}': {impossible(result)}")
        if isinstance(result, datetime) and not is_possible(result)
        else result
    )


def _typed(text: str, now: datetime, zone: tzinfo, ahead: bool) -> datetime | UnclearTime:
    words = text.strip().split()
    if not words:
        return UnclearTime("no time was given; as -20m, 7:40 or yesterday 18:10")
    span = _SPAN.match(words[0])
    if len(words) == 1 and span and any(span.groups()[1:]):
        return _from_span(span, now, zone)
    try:
        if len(words) == 1 and re.match(r"^\d{4}-?\d{2}-?\d{2}T", words[0].upper()):
            instant = datetime.fromisoformat(words[0].upper().replace("Z", "+00:00"))
            return instant if instant.tzinfo else _on(instant.date(), instant.time(), zone)
        if len(words) == 1 and _CLOCK.match(words[0]):
            return _clock_alone(words[0], now, zone, ahead)
        words = _with_date(words, now, zone, ahead)
        day = _day(words[0], now, zone, ahead)
        if day is not None and len(words) == 1:
            noon = _on(day, time(12, 0), zone)
            is_to_come = isinstance(noon, datetime) and noon > now
            is_today = day == now.astimezone(zone).date()
            return now.astimezone(zone) if is_to_come and is_today and not ahead else noon
        if day is not None and len(words) == 2:
            return _on(day, _clock(words[1]), zone)
    except _UnclearDate as unclear:
        return UnclearTime(f"'{text.strip()}' {unclear}")
    except (ValueError, OverflowError):
        pass
    return UnclearTime(
        f"'{text.strip()}' is not a time; as -20m, 7:40, yesterday 18:10, 20 May or 2026-05-03"
        " 18:10"
    )


class _UnclearDate(ValueError):
    """A date that may be another one, with what is said of it."""


def _with_date(words: list[str], now: datetime, zone: tzinfo, ahead: bool) -> list[str]:
    """The words with a date at their beginning written as ``2027-05-20``; as they are where none
    stands there."""
    words = [word.rstrip(",") for word in words]
    if len(words) > 1 and is_weekday(words[0]):
        rest = _with_date(words[1:], now, zone, ahead)
        return _on_weekday(words[0], rest) if rest != words[1:] or _ISO.match(rest[0]) else words
    if first := _YEAR_FIRST.match(words[0]):
        return [date(*(int(part) for part in first.groups())).isoformat(), *words[1:]]
    if figures := _IN_FIGURES.match(words[0]):
        day, month, year = int(figures[1]), int(figures[3]), figures[4]
        if day <= 12 and month <= 12 and day != month and figures[2] != ".":
            raise _UnclearDate(
                f"may be {day} {_MONTHS[month - 1].title()} or {month} {_MONTHS[day - 1].title()};"
                " say the month by its name, as 20 May 2027"
            )
        if month > 12:
            day, month = month, day
        year = f"20{year}" if year and len(year) == 2 else year
        rest = words[1:]
    elif len(words) > 1 and (both := _day_and_month(*words[:2])):
        day, month = both
        year = words[2] if len(words) > 2 and is_year(words[2]) else None
        rest = words[3:] if year else words[2:]
    else:
        return words
    found = date(int(year), month, day) if year else _of_year(day, month, now, zone, ahead)
    return [found.isoformat(), *rest]


def _on_weekday(weekday: str, words: list[str]) -> list[str]:
    """The words of a date, which must be of the weekday that stands before it."""
    day = date.fromisoformat(words[0])
    if WHOLE_WEEKDAYS[day.weekday()][:3] != weekday[:3].casefold():
        raise _UnclearDate(
            f"does not fit: {day.day} {_MONTHS[day.month - 1].title()} {day.year} is a"
            f" {WHOLE_WEEKDAYS[day.weekday()].title()}; say the date alone"
        )
    return words


def _day_and_month(first: str, second: str) -> tuple[int, int] | None:
    """The day and the month of two words in either order; None where they are none."""
    for day, month in ((first, second), (second, first)):
        if (number := _DAY.match(day)) and is_month(month.rstrip(".")):
            return int(number[1]), _MONTHS.index(month[:3].casefold()) + 1
    return None


def _from_span(span: re.Match[str], now: datetime, zone: tzinfo) -> datetime | UnclearTime:
    sign = -1 if span.group(1) == "-" else 1
    days, hours, minutes = (float(part or 0) for part in span.groups()[1:])
    try:
        if whole := int(days):  # by the clock on the wall
            now = (now.astimezone(zone) + sign * timedelta(days=whole)).astimezone(UTC)
        passes = timedelta(days=days - whole, hours=hours, minutes=minutes)
        return (now.astimezone(UTC) + sign * passes).astimezone(zone)
    except OverflowError:
        return UnclearTime(f"'{span.group(0)}' is too far away; give a date, as 2026-05-03 18:10")


def _clock(word: str) -> time:
    match = _CLOCK.match(word)
    if not match:
        raise ValueError(word)
    return time(int(match.group(1)), int(match.group(2)))


def _clock_alone(word: str, now: datetime, zone: tzinfo, ahead: bool) -> datetime | UnclearTime:
    today = now.astimezone(zone).date()
    result = _on(today, _clock(word), zone)
    if isinstance(result, UnclearTime):
        return result
    if not ahead and now + CLOCKS_DIFFER < result < now + A_LITTLE_AHEAD:
        return UnclearTime(
            f"{word} is ahead of now ({now.astimezone(zone):%H:%M}); give a time that has passed,"
            f" as -20m, or say: yesterday {word}"
        )
    if not ahead and result > now + CLOCKS_DIFFER:
        return _on(today - timedelta(days=1), _clock(word), zone)
    if ahead and result <= now:
        return _on(today + timedelta(days=1), _clock(word), zone)
    return result


def came_twice(at: datetime, zone: tzinfo) -> datetime | None:
    """The other instant with the same local time, where the clocks went back over it; None where
    there is no other."""
    local = at.astimezone(zone).replace(tzinfo=None)
    ways = [local.replace(tzinfo=zone, fold=fold).astimezone(UTC) for fold in (0, 1)]
    real = [way for way in ways if way.astimezone(zone).replace(tzinfo=None) == local]
    instant = at.astimezone(UTC)  # times of two zones are never equal in an hour that comes twice
    return next((one for one in real if one != instant), None)


def which_of_two(typed: str, at: datetime, now: datetime, zone: tzinfo) -> str:
    """Which of two times that one clock time can be was taken, and how the other is typed; '' where
    there is no doubt."""
    other = came_twice(at, zone)
    if (
        other is None
        or other > now.astimezone(UTC)
        or f"{at.astimezone(zone):%H:%M}" not in (f"{word:0>5}" for word in typed.split())
    ):
        return ""
    taken = "first" if at.astimezone(UTC) < other else "second"
    there = other.astimezone(zone).isoformat(timespec="minutes")
    return f"the clocks went back, it came twice: the {taken} is taken; type {there} for the other"


def _day(word: str, now: datetime, zone: tzinfo, ahead: bool) -> date | None:
    today = now.astimezone(zone).date()
    lower = word.lower()
    if lower in _DAYS:
        return today + timedelta(days=_DAYS[lower])
    if lower[:3] in _WEEKDAYS and len(lower) >= 3 and lower.isalpha():
        back = (today.weekday() - _WEEKDAYS.index(lower[:3])) % 7
        return today + timedelta(days=(7 - back) % 7 if ahead else -back)
    return date.fromisoformat(word)


def _of_year(day: int, month: int, now: datetime, zone: tzinfo, ahead: bool) -> date:
    """A day and a month: the last such day, or the next one where ``ahead``; one that comes soon is
    a slip rather than nearly a year ago, one that is just past rather than nearly a year off, and
    is asked about."""
    today = now.astimezone(zone).date()
    found = date(today.year, month, day)
    if ahead:
        again = found if found >= today else found.replace(year=today.year + 1)
        if again != found and today - found <= SOON:
            name = f"{day} {_MONTHS[month - 1].title()}"
            raise _UnclearDate(
                f"comes again only in {again.year}; say which is meant, as {name} {found.year} or"
                f" {name} {again.year}"
            )
        return again
    past = found if found <= today else found.replace(year=today.year - 1)
    coming = found if found > today else found.replace(year=today.year + 1)
    if found != today and coming - today <= SOON:
        raise _UnclearDate(
            f"is still to come; where {past.year} is meant, say"
            f" {day} {_MONTHS[month - 1].title()} {past.year}"
        )
    return past


def _on(day: date, at: time, zone: tzinfo) -> datetime | UnclearTime:
    local = datetime.combine(day, at, tzinfo=zone)
    if not is_possible(local):
        return UnclearTime(impossible(local))
    again = local.astimezone(UTC).astimezone(zone)
    if again.replace(tzinfo=None) != local.replace(tzinfo=None):
        return UnclearTime(
            f"{at:%H:%M} did not exist on {day}: the clocks went forward; give a time after the"
            " change"
        )
    return local
