"""When eggs that come in were laid, as a line says it: ``laid 28 May``, ``laid 28 to 30 May``."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import datetime, timedelta

from rounds import late
from rounds.app.holdings import says_kinds
from rounds.entries.phrase.dates import words_of
from rounds.entries.phrase.tokens import Word

TimeAt = Callable[[list[Word], datetime], tuple[int, datetime | None, str]]

ONE_DAY = timedelta(days=1)
MARK = "laid="  # one word of a line: laid=FROM/TO
TWICE = "laid twice"
_LAID = late.pattern(
    r"[\s,]+laid\s+(?P<since>since\s+)?(?:(?:on|at|about|around|from|between|the)\s+)*",
    re.IGNORECASE,
)
_TWO_DAYS = late.pattern(
    r"(?P<first>\d{1,2})\.?\s*(?:-|\u2013|to|until|till|and)\s*"
    r"(?P<second>\d{1,2}\.?\s+(?P<month>[A-Za-z]{3,9}))\b",
    re.IGNORECASE,
)
_BEFORE = "eggs are laid before they come in, and on the earlier day first"
_TO = frozenset({"to", "until", "till", "and", "-", "\u2013"})
_OF_DAYS = late.pattern(r"^-[\d.]+d$")


def with_laid_marked(text: str, now: datetime, time_at: TimeAt) -> tuple[str, str]:
    """The line with each time of laying as one word, and what is not clear of one.

    A date without an hour is any time of that day, two are from the first to the end of the second.

    Args:
        time_at: how many words in front are a time, which, and what is not clear of it.
    """
    begin, mark, days, since_before = 0, "", [""], now
    while found := _LAID.search(text, begin):
        before, behind = text[: found.start()], text[found.end() :]
        if two := _TWO_DAYS.match(behind):
            behind = f"{two['first']} {two['month']} to {two['second']}{behind[two.end() :]}"
        taken, rest, unclear = _taken(behind, now, time_at)
        if unclear:
            return text, unclear
        if taken is None:
            begin = found.end()
            continue
        since, until = taken
        joined, _, others = rest.partition(" ")
        if joined.lower() in _TO:
            second, others, unclear = _taken(others, now, time_at)
            if unclear:
                return text, unclear
            if second is not None:
                until, rest = second[1], others
        until = now if found["since"] else min(until, now)
        on = behind[: len(behind) - len(rest)].strip(" ,")
        if mark and not says_kinds(before.rpartition(mark)[2]):
            days = [on, *days] if since < since_before else [*days, on]
            first, last = days[0].partition(" to ")[0], days[1].rpartition(" to ")[2]
            line = before.replace(mark, f" laid {first} to {last}").removesuffix(" and").strip(" ,")
            return text, f"{TWICE}, {' and '.join(days)}; as: {line} {rest}".rstrip()
        since_before, days = since, [on]
        if since > until:
            return text, _BEFORE
        mark = f" {_marked(since, until)}"
        text = f"{before}{mark}{rest and ' '}{rest}"
        begin = len(before) + len(mark)
    return text, ""


def laid_twice(text: str, now: datetime, time_at: TimeAt) -> str:
    """That eggs are said to be laid at two times, of which one would be lost; '' of any other
    line."""
    _, unclear = with_laid_marked(text.partition(" -- ")[0], now, time_at)
    return unclear if unclear.startswith(TWICE) else ""


def laid_by(text: str, at: datetime) -> tuple[str, str]:
    """A line in which it is so marked, of eggs that came in at a time: none was laid after that;
    and what is not clear of it."""
    words = text.split(" ")
    for place, word in enumerate(words):
        _, laid = laid_in([word])
        if laid and laid[0] > at:
            return text, _BEFORE
        if laid and laid[1] > at:
            words[place] = _marked(laid[0], at) + "," * word.endswith(",")
    return " ".join(words), ""


def _marked(since: datetime, until: datetime) -> str:
    return f"{MARK}{since.isoformat()}/{until.isoformat()}"


def laid_in(words: list[str]) -> tuple[list[str], tuple[datetime, datetime] | None]:
    """The words without one so marked, and between when the eggs were laid."""
    marked = next((word for word in words if word.startswith(MARK) and "/" in word), "")
    if not marked:
        return words, None
    since, _, until = marked.removeprefix(MARK).rstrip(",").partition("/")
    others = [word for word in words if word is not marked]
    return others, (datetime.fromisoformat(since), datetime.fromisoformat(until))


def _taken(
    text: str, now: datetime, time_at: TimeAt
) -> tuple[tuple[datetime, datetime] | None, str, str]:
    """Between when a time is with which a text begins, the text behind it, and what is not
    clear."""
    words = words_of(text)
    length, at, unclear = time_at(words, now)
    if not length or at is None:
        return None, text, unclear
    rest = text[words[length].at :].lstrip(" ,") if length < len(words) else ""
    said = [word.text for word in words[:length]]
    if any(":" in word for word in said) or (said[0][:1] == "-" and not _OF_DAYS.match(said[0])):
        return (at, at), rest, ""
    day = at.astimezone(now.tzinfo).replace(hour=0, minute=0, second=0, microsecond=0)
    return (day, day + ONE_DAY - timedelta(minutes=1)), rest, ""
