"""How most checks are reckoned: from their last answer, or from when a sign was first seen; and how
a ``Due`` is made."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import UTC, datetime, timedelta
from typing import cast

from msgspec import Struct
from msgspec.structs import replace

from rounds.bench.plants_of import taxa_in, with_plants_for
from rounds.bench.state import Bench, Container, Lot
from rounds.checks.due_state import Due, PlaceKind
from rounds.checks.facts import (
    L3_L4,
    LAST_INSTAR,
    ContainerContext,
    DueContext,
    PlanRule,
    arrived,
    purpose_began,
)
from rounds.checks.round_clock import EARLY, Moment, utc
from rounds.checks.rule import Rule
from rounds.entries.base import Entry
from rounds.entries.registry import AnyEntry, HostIn

# a check of the round is late this long after the round began; our estimate
GRACE = timedelta(hours=4)
NOBODY_SAID = "no earlier time is on record"


class TimedRule(Struct, frozen=True, gc=False):
    """A rule made ready: its hours as spans, the kinds of entry that answer it, and what of its
    check it wants.

    ``about`` says which adults it is about, if not all; ``purposes`` are those of all rules of the
    check.
    """

    rule: Rule
    check: str
    kinds: tuple[str, ...]
    severity: int
    every: timedelta
    late: timedelta | None
    urgent: timedelta | None
    danger: timedelta | None
    each_round: bool
    daily: bool
    about: Callable[[DueContext, Lot], bool] | None
    purposes: frozenset[str]


Reckoner = Callable[[ContainerContext, TimedRule], Due | None]


def with_hours(rule: TimedRule, other: PlanRule) -> TimedRule:
    """A check by another rule, with that one's hours."""
    every, late, worst, harm = (
        None if hours is None else timedelta(hours=hours)
        for hours in (other.every_h or 0, other.amber_h, other.red_h, other.harm_h)
    )
    rules = cast("Rule", other)
    return replace(rule, rule=rules, every=every, late=late, urgent=worst, danger=harm)


def plain(context: ContainerContext, rule: TimedRule) -> Due:
    """Counts from its last answer, or from when it began to apply where that is later."""
    last = newest(context.container.last, rule.kinds)
    began = rule.rule.when.began
    settled = context.settled
    if began is not None and (word := began(context.container)) is not None:
        settled = max(settled, utc(word))
    if last is not None and (at := last.at.astimezone(UTC)) >= settled:
        return make_due(context, rule, at, last)
    start = applies_from(context, rule)
    if last is not None and at > start:
        start = at
    return make_due(context, rule, start, last)


def from_sign(context: ContainerContext, rule: TimedRule) -> Due:
    """Counts from when the sign on the card was first seen."""
    start = sign_since(context)
    last = newest(context.container.last, rule.kinds)
    return make_due(context, rule, start, last, reason=context.container.sign, seen=start)


def sign_since(context: ContainerContext) -> datetime:
    """Since when the sign on the card stands there."""
    return utc(context.container.sign_since or context.container.since)


def newest(said: dict[str, AnyEntry], kinds: tuple[str, ...]) -> Entry | None:
    """The newest entry of some kinds."""
    entry: Entry | None = None
    for kind in kinds:
        if kind in said and (entry is None or said[kind].at > entry.at):
            entry = said[kind]
    return entry


def make_due(
    context: ContainerContext,
    rule: TimedRule,
    start: datetime,
    last: Entry | None = None,
    due: datetime | None = None,
    subject: str = "",
    reason: str = "",
    seen: datetime | None = None,
    late_at: datetime | None = None,
    urgent_at: datetime | None = None,
    stands: datetime | None = None,
) -> Due:
    """A check of a container whose hours count from ``start``, in UTC.

    Args:
        due, late_at, urgent_at: where the rule alone does not say it.
        seen: when what the reason tells was seen; a putting-off from before that no longer holds.
        stands: since when what it looks at is there: it is no sooner late than that tells.
    """
    begun = start if stands is None else max(start, stands)
    late, worst = after(begun, rule.late), after(begun, rule.urgent)
    if rule.each_round and rule.late is None:
        unserved, following = context.moment.next_two(start + EARLY)
        due = due or unserved
        late, worst = due + GRACE, worst or following
    else:
        due = due or next_asked(context.moment, rule, start)
        if rule.daily and late is not None:
            late = max(late, due + GRACE)  # its round may begin after those hours, or just before
    reckoning, code = context.reckoning, context.code
    late, worst = late_at or late, urgent_at or worst
    return make_place_due(
        reckoning, rule, "container", code, start, last, due, subject, reason, seen, late, worst
    )


def make_place_due(
    reckoning: DueContext,
    rule: TimedRule,
    kind: PlaceKind,
    where: str,
    start: datetime,
    last: Entry | None = None,
    due: datetime | None = None,
    subject: str = "",
    reason: str = "",
    seen: datetime | None = None,
    late_at: datetime | None = None,
    urgent_at: datetime | None = None,
    danger_at: datetime | None = None,
) -> Due:
    """A check of any place whose hours count from ``start``, in UTC; without more it is due by its
    hours alone."""
    late, worst = late_at or after(start, rule.late), urgent_at or after(start, rule.urgent)
    due, late, worst = in_order(due or start + rule.every, late, worst)
    harm = danger_at or after(start, rule.danger)
    until = put_off_until(reckoning, where, rule.check, seen) if reckoning.put_off else None
    made = where, kind, rule.check, due, late, worst, harm, rule.severity, rule.rule
    return Due(*made, start, last, until, subject, reason)


def in_order(
    due: datetime, late: datetime | None, urgent: datetime | None
) -> tuple[datetime, datetime | None, datetime | None]:
    """The three hours of a check, each no later than the next: what is urgent is late, and what is
    late is due."""
    if urgent is not None and late is not None:
        late = min(late, urgent)
    first = late or urgent
    return due if first is None else min(due, first), late, urgent


def make_limit_due(
    reckoning: DueContext,
    rule: TimedRule,
    kind: PlaceKind,
    where: str,
    until: datetime,
    last: Entry,
    subject: str,
    reason: str = "",
    danger_at: datetime | None = None,
) -> Due:
    """A check of what must be over by a time: its hours count back from that."""
    due, (late, urgent) = (
        until - rule.every,
        (None if span is None else until - span for span in (rule.late, rule.urgent)),
    )
    return make_place_due(
        reckoning,
        rule,
        kind,
        where,
        until,
        last,
        due,
        subject,
        reason,
        None,
        late,
        urgent,
        danger_at,
    )


def _nobody_said_when(due: Due, bench: Bench) -> bool:
    """Whether a check counts from no time that the keeper gave: it was never answered, nor did its
    clock come along from where the animals or stems were before their container stood.

    A list says since when a container stands, not when it was fed.
    """
    if due.last is not None:
        return isinstance(due.last, HostIn) and due.last.listed
    place = bench.at(due.where) if due.place_kind == "container" else None
    return place is None or due.since is None or due.since >= utc(place.since)


def known_since(due: Due, bench: Bench, moment: Moment) -> datetime | None:
    """When what a check is about was written down, before which nobody could be asked; None where
    that says nothing.

    A container or shelf may be said to stand since long before; a time of writing by a clock that
    was ahead hides no check.
    """
    place = bench.at(due.where) if due.place_kind == "container" else bench.shelves.get(due.where)
    logged = place.logged if place is not None else bench.began
    return utc(logged) if logged is not None and moment.passed(logged) else None


def asked_since_known(due: Due, known: datetime | None, bench: Bench) -> Due:
    """A check that fell due before its place was written down, and counts from no time that the
    keeper gave: it is due then, and as long after that late and worse, never at once.

    What was seen to be wrong, or forecast to be over, by then is late at once. Limits stay at their
    times.

    Args:
        known: when its place was written down, as ``known_since`` has it.
    """
    if known is None or due.due >= known or due.is_limit:
        return due
    if not _nobody_said_when(due, bench):
        return due
    at_once = due.reason or (due.rule is not None and due.rule.computed)
    later = timedelta(0) if at_once else known - due.due
    late, urgent, danger = (
        None if at is None else max(known, at + later) for at in (due.late, due.urgent, due.danger)
    )
    if late == known and not at_once:
        late = known + GRACE if urgent is None else min(known + GRACE, urgent)
    lasts = "" if at_once else NOBODY_SAID
    return replace(
        due, due=known, late=late, urgent=urgent, danger=danger, lasts=lasts or due.lasts
    )


def next_asked(moment: Moment, rule: TimedRule, last: datetime) -> datetime:
    """When a check is due that was answered at ``last``."""
    if rule.daily:
        return moment.next_daily(last)
    return moment.next_unserved(last) if rule.each_round else last + rule.every


def put_off_until(
    reckoning: DueContext, where: str, check: str, seen: datetime | None = None
) -> datetime | None:
    """Until when a check was put off, unless what makes it pressing was seen after that."""
    put_off = reckoning.put_off.get(where, {}).get(check)
    if put_off is None or (seen is not None and seen > put_off.at):
        return None
    return utc(put_off.until)


def after(start: datetime, span: timedelta | None) -> datetime | None:
    """An instant so long after another; None where no span is given."""
    return None if span is None else start + span


def applies_from(context: ContainerContext, timed: TimedRule) -> datetime:
    """When a rule began to apply: the container in its place, its purpose, animals of the stage and
    instar."""
    rule, container, start = timed.rule, _about(context, timed), context.begun
    for at in (
        purpose_began(container, rule.purposes),
        _grown(context, container, rule) or arrived(container, rule.stage),
        rule.when.began(container) if rule.when.began is not None else None,
    ):
        if at is not None and at > start:
            start = utc(at)
    return start


def by_species(context: ContainerContext, rule: TimedRule) -> list[ContainerContext]:
    """A container as it is for each species there that a rule is about, where a plant in it is not
    for all of them; else as it is."""
    bench, container = context.bench, context.container
    if len(container.lots) < 2 or not container.hosts:
        return [context]
    taxa = taxa_in(bench, container)
    if len(taxa) < 2:
        return [context]
    seen = {
        taxon: with_plants_for(bench, container, taxon, context.reckoning.on_record)
        for taxon in taxa
    }
    if all(one is container for one in seen.values()):
        return [context]
    alone: list[ContainerContext] = []
    for taxon, one in seen.items():
        lots = [lot for lot in container.lots if bench.taxon_of(lot.brood) == taxon]
        if any(lot.stage == rule.rule.stage for lot in lots):
            oldest = min(one.hosts, key=lambda host: utc(host.cut), default=None)
            view = replace(one, lots=lots)
            alone.append(replace(context, container=view, host=oldest))
    return alone


def most_pressing(dues: Iterable[Due | None]) -> Due | None:
    """Of what is due of several species the one that is first in danger, urgent, late or due."""
    known = [due for due in dues if due is not None]
    return min(
        known,
        key=lambda due: min(filter(None, (due.due, due.late, due.urgent, due.danger))),
        default=None,
    )


def begins_to_need(
    context: ContainerContext, rule: TimedRule, since: datetime | None = None
) -> datetime:
    """When animals here began to need what a check asks about: hunger and thirst go on when a
    purpose changes for another under which they are fed too, and where they began before the
    animals came, at ``since``."""
    came = max(context.begun, arrived(_about(context, rule), rule.rule.stage) or context.begun)
    woken = purpose_began(context.container, rule.purposes)
    return max(filter(None, (since or came, woken)))


def _grown(context: ContainerContext, container: Container, rule: Rule) -> datetime | None:
    """When the first larvae here reached the instar that a rule is about; None where it goes by
    none, or it is not known."""
    least = 3 if rule.when == L3_L4 else 0
    instants: list[datetime] = []
    for lot in container.lots if least or rule.when == LAST_INSTAR else ():
        wanted = least or context.reckoning.species[lot.brood].instars
        if lot.stage == "larva" and lot.instar >= wanted and lot.since and lot.came:
            # Those that moulted since are past it for longer than their moult tells.
            instants.append(utc(max(lot.since, lot.came) if lot.instar == wanted else lot.came))
    return min(instants, default=None)


def _about(context: ContainerContext, rule: TimedRule) -> Container:
    """A container with only the animals that a check is about."""
    container, about, stage = context.container, rule.about, rule.rule.stage
    if about is None or stage != "adult" or len(container.lots) < 2:
        return container
    lots = [lot for lot in container.lots_of("adult") if about(context.reckoning, lot)]
    return replace(container, lots=lots)
