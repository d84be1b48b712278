"""Which instants an entry may have.

An instant near the ends of the calendar cannot be told in another zone, nor have a span added; none
is a keeper's.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import cache

import msgspec

from rounds.entries.base import Entry

FIRST_YEAR, LAST_YEAR = 1900, 2199
# a clock in a wrong zone; what is said to have happened later than that waits
COUNTS_AHEAD = timedelta(hours=3)


def is_possible(at: datetime) -> bool:
    """Whether an instant can be an entry's."""
    return FIRST_YEAR <= at.year <= LAST_YEAR


def impossible(at: datetime) -> str:
    """What is wrong with an instant, and what would be right."""
    return f"the year {at.year} cannot be; times go from {FIRST_YEAR} to {LAST_YEAR}"


@cache
def instants_of(kind: type[Entry]) -> tuple[str, ...]:
    """The fields of a kind that hold an instant, besides when it happened and was typed."""
    texts = []
    for field_info in msgspec.structs.fields(kind):
        if field_info.name not in ("at", "logged") and "datetime" in str(field_info.type):
            texts.append(field_info.name)
    return tuple(texts)


def wrong_instant(entry: Entry) -> str:
    """What is wrong with one of an entry's instants; empty where all are right."""
    at, logged, others = entry.at, entry.logged, instants_of(type(entry))
    if not others and at.tzinfo and logged.tzinfo and is_possible(at) and is_possible(logged):
        return ""  # nearly every line of a book, each of which is looked at
    for name in ("at", "logged", *others):
        instant = getattr(entry, name)
        if instant is None:
            continue
        if instant.tzinfo is None:
            return "its times have no offset from UTC"
        if not is_possible(instant):
            return impossible(instant)
    return ""
