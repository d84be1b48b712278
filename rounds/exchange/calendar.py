"""What is due as an iCalendar file (RFC 5545): rounds, checks between them, deadlines, when to leave be until, and from
when to when a hatch, a moult, a pupation or an emergence is expected.

Every instant is written in UTC, so that no clock change moves it. Each event keeps its name from one export to the next:
importing the file again moves and rewrites what is there instead of doubling it.
"""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, BinaryIO

from rounds.bench.state import Bench
from rounds.care.ahead.timeline import timeline
from rounds.care.checks import CHECKS
from rounds.care.due import Due, standing, why
from rounds.care.here import left_be_until
from rounds.care.moment import utc
from rounds.exchange.permits import permit_words
from rounds.exchange.source import Source
from rounds.views.ahead_page import item_why
from rounds.views.overdue_page import place_words
from rounds.views.words import count, day_and_time, literal

if TYPE_CHECKING:
    from icalendar import Component

PRODUCT = "-//rounds//husbandry rounds//EN"
A_LOOK = timedelta(minutes=15)
A_ROUND = timedelta(minutes=45)  # our estimate; it only says how long the entry is drawn
DEADLINES = frozenset({"release", "permit"})
WARNED = timedelta(hours=2)  # before a deadline
MOST_TOLD = 60  # checks in the words of one round


@dataclass(frozen=True, slots=True)
class Event:
    """One entry of the calendar: its lasting name, from when to when, what it says."""

    name: str
    start: datetime
    end: datetime
    title: str
    words: tuple[str, ...] = ()
    warn: bool = False


def write_calendar(source: Source, within: timedelta, out: BinaryIO) -> list[str]:
    """Write what comes within that span; how much it was is told."""
    from icalendar import Calendar

    calendar = Calendar()
    bench_name = literal(source.bench.settings.get("bench", "")) or "the bench"
    for name, value in (
        ("prodid", PRODUCT),
        ("version", "2.0"),
        ("calscale", "GREGORIAN"),
        ("x-wr-calname", f"rounds: {bench_name}"),
    ):
        calendar.add(name, value)
    book = source.entries[0].id if source.entries else ""
    number = 0
    for event in source.counted("events", events(source, within)):
        calendar.add_component(_component(event, book, source.moment.now))
        number += 1
    out.write(calendar.to_ical())
    return [f"{count(number, 'event')} until {day_and_time(source.moment.now + within, source.moment.zone)}"]


def events(source: Source, within: timedelta) -> Iterator[Event]:
    """Every event that comes within a span, the soonest first."""
    until = source.moment.now + within
    dues = source.desk.dues()
    found = [*_deadlines(source, dues), *_left_be(source), *_expected(source), *_checks(source, dues)]
    return iter(sorted((one for one in found if one.start <= until), key=lambda one: (one.start, one.name)))


def _checks(source: Source, dues: list[Due]) -> Iterator[Event]:
    """Checks that fall due together at a round stand in one entry, what is due already in another."""
    now, moment = utc(source.moment.now), source.moment
    together: dict[datetime, list[Due]] = {}
    for due in dues:
        if due.check in DEADLINES:
            continue
        at = max(due.due, due.put_off_until or due.due)
        if at <= now:
            together.setdefault(now, []).append(due)
        elif at == moment.next_anchor(at - timedelta(seconds=1)):
            together.setdefault(at, []).append(due)
        else:
            yield _check(source, due, at)
    for at, those in together.items():
        yield _round(source, those, at, now)


def _check(source: Source, due: Due, at: datetime) -> Event:
    told = why(due, source.bench, source.moment)
    words = (CHECKS[due.check].question, f"rule: {told.rule}", told.last, told.arithmetic, f"from: {told.source}")
    name = f"check:{due.place_kind}:{due.where}:{due.check}:{due.subject}"
    return Event(name, at, at + A_LOOK, f"{place_words(due)}: {CHECKS[due.check].verb}{_subject(due)}", words)


def _round(source: Source, dues: list[Due], at: datetime, now: datetime) -> Event:
    local = at.astimezone(source.moment.zone)
    if at == now:
        name, title = "due now", f"due now: {count(len(dues), 'check')}"
    else:
        anchors = {time: word for word, time in source.moment.anchors}
        word = anchors.get(local.time().replace(second=0, microsecond=0), "round")
        name, title = f"round:{local.date().isoformat()}:{word}", f"{word} round: {count(len(dues), 'check')}"
    lines = [_line(due, source) for due in sorted(dues, key=lambda due: (-due.severity, due.where, due.check))]
    if len(lines) > MOST_TOLD:
        lines = [*lines[:MOST_TOLD], f"and {len(lines) - MOST_TOLD} more"]
    return Event(name, at, at + A_ROUND, title, tuple(lines))


def _line(due: Due, source: Source) -> str:
    late = {"late": ", LATE", "red": ", LATE!"}.get(standing(due, source.moment.now), "")
    harm = f", in danger from {day_and_time(due.harm, source.moment.zone)}" if due.harm else ""
    return f"{place_words(due)}: {CHECKS[due.check].verb}{_subject(due)}{late}{harm}"


def _subject(due: Due) -> str:
    return f" {due.subject}" if due.subject and due.subject != due.where else ""


def _deadlines(source: Source, dues: list[Due]) -> Iterator[Event]:
    """When a female must be free, and when a permit ends."""
    for due in dues:
        if due.check not in DEADLINES or due.since is None:
            continue
        if due.check == "release":
            title = f"{place_words(due)}: {due.subject} must be free by now"
            words = tuple(_permits(source.bench, due.subject, source.moment.now))
        else:
            permit = source.bench.permits[due.subject]
            title = f"permit {permit.number} ends"
            words = (f"issued by {permit.body}",) if permit.body else ()
            words += (permit_words(source.bench, permit, source.moment.now),)
        yield Event(f"{due.check}:{due.subject}", due.since, due.since + A_LOOK, title, words, warn=True)


def _permits(bench: Bench, code: str, now: datetime) -> Iterator[str]:
    founder = bench.founders.get(code)
    permit = bench.permits.get(founder.permit) if founder else None
    if permit is not None:
        yield f"permit {permit.number}: {permit_words(bench, permit, now)}"


def _left_be(source: Source) -> Iterator[Event]:
    """When a container may be opened and moved again."""
    for container in source.bench.standing():
        until = left_be_until(container, source.moment.now)
        if until is not None:
            reason = (container.leave_be_why,) if container.leave_be_why else ()
            title = f"{container.code}: need not be left be any longer"
            yield Event(f"left be:{container.code}", utc(until), utc(until) + A_LOOK, title, reason)


def _expected(source: Source) -> Iterator[Event]:
    """From when to when animals are expected to make a change, with what that rests on."""
    moment, desk = source.moment, source.desk
    for item in timeline(source.bench, moment, desk.foresight, ()):
        one = item.coming
        if one is None or one.first is None or one.last is None or one.last < moment.now:
            continue
        title = f"{item.where}: {item.what} of {count(item.number, 'animal')} expected, {item.subject}"
        first, half, last = (day_and_time(at, moment.zone) for at in (one.first, one.half or one.first, one.last))
        when = f"the first about {first}, half by {half}, the last by {last}"
        words = (when, *(line.text for line in item_why(source.bench, item, moment)[1:]))
        name = f"expected:{item.where}:{item.what}:{one.brood}:{one.instar}"
        yield Event(name, utc(one.first), max(utc(one.last), utc(one.first) + A_LOOK), title, words)


def uid_of(book: str, name: str) -> str:
    """A name that lasts, as RFC 7986 5.3 wants it: of this book and this event, the same at every export."""
    return str(uuid.uuid5(uuid.NAMESPACE_URL, f"urn:x-rounds:calendar:{book}:{name}"))


def _component(event: Event, book: str, now: datetime) -> Component:
    from icalendar import Alarm
    from icalendar import Event as Entry

    component = Entry()
    stamp = utc(now).replace(microsecond=0)
    values: Iterable[tuple[str, object]] = (
        ("uid", uid_of(book, event.name)),
        ("dtstamp", stamp),
        ("last-modified", stamp),
        ("sequence", int(stamp.timestamp()) // 60),  # a later export takes the place of an earlier one
        ("dtstart", _second(event.start)),
        ("dtend", _second(event.end)),
        ("summary", literal(event.title)),
        ("description", "\n".join(literal(line) for line in event.words if line)),
        ("transp", "TRANSPARENT"),
        ("class", "PRIVATE"),
    )
    for name, value in values:
        if value != "":
            component.add(name, value)
    if event.warn:
        alarm = Alarm()
        for name, value in (("action", "DISPLAY"), ("description", literal(event.title)), ("trigger", -WARNED)):
            alarm.add(name, value)
        component.add_component(alarm)
    return component


def _second(at: datetime) -> datetime:
    return at.astimezone(UTC).replace(microsecond=0)
