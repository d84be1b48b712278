"""How times, ages, numbers and other people's text are written for the keeper."""

from __future__ import annotations

import unicodedata
from datetime import date, datetime, timedelta, tzinfo

from rounds.bench.dates import short

# Characters that a terminal would obey, or that would hide or turn round what stands beside them.
_MARKS = {"Mn", "Me"}
MAX_MARKS = 2  # accents on one letter; more of them climb over the lines above and below
# letters and marks that are drawn as nothing
_BLANK = frozenset("\u115f\u1160\u3164\uffa0\u2800\u034f\u17b4\u17b5")
_OBEYED = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}


def literal(text: str) -> str:
    """Text from outside, shown as it is: what a terminal would obey is made visible instead."""
    if text.isascii() and text.isprintable():
        return text
    shown: list[str] = []
    marks = MAX_MARKS  # a mark that begins the text would sit on what stands before it
    for sign in text:
        marks = marks + 1 if unicodedata.category(sign) in _MARKS else 0
        shown.append(f"‹{ord(sign):04X}›" if marks > MAX_MARKS else _visible(sign))
    return "".join(shown)


def is_obeyed(sign: str) -> bool:
    """Whether a terminal may obey a sign instead of drawing it: controls, directions, joiners, what
    is no character."""
    return unicodedata.category(sign) in _OBEYED


def _visible(sign: str) -> str:
    if sign in "\n\r\t":
        return " "
    if is_obeyed(sign) or sign in _BLANK:
        return f"‹{ord(sign):04X}›"
    return sign


def literal_lines(text: str) -> str:
    """Text of several lines as it goes out: its lines stay, whatever else a terminal would obey is
    made visible."""
    return "\n".join(map(literal, text.split("\n")))


def json_safe(text: str) -> str:
    """JSON in which no sign stands raw that a terminal would obey: the same data, each of them as
    its escape.

    Such signs stand only in strings: between those JSON has line ends and spaces alone (RFC 8259,
    section 2).
    """
    if text.isascii() and "\x7f" not in text:
        return text
    return "".join(
        sign if sign == "\n" or not is_obeyed(sign) else _json_escape(sign) for sign in text
    )


def _json_escape(sign: str) -> str:
    """A sign as JSON escapes it: beyond the first plane as a pair (RFC 8259, section 7)."""
    code = ord(sign)
    if code < 0x10000:
        return f"\\u{code:04x}"
    return f"\\u{0xD800 + ((code - 0x10000) >> 10):04x}\\u{0xDC00 + ((code - 0x10000) & 0x3FF):04x}"


def begun(sentence: str) -> str:
    """A sentence with its first letter large, as behind a full stop."""
    return f"{sentence[:1].upper()}{sentence[1:]}"


def age(span: timedelta) -> str:
    """How long: ``40 min``, ``13 h``, ``2 d 4 h``; ``-40 min`` of what lies ahead, as where a clock
    was put back."""
    if span <= -timedelta(minutes=1):
        return f"-{age(-span)}"
    minutes = int(abs(span).total_seconds() // 60)
    if minutes < 100:
        return f"{minutes} min"
    hours = minutes // 60
    if hours < 48:
        return f"{hours} h"
    days, rest = divmod(hours, 24)
    if days >= 14 or not rest:
        return f"{days} d"
    return f"{days} d {rest} h"


def ago(then: datetime, now: datetime) -> str:
    """``13 h ago``, or ``in 20 min`` where it is still to come."""
    return f"in {age(then - now)}" if then > now else f"{age(now - then)} ago"


def clock(then: datetime, now: datetime, zone: tzinfo) -> str:
    """A time as short as it can be, on the keeper's clock."""
    return short(then.astimezone(zone), now.astimezone(zone).date())


def day_and_time(
    then: datetime, zone: tzinfo, now: datetime | None = None, *, year: bool = False
) -> str:
    """``Wed 25 Nov 07:42``; with the year where it is not that of now, or is asked for."""
    local = then.astimezone(zone)
    of_year = f"{local:%Y} " if year or (now and now.astimezone(zone).year != local.year) else ""
    return f"{local:%a} {local.day} {local:%b} {of_year}{local:%H:%M}"


def number(value: float, digits: int = 1) -> str:
    """A number without needless noughts: ``9``, ``21.4``."""
    text = f"{value:.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def cut_to(text: str, width: int) -> str:
    """Text that fits: a longer one ends in an ellipsis, at a word where one ends late enough."""
    if len(text) <= width:
        return text
    if width <= 1:
        return text[:width]
    return text[: width - 1].rstrip() + "…"


def day_in_words(at: date) -> str:
    """A day as it stands in a text: ``20 May 2026``."""
    return f"{at.day} {MONTHS[at.month - 1]} {at.year}"


MONTHS: tuple[str, ...] = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


def of_what_is_read(words: str, *, is_whole: bool) -> str:
    """Words that say what is not there; of a book that cannot be read wholly they hold only for
    what can be read of it."""
    first, stop, rest = words.partition(".")
    return words if is_whole else f"{first} in what can be read{stop}{rest}"
