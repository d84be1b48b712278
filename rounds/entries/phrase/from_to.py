"""The hours from when to when: ``paired 14:20-15:40``, ``searched 4 7:00 to 7:20``."""

from __future__ import annotations

from datetime import timedelta

from rounds import late
from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.tokens import Word
from rounds.entries.phrase.values import CLOCK
from rounds.entries.schema import KindSchema

_BOTH = late.pattern(r"^(\d{1,2}:\d\d)[-\u2013](\d{1,2}:\d\d)$")
_TO = frozenset({"to", "until", "till", "-", "\u2013"})
_DAY_MIN = 24 * 60


def set_end_aside(reader: Reader, described: KindSchema) -> timedelta | None:
    """Take the hour at which it ended out of a line, where the kind has a field for it or for how
    long it took; how long it took, under a day."""
    until = described.field("until")
    if not described.field("minutes") and (until is None or until.required):
        return None
    words = reader.words
    for place in range(reader.place, len(words)):
        both = None if words[place].quoted else _BOTH.match(words[place].text)
        three = words[place : place + 3]
        apart = len(three) == 3 and three[1].lower in _TO and not any(one.quoted for one in three)
        if both:
            first, last, length = both[1], both[2], 1
        elif apart and CLOCK.match(three[0].text) and CLOCK.match(three[2].text):
            first, last, length = three[0].text, three[2].text, 3
        else:
            continue
        words[place : place + length] = [Word(first, words[place].at)]
        return timedelta(minutes=(_minutes(last) - _minutes(first)) % _DAY_MIN)
    return None


def put_end(reader: Reader, described: KindSchema, lasted: timedelta | None) -> None:
    """Put down how long it took, or until when it was."""
    if lasted is None or reader.at is None:
        return
    if described.field("minutes"):
        reader.fields.setdefault("minutes", lasted / timedelta(minutes=1))
    else:
        reader.fields.setdefault("until", reader.at + lasted)


def _minutes(clock: str) -> int:
    hour, _, minutes = clock.partition(":")
    return int(hour) * 60 + int(minutes[:2])
