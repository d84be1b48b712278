"""How most checks are reckoned: from their last answer, or from when a sign was first seen; and how a ``Due`` is made."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from rounds.bench.kinds import AnyEntry
from rounds.bench.kinds.base import Entry
from rounds.checks.due_context import Here, Reckoning, Timed, applies_from
from rounds.checks.due_state import Due, PlaceKind
from rounds.checks.round_clock import EARLY, utc

GRACE = timedelta(hours=4)  # a check of the round is late this long after the round began; our estimate


def plain(reckoning: Reckoning, here: Here, rule: Timed) -> Due:
    """Counts from its last answer, or from when it began to apply where that is later."""
    last = newest(here.container.last, rule.kinds)
    if last is not None and (at := last.at.astimezone(UTC)) >= here.settled:
        return make_due(reckoning, here, rule, at, last)
    start = applies_from(reckoning, here, rule)
    if last is not None and at > start:
        start = at
    return make_due(reckoning, here, rule, start, last)


def from_sign(reckoning: Reckoning, here: Here, rule: Timed) -> Due:
    """Counts from when the sign on the card was first seen."""
    start = sign_since(here)
    return make_due(reckoning, here, rule, start, reason=here.container.sign, seen=start)


def sign_since(here: Here) -> datetime:
    """Since when the sign on the card stands there."""
    return utc(here.container.sign_since or here.container.since)


def newest(said: dict[str, AnyEntry], kinds: tuple[str, ...]) -> Entry | None:
    """The newest entry of some kinds."""
    found: Entry | None = None
    for kind in kinds:
        if kind in said and (found is None or said[kind].at > found.at):
            found = said[kind]
    return found


def make_due(
    reckoning: Reckoning,
    here: Here,
    rule: Timed,
    start: datetime,
    last: Entry | None = None,
    due: datetime | None = None,
    subject: str = "",
    reason: str = "",
    seen: datetime | None = None,
    amber_at: datetime | None = None,
    red_at: datetime | None = None,
) -> Due:
    """A check of a container whose hours count from ``start``, in UTC.

    Args:
        due, amber_at, red_at: where the rule alone does not say it.
        seen: when what the reason tells was seen; a putting-off from before that no longer holds.
    """
    amber, red, harm = rule.amber, rule.red, rule.harm
    late: datetime | None
    worst: datetime | None
    if rule.each_round and amber is None:
        unserved, following = reckoning.moment.next_two(start + EARLY)
        due = due or unserved
        late = due + GRACE
        worst = following if red is None else start + red
    else:
        due = due or next_asked(reckoning, rule, start)
        late = None if amber is None else start + amber
        worst = None if red is None else start + red
    return Due(
        here.code,
        "container",
        rule.check,
        due,
        amber_at or late,
        red_at or worst,
        None if harm is None else start + harm,
        rule.severity,
        rule.rule,
        start,
        last,
        put_off_until(reckoning, here.code, rule.check, seen) if here.put_off else None,
        subject,
        reason,
    )


def make_place_due(
    reckoning: Reckoning,
    rule: Timed,
    kind: PlaceKind,
    where: str,
    start: datetime,
    last: Entry | None = None,
    due: datetime | None = None,
    subject: str = "",
    reason: str = "",
    seen: datetime | None = None,
    amber_at: datetime | None = None,
    red_at: datetime | None = None,
    harm_at: datetime | None = None,
) -> Due:
    """A check of any place whose hours count from ``start``, in UTC; without more it is due by its hours alone."""
    return Due(
        where,
        kind,
        rule.check,
        due or start + rule.every,
        amber_at or after(start, rule.amber),
        red_at or after(start, rule.red),
        harm_at or after(start, rule.harm),
        rule.severity,
        rule.rule,
        start,
        last,
        put_off_until(reckoning, where, rule.check, seen),
        subject,
        reason,
    )


def make_limit_due(
    reckoning: Reckoning,
    rule: Timed,
    kind: PlaceKind,
    where: str,
    until: datetime,
    last: Entry,
    subject: str,
    reason: str = "",
    harm_at: datetime | None = None,
) -> Due:
    """A check of what must be over by a time: its hours count back from that."""
    amber = None if rule.amber is None else until - rule.amber
    red = None if rule.red is None else until - rule.red
    due = until - rule.every
    return make_place_due(reckoning, rule, kind, where, until, last, due, subject, reason, None, amber, red, harm_at)


def next_asked(reckoning: Reckoning, rule: Timed, last: datetime) -> datetime:
    """When a check is due that was answered at ``last``."""
    if rule.daily:
        return reckoning.moment.next_daily(last)
    return reckoning.moment.next_unserved(last) if rule.each_round else last + rule.every


def put_off_until(reckoning: Reckoning, where: str, check: str, seen: datetime | None = None) -> datetime | None:
    """Until when a check was put off, unless what makes it pressing was seen after that."""
    put_off = reckoning.put_off.get(where, {}).get(check)
    if put_off is None or (seen is not None and seen > put_off.at):
        return None
    return utc(put_off.until)


def after(start: datetime, span: timedelta | None) -> datetime | None:
    """An instant so long after another; None where no span is given."""
    return None if span is None else start + span
