"""The calendar as an iCalendar file (RFC 5545).

Every instant is written in UTC, so that no clock change moves it; a span of whole days has dates.
Each event keeps its name from one export to the next: taking the file in again moves and rewrites
what is there instead of doubling it, and cancels what no longer holds, unless the book is not
whole.
"""

from __future__ import annotations

import uuid
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, BinaryIO

from rounds.bench.plurals import count
from rounds.checks.round_clock import utc
from rounds.exchange.calendar_events import Event, events
from rounds.exchange.calendar_gone import gone
from rounds.exchange.source import Source
from rounds.views.words import day_and_time, literal

if TYPE_CHECKING:
    from icalendar import Component

PRODUCT = "-//rounds//husbandry rounds//EN"
# RFC 5545 3.3.8; a line by a clock that was ahead by a lifetime would go beyond it
MAX_SEQUENCE = 2**31 - 1
# sequences count from here [s]; the standard's integers hold 68 years of them
_FIRST = datetime(2020, 1, 1, tzinfo=UTC)


def write_calendar(source: Source, within: timedelta, out: BinaryIO) -> list[str]:
    """Write what comes within that span; how much it was is told."""
    from icalendar import Calendar

    calendar = Calendar()
    bench_name = literal(source.bench.settings.get("bench", "")) or "the bench"
    _fill(
        calendar,
        prodid=PRODUCT,
        version="2.0",
        calscale="GREGORIAN",
        x_wr_calname=f"rounds: {bench_name}",
    )
    until = source.moment.now + within
    result = list(source.counted("events", events(source, within)))
    # What a line said that cannot be read now may hold still, though nothing that is left gives it.
    # A book without a line gave no calendar: one that was exported before was of what is not here.
    is_whole = bool(source.entries) and not source.desk.gaps
    cancelled = list(gone(source, {event.name for event in result}, until)) if is_whole else []
    sequence = _sequence(source)
    for event in result:
        calendar.add_component(_component(event, source, sequence, "CONFIRMED"))
    for event in cancelled:
        calendar.add_component(_component(event, source, sequence, "CANCELLED"))
    out.write(calendar.to_ical())
    text = (
        f"{count(len(result), 'event')} until"
        f" {day_and_time(until, source.moment.zone, source.moment.now)}"
    )
    if source.desk.gaps:
        return [
            f"{text}; nothing is cancelled, for the book is not whole and what is missing of it may"
            " hold"
        ]
    if not source.entries:
        return [f"{text}; nothing is cancelled, for the book has no line"]
    return [f"{text}; {len(cancelled)} that may stand in a calendar from before are cancelled"]


def uid_of(book: str, name: str) -> str:
    """A name that lasts, as RFC 7986 5.3 wants it: of this book and this event, the same at every
    export."""
    return str(uuid.uuid5(uuid.NAMESPACE_URL, f"urn:x-rounds:calendar:{book}:{name}"))


def _sequence(source: Source) -> int:
    """How new this export is: it grows with time and with each line of the book, also where a clock
    was set back.

    Lines that are gone, or cannot be read now, count as before: what says that the book is not
    whole is the newest.
    """
    newest = max((entry.logged for entry in source.entries), default=_FIRST)
    seconds = int((max(utc(source.moment.now), utc(newest)) - _FIRST).total_seconds())
    return min(
        MAX_SEQUENCE, max(0, seconds) + max(len(source.entries), source.desk.book.most_lines())
    )


def _component(event: Event, source: Source, sequence: int, status: str) -> Component:
    from icalendar import Alarm
    from icalendar import Event as Entry

    component = Entry()
    stamp = utc(source.moment.now).replace(microsecond=0)
    start, end = event.whole_days or (_second(event.start), _second(event.start + event.lasts))
    _fill(
        component,
        uid=uid_of(source.book, event.name),
        dtstamp=stamp,
        last_modified=stamp,
        sequence=sequence,  # a later export takes the place of an earlier one
        status=status,
        dtstart=start,
        dtend=end,
        summary=literal(event.title),
        description="\n".join(literal(line) for line in event.words if line),
        transp="TRANSPARENT",
    )
    component.add("class", "PRIVATE")
    if event.warn is not None:
        alarm = Alarm()
        _fill(alarm, action="DISPLAY", description=literal(event.title), trigger=-event.warn)
        component.add_component(alarm)
    return component


def _fill(component: Component, **values: object) -> None:
    """Say what a part of the calendar has, under the names of the standard; nothing of what is
    empty."""
    for name, value in values.items():
        if value != "":
            component.add(name.replace("_", "-"), value)


def _second(at: datetime) -> datetime:
    return at.astimezone(UTC).replace(microsecond=0)
