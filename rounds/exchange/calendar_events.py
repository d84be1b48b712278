"""What stands in the calendar: every round, what is due now, deadlines, when a cup may be opened
again, hatches to come.

An event has a name that lasts, made of what it is about and not of when it comes, or of its day
where it is a round: taken in again it moves. What an earlier export may have said and no longer
holds is worked out from the book itself (``calendar_gone.py``), so that nothing need be remembered.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from rounds.bench.folding.stage_completions import STAGE_BEFORE
from rounds.bench.permits import expires_on
from rounds.bench.plurals import count
from rounds.bench.state import Bench
from rounds.checks import leaf, release
from rounds.checks.due_state import Due, comes
from rounds.checks.facts import left_be_until
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment, utc
from rounds.checks.timeline import timeline
from rounds.exchange.permits import permit_words
from rounds.exchange.source import Source
from rounds.views.ahead_page import SHOULD_HAVE, is_past, item_why
from rounds.views.gaps import NOT_WHOLE
from rounds.views.states import WORSE_THAN_DUE, place_words, state_of
from rounds.views.words import day_and_time

A_LOOK = timedelta(minutes=15)
A_ROUND = timedelta(minutes=45)  # our estimate; it only says how long the entry is drawn
A_DAY = timedelta(days=1)
BOOK_NOT_WHOLE = "book not whole"
# what is due so soon after a round begins is done in it; our estimate
WITHIN_A_ROUND = timedelta(hours=2)
# how far ahead a round rings; an export of fewer days cancels the rounds beyond them up to here
ALARMED = timedelta(days=7)
WARNED = timedelta(hours=2)  # before a deadline
EVENING_BEFORE = timedelta(hours=6)  # before the midnight at which a whole day begins
AT_ITS_BEGIN = timedelta(0)
MAX_TOLD = 60  # checks in the words of one round


@dataclass(frozen=True, slots=True)
class Event:
    """One entry of the calendar.

    Args:
        name: its lasting name.
        lasts: how long it takes; where ``whole_days``, these are the first local day and the day
        after the last.
        warn: how long before its start an alarm rings; None for none.
    """

    name: str
    start: datetime
    title: str
    words: tuple[str, ...] = ()
    warn: timedelta | None = None
    whole_days: tuple[date, date] | None = None
    lasts: timedelta = A_LOOK


def events(source: Source, within: timedelta) -> Iterator[Event]:
    """Every event that holds: rounds and hatches of the span, deadlines however far ahead; the
    soonest first."""
    until = source.moment.now + within
    dues = source.desk.dues()
    bare = {due.where for due in dues if due.check == leaf.CHECK.name}
    ahead = [event for event in _expected(source, bare) if event.start <= until]
    result = [
        *_not_whole(source),
        *_deadlines(source, dues),
        *_not_disturbed(source),
        *ahead,
        *_rounds(source, dues, until),
    ]
    return iter(sorted(result, key=lambda one: (one.start, one.name)))


def _not_whole(source: Source) -> Iterator[Event]:
    """That the calendar may lack something, in the calendar itself."""
    if gaps := source.desk.gaps:
        title = f"{NOT_WHOLE}: this calendar may lack something"
        yield Event(BOOK_NOT_WHOLE, source.moment.now, title, tuple(gaps), AT_ITS_BEGIN)


def round_name(begin: datetime, moment: Moment) -> tuple[str, str]:
    """A round's lasting name, and its word: ``morning``."""
    local = begin.astimezone(moment.zone)
    anchors = {time: word for word, time in moment.anchors}
    word = anchors.get(local.time().replace(second=0, microsecond=0), "round")
    return f"round:{local.date().isoformat()}:{word}", word


def round_begins(moment: Moment, since: datetime, until: datetime) -> list[datetime]:
    """When every round of a span begins."""
    instants = []
    begin = moment.next_anchor(since)
    while begin <= until:
        instants.append(begin)
        begin = moment.next_anchor(begin)
    return instants


def _rounds(source: Source, dues: list[Due], until: datetime) -> Iterator[Event]:
    """Each round to which checks fall, with these, and what is due before the first of them."""
    moment, now = source.moment, utc(source.moment.now)
    begins = round_begins(moment, now, until)
    listed: dict[datetime, dict[str, None]] = {begin: {} for begin in begins}
    harmed: dict[datetime, list[Due]] = {begin: [] for begin in begins}
    at_once: list[Due] = []
    between: list[tuple[datetime, Due]] = []
    urgent_now: list[Due] = []
    next_round = moment.next_anchor(now)
    for due in sorted(dues, key=lambda one: (-one.severity, one.where, one.check)):
        if CHECKS[due.check].has_limit:
            continue
        at = comes(due, now)
        pressing = min(
            (instant for instant in (due.urgent, due.danger) if instant is not None), default=None
        )
        if at <= now:
            at_once.append(due)
            if due.danger is not None and now < due.danger < next_round:
                between.append((max(now, due.danger - WARNED), due))
            first = now
        elif pressing is not None and pressing < next_round:
            between.append((at, due))
            first = now
        else:
            first = max(_round_for(moment, at, pressing), next_round)
        words = _what(due)
        for begin in _times(due, first, begins, moment):
            if begin in listed:
                listed[begin][words] = None
        if due.danger is not None:
            last = moment.previous_anchor(due.danger)  # the last round before it
            if last <= now:
                urgent_now.append(due)
            elif last in harmed and last <= now + ALARMED:
                harmed[last].append(due)
    yield from _before_the_next(source, at_once, between, urgent_now, now)
    for begin in begins:
        name, word = round_name(begin, moment)
        danger = [_danger(due, moment) for due in harmed[begin]]
        if not danger and not listed[begin]:
            continue
        title = f"{word} round: {count(len(listed[begin]), 'check')}"
        title += f", {len(danger)} in danger after it" if danger else ""
        checks, warn = _capped([*danger, *listed[begin]]), AT_ITS_BEGIN if danger else None
        yield Event(name, begin, title, checks, warn, lasts=A_ROUND)


def _before_the_next(
    source: Source,
    at_once: list[Due],
    between: list[tuple[datetime, Due]],
    urgent: list[Due],
    now: datetime,
) -> Iterator[Event]:
    """What is due already, and what presses before the next round comes."""
    if at_once:
        lines = _capped([_line(due, source) for due in at_once])
        warn = AT_ITS_BEGIN if any(due in urgent for due in at_once) else None
        title = f"due now: {count(len(at_once), 'check')}"
        yield Event("due now", now, title, lines, warn, lasts=A_ROUND)
    if between:
        first = min(at for at, _ in between)
        lines = tuple(
            f"{_line(due, source)}, from {day_and_time(at, source.moment.zone, source.moment.now)}"
            for at, due in between
        )
        warn = AT_ITS_BEGIN if any(due in urgent for _, due in between) else None
        title = f"before the next round: {count(len(between), 'check')}"
        yield Event("between", first, title, lines, warn)


def _round_for(moment: Moment, at: datetime, pressing: datetime | None) -> datetime:
    """The round in which a check is done: the one that has just begun, or the next, unless it
    presses before that."""
    following, before = moment.next_anchor(at - timedelta(seconds=1)), moment.previous_anchor(at)
    if at - before <= WITHIN_A_ROUND or (pressing is not None and pressing < following):
        return before
    return following


def _times(due: Due, first: datetime, begins: list[datetime], moment: Moment) -> list[datetime]:
    """The rounds that a check falls to, taken to be done each time."""
    rule, check = due.rule, CHECKS[due.check]
    once = (
        rule is None
        or check.own_end
        or check.closes == "gone"
        or rule.before_limit
        or rule.computed
    )
    if rule is not None and not once and rule.each_round:
        return begins[bisect_left(begins, first) :]
    hours = 24.0 if rule is not None and rule.daily else rule.every_h if rule is not None else None
    instants = [first]
    while not once and hours:
        at = _round_for(moment, instants[-1] + timedelta(hours=hours), None)
        if at > (begins[-1] if begins else first):
            break
        instants.append(max(at, moment.next_anchor(instants[-1])))
    return instants


def _capped(lines: list[str]) -> tuple[str, ...]:
    if len(lines) > MAX_TOLD:
        return (*lines[:MAX_TOLD], f"and {len(lines) - MAX_TOLD} more")
    return tuple(lines)


def _danger(due: Due, moment: Moment) -> str:
    assert due.danger is not None
    danger = day_and_time(due.danger, moment.zone, moment.now)
    return f"{_what(due)}, in danger from {danger} unless it is done before"


def _line(due: Due, source: Source) -> str:
    state = state_of(due, source.moment.now)
    late = f", {state}" if state in WORSE_THAN_DUE else ""
    since = " since" if state == "in danger" else ", in danger from"
    harm = ""
    if due.danger:
        harm = f"{since} {day_and_time(due.danger, source.moment.zone, source.moment.now)}"
    return f"{_what(due)}{late}{harm}"


def _what(due: Due) -> str:
    subject = f" {due.subject}" if due.subject and due.subject != due.where else ""
    place, label = place_words(due), CHECKS[due.check].label
    return place if label == place else f"{place}: {label}{subject}"


def _deadlines(source: Source, dues: list[Due]) -> Iterator[Event]:
    """When a female must be free, and when a permit ends."""
    for due in dues:
        if not CHECKS[due.check].has_limit or due.since is None:
            continue
        days = None
        if due.check == release.CHECK.name:
            title = f"{place_words(due)}: {due.subject} must be free by now"
            words = tuple(_permits(source.bench, due.subject, source.moment.now))
        else:
            permit = source.bench.permits[due.subject]
            title = f"permit {permit.number} ends"
            last = expires_on(permit)
            if last is not None and not isinstance(last, datetime):
                title, days = f"permit {permit.number}: its last day", (last, last + A_DAY)
            words = (f"issued by {permit.body}",) if permit.body else ()
            words += (permit_words(source.bench, permit, source.moment.now),)
        yield Event(f"{due.check}:{due.subject}", due.since, title, words, WARNED, days)


def _permits(bench: Bench, code: str, now: datetime) -> Iterator[str]:
    founder = bench.founders.get(code)
    permit = bench.permits.get(founder.permit) if founder else None
    if permit is not None:
        yield f"permit {permit.number}: {permit_words(bench, permit, now)}"


def _not_disturbed(source: Source) -> Iterator[Event]:
    """When a container may be opened and moved again."""
    for container in source.bench.standing():
        until = left_be_until(container, source.moment.now)
        if until is not None and (container.lots or container.held):
            reason = (container.leave_be_why,) if container.leave_be_why else ()
            title = f"{container.code}: 'do not disturb' ends"
            yield Event(f"left be:{container.code}", utc(until), title, reason)


def _expected(source: Source, bare: Collection[str]) -> Iterator[Event]:
    """The days on which animals are expected to make a change, as spans of whole days, with what
    that rests on; of a change that should have happened, today.

    Args:
        bare: containers in which the young would find no leaf: an alarm rings on the evening before
            their hatch.
    """
    moment = source.moment
    seen: dict[str, int] = {}
    for item in timeline(source.bench, moment, source.desk.foresight, ()):
        change = item.coming
        if change is None or change.first is None or change.last is None:
            continue
        was = is_past(item, moment.now)
        expected = SHOULD_HAVE if was else "expected"
        title = (
            f"{item.where}: {item.what} of {count(item.number, 'animal')} {expected},"
            f" {item.subject}"
        )
        first, half, last = (
            day_and_time(at, moment.zone, moment.now)
            for at in (change.first, change.half or change.first, change.last)
        )
        when = f"the first about {first}, half by {half}, the last by {last}"
        words = (when, *(line.text for line in item_why(source.bench, item, moment)[1:]))
        plain = expected_name(item.where, STAGE_BEFORE[item.what], change.brood, change.instar)
        seen[plain] = seen.get(plain, 0) + 1
        name = numbered(plain, seen[plain])
        # what nobody saw happen stands on today until it is on record
        begin, end = (moment.now, moment.now) if was else (change.first, change.last)
        days = (
            begin.astimezone(moment.zone).date(),
            end.astimezone(moment.zone).date() + A_DAY,
        )
        ahead = item.what == "hatch" and item.where in bare and not was
        warn = EVENING_BEFORE if ahead else None
        words = (f"{_leaf_words(source, item.where)} by morning", *words) if warn else words
        yield Event(name, utc(begin), title, words, warn, days)


def _leaf_words(source: Source, where: str) -> str:
    """That the young will find no leaf; of a plant that is in it is not known."""
    container = source.bench.at(where)
    plants = dict.fromkeys(host.plant for host in container.hosts) if container else {}
    if container is None or not container.has_food:
        return "no leaf is in yet: they starve without one"
    return (
        f"{' and '.join(plants)} is in, whether with a tender leaf is not on record: they starve"
        " without one"
    )


def expected_name(where: str, stage: str, brood: str, instar: int) -> str:
    """The lasting name of the change that ends a stage of a brood in a container."""
    return f"expected:{where}:{stage}:{brood}:{instar}"


def numbered(name: str, place: int) -> str:
    """The name of the second and later changes that have the same: of several lots alike, and of a
    moult and the pupation."""
    return name if place == 1 else f"{name}:{place}"
