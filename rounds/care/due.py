"""Every check of the bench with its hours: when due, amber, red, and when an animal is in danger.

The hours are absolute and do not depend on now, but for rounds that went by; words are only made when asked.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime, timedelta
from typing import Literal

from msgspec import Struct

from rounds.bench.kinds import PutOff
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench, Container, Host, Moat
from rounds.care.checks import ANSWERED_BY, CHECKS
from rounds.care.moment import Moment
from rounds.care.plan import Plan, Rule, plan_of

PlaceKind = Literal["container", "shelf", "room", "book"]
GRACE = timedelta(hours=4)  # a round begun this long ago without it is late
BAD_MOAT = frozenset({"dry", "bridged", "breached"})
WARM_C, DANGER_C, COLD_C = 30.0, 33.0, 18.0  # starter defaults; our estimate


class Due(Struct, frozen=True):
    """One check of one place.

    All instants have an offset. ``last`` is the entry that answered it last. ``subject`` is the founder, brood
    or plant that it is about, where it is about one.
    """

    where: str
    place_kind: PlaceKind
    check: str
    due: datetime
    amber: datetime | None = None
    red: datetime | None = None
    harm: datetime | None = None
    severity: int = 1
    rule: Rule | None = None
    since: datetime | None = None
    last: Entry | None = None
    put_off_until: datetime | None = None
    subject: str = ""
    reason: str = ""  # what was seen that makes it pressing


class Why(Struct, frozen=True):
    """Why a check stands as it does."""

    rule: str
    last: str
    arithmetic: str
    source: str


Standing = Literal["ahead", "due", "late", "red"]


def standing(due: Due, now: datetime) -> Standing:
    """Whether a check is ahead, due, late (amber) or red. One put off is ahead until then."""
    if due.put_off_until is not None and due.put_off_until > now:
        return "ahead"
    if due.red is not None and now >= due.red:
        return "red"
    if due.amber is not None and now >= due.amber:
        return "late"
    return "due" if now >= due.due else "ahead"


def time_left(due: Due, now: datetime) -> timedelta | None:
    """How long until harm is likely; below zero where that has passed; None where no harm is expected."""
    return None if due.harm is None else due.harm - now


class _Desk(Struct):
    """What every check of one reckoning shares."""

    bench: Bench
    moment: Moment
    now: datetime
    put_off: dict[tuple[str, str], PutOff]


def _after(start: datetime, hours: float | None) -> datetime | None:
    return None if hours is None else start + timedelta(hours=hours)


def _last_answer(container: Container, check: str) -> Entry | None:
    newest: Entry | None = None
    last = container.last
    for kind in ANSWERED_BY[check]:
        entry = last.get(kind)
        if entry is not None and (newest is None or entry.at > newest.at):
            newest = entry
    return newest


def _made(
    desk: _Desk,
    container: Container,
    rule: Rule,
    start: datetime,
    last: Entry | None = None,
    subject: str = "",
    due: datetime | None = None,
    reason: str = "",
    red: datetime | None = None,
) -> Due:
    """A check whose hours count from ``start``."""
    amber = _after(start, rule.amber_h)
    if due is None:
        due = _due_after(desk, rule, start)
    if rule.each_round and amber is None:
        amber = due + GRACE
        red = red or desk.moment.next_anchor(due)
    put_off = desk.put_off.get((rule.check, container.code)) if desk.put_off else None
    return Due(
        container.code,
        "container",
        rule.check,
        due,
        amber,
        red or _after(start, rule.red_h),
        _after(start, rule.harm_h),
        CHECKS[rule.check].severity,
        rule,
        start,
        last,
        put_off.until if put_off else None,
        subject,
        reason,
    )


def _due_after(desk: _Desk, rule: Rule, last: datetime) -> datetime:
    if rule.each_round:
        return desk.moment.next_unserved(last)
    if rule.daily:
        return desk.moment.next_daily(last)
    return _after(last, rule.every_h) or last


def _since_stage(container: Container, stage: str) -> datetime:
    newest = container.since
    for lot in container.lots:
        if (not stage or lot.stage == stage) and lot.since is not None and lot.since > newest:
            newest = lot.since
    return newest


def _plain(desk: _Desk, container: Container, rule: Rule) -> Due:
    last = _last_answer(container, rule.check)
    start = container.since
    if last is not None and last.at > start:
        start = last.at
    elif rule.stage:
        start = _since_stage(container, rule.stage)
    return _made(desk, container, rule, start, last)


def _drink(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    if not container.females:
        return None
    last = container.last.get("drank")
    fresh = min((lot.since for lot in container.lots if lot.stage == "adult" and lot.since), default=None)
    start = container.all_drank or fresh or container.since
    first = container.all_drank is None and container.purpose in ("emergence", "pupation")
    due = start + timedelta(hours=24) if first else None
    return _made(desk, container, rule, start, last, due=due)


def _host(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    host = container.oldest_cut
    if rule.condition == "no host":
        if host is not None or not container.females:
            return None
        return _made(desk, container, rule, container.since)
    if host is None or not _kept_as(host, rule.condition):
        return None
    last = _last_answer(container, "host")
    looked = last.at if last else host.put_in
    known = desk.bench.plants.get(host.plant, {}).get(host.kept)
    life = known.hours if known else rule.amber_h
    amber = _after(host.cut, life)
    red = host.cut + timedelta(hours=known.hours * 1.5) if known else _after(host.cut, rule.red_h)
    bad = next((one for one in container.hosts if one.state != "fresh"), None)
    reason = f"{bad.plant} seen {bad.state}" if bad else ""
    if bad and bad.seen:
        amber = min(amber, bad.seen) if amber else bad.seen
    due = desk.moment.next_unserved(looked)
    if amber is not None and amber < due:
        due = amber
    return Due(
        container.code, "container", "host", due, amber, red, None, CHECKS["host"].severity, rule, host.cut, last,
        _put_off(desk, "host", container.code), host.plant, reason,
    )  # fmt: skip


def _kept_as(host: Host, condition: str) -> bool:
    return {
        "host cut dry": host.kept in ("dry", "damp paper"),
        "host in water": host.kept in ("water", "fridge"),
        "host potted": host.kept == "potted",
    }[condition]


def _put_off(desk: _Desk, check: str, where: str) -> datetime | None:
    put_off = desk.put_off.get((check, where))
    return put_off.until if put_off else None


def _eggs(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    if not container.females:
        return None
    return _plain(desk, container, rule)


def _change(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    if not container.females or not container.hosts:
        return None
    first = min(host.put_in for host in container.hosts if host.plant == container.hosts[-1].plant)
    start = max(_since_stage(container, "adult"), first)
    if container.eggs_found is not None and container.eggs_found >= start:
        return None
    return _made(desk, container, rule, start)


def _look(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    if rule.stage and not any(lot.stage == rule.stage for lot in container.lots):
        return None
    if not container.lots and not container.held:
        return None
    return _plain(desk, container, rule)


def _leaf(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    if container.sign != "darkening" or container.sign_since is None or not container.count("egg"):
        return None
    food = container.last.get("host in")
    if food is not None and food.at >= container.sign_since - timedelta(hours=12):
        return None
    return _made(desk, container, rule, container.sign_since, reason="eggs are darkening")


def _held(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    if not container.held:
        return None
    newest = max(held.taken_out for held in container.held)
    if rule.check == "keep":
        oldest = min(held.taken_out for held in container.held)
        return _made(desk, container, rule, oldest, subject=container.held[0].plant)
    last = _last_answer(container, "frass")
    return _made(desk, container, rule, max(newest, last.at) if last else newest, last)


def _is_last_instar(bench: Bench, container: Container) -> bool:
    for lot in container.lots:
        if lot.stage == "larva":
            taxon = bench.taxa.get(bench.taxon_of(lot.brood))
            if lot.instar >= (taxon.instars if taxon else 5):
                return True
    return False


def _age_of_larvae(bench: Bench, container: Container) -> str:
    instars = [lot.instar for lot in container.lots if lot.stage == "larva"]
    if not instars:
        return ""
    if _is_last_instar(bench, container):
        return "last instar"
    return "L3-L4" if max(instars) >= 3 else "L1-L2"


def _food(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    age = _age_of_larvae(desk.bench, container)
    if not age or not _larvae_feed(container):
        return None
    wanted = age if container.hosts else "unfed"
    if rule.condition != wanted:
        return None
    last = _last_answer(container, "food")
    arrived = _since_stage(container, "larva")
    start = max(last.at, container.since) if last and container.hosts else arrived
    short = next((host for host in container.hosts if host.left in ("none", "little") or host.state == "eaten"), None)
    if short is None or short.seen is None:
        return _made(desk, container, rule, start, last)
    bare = short.left == "none" or short.state == "eaten"
    made = _made(desk, container, rule, start, last, due=short.seen, reason="bare" if bare else "little left")
    return Due(
        made.where, made.place_kind, made.check, made.due, short.seen,
        short.seen if bare else made.red, made.harm, made.severity, rule, start, last, made.put_off_until,
        short.plant, made.reason,
    )  # fmt: skip


def _larvae_feed(container: Container) -> bool:
    """Larvae that hang or wander have stopped feeding; those that are still will feed again."""
    return container.sign not in ("hanging", "wandering") and container.purpose != "overwintering"


def _clean(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    if _age_of_larvae(desk.bench, container) != rule.condition:
        return None
    return _plain(desk, container, rule)


def _with_stage(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    if not any(lot.stage == rule.stage for lot in container.lots):
        return None
    return _plain(desk, container, rule)


def _from_arrival(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    """Hours from when the stage was reached; resting stock is never late for age."""
    lots = [lot for lot in container.lots if lot.stage == rule.stage]
    if not lots:
        return None
    for lot in lots:
        taxon = desk.bench.taxa.get(desk.bench.taxon_of(lot.brood))
        if taxon and taxon.overwinters_as == rule.stage:
            return None
    return _made(desk, container, rule, min(lot.since or container.since for lot in lots), subject=lots[0].brood)


def _still(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    if container.sign not in ("still", "hanging") or container.sign_since is None:
        return None
    return _made(desk, container, rule, container.sign_since, container.last.get("looked"), reason=container.sign)


def _wings(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    if container.sign != "wings not up" or container.sign_since is None:
        return None
    return _made(desk, container, rule, container.sign_since, reason="wings not up")


def _quarantine(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    if container.last.get("cleared") is not None or not container.lots:
        return None
    return _made(desk, container, rule, container.since)


def _lamp(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    if container.lamp_since is None:
        return None
    return _made(desk, container, rule, container.lamp_since)


def _store(desk: _Desk, container: Container, rule: Rule) -> Due | None:
    host = container.oldest_cut
    if host is None:
        return None
    last = _last_answer(container, "store")
    looked = last.at if last else host.put_in
    due = _due_after(desk, rule, looked)
    return Due(
        container.code, "container", "store", due, _after(host.cut, rule.amber_h), _after(host.cut, rule.red_h), None,
        1, rule, host.cut, last, _put_off(desk, "store", container.code), host.plant,
    )  # fmt: skip


_BY_CHECK: dict[str, Callable[[_Desk, Container, Rule], Due | None]] = {
    "drink": _drink,
    "feeder": lambda desk, container, rule: _plain(desk, container, rule) if container.females else None,
    "host": _host,
    "eggs": _eggs,
    "change": _change,
    "look": _look,
    "leaf": _leaf,
    "frass": _held,
    "keep": _held,
    "food": _food,
    "clean": _clean,
    "air": _with_stage,
    "mist": _with_stage,
    "count": _with_stage,
    "hatch late": _from_arrival,
    "emerge late": _from_arrival,
    "still": _still,
    "wings": _wings,
    "quarantine": _quarantine,
    "lamp": _lamp,
    "store": _store,
}


def _of_container(desk: _Desk, plan: Plan, container: Container, found: list[Due]) -> None:
    left_be = container.leave_be_until is not None and container.leave_be_until > desk.now
    for rule in plan.rules_for(container):
        reckon = _BY_CHECK.get(rule.check)
        if reckon is None or (left_be and CHECKS[rule.check].disturbs):
            continue
        due = reckon(desk, container, rule)
        if due is not None:
            found.append(due)


def _moat_due(desk: _Desk, rule: Rule, where: str, kind: PlaceKind, moat: Moat, since: datetime) -> Due:
    seen = moat.seen or since
    due = desk.moment.next_unserved(seen)
    amber, red, harm = _after(seen, rule.amber_h), _after(seen, rule.red_h), None
    reason = ""
    if moat.ants_above or moat.state in BAD_MOAT:
        due, amber, red = seen, seen, seen
        harm = seen + timedelta(hours=2)
        reason = "ants above the water" if moat.ants_above else f"seen {moat.state}"
    elif moat.state in ("low", "dirty"):
        due, amber, reason = seen, seen, f"seen {moat.state}"
    return Due(
        where, kind, "ants", due, amber, red, harm, CHECKS["ants"].severity, rule, seen, None,
        _put_off(desk, "ants", where), "", reason,
    )  # fmt: skip


def _barriers(desk: _Desk, plan: Plan, found: list[Due]) -> None:
    rule = plan.rule_of("ants")
    if rule is None:
        return
    in_use: set[str] = set()
    for container in desk.bench.standing():
        whose, barrier, moat = desk.bench.moat_of(container)
        if barrier not in ("moat", "sticky band"):
            continue
        if whose == container.code:
            found.append(_moat_due(desk, rule, container.code, "container", moat, container.since))
            continue
        in_use.add(whose)
        if moat.ants_above:
            found.append(_moat_due(desk, rule, container.code, "container", moat, container.since))
    for shelf in desk.bench.shelves.values():
        if shelf.name in in_use and shelf.barrier in ("moat", "sticky band"):
            since = min(one.since for one in desk.bench.standing() if one.shelf == shelf.name)
            found.append(_moat_due(desk, rule, shelf.name, "shelf", shelf.moat, since))


def _shortfalls(desk: _Desk, plan: Plan, found: list[Due]) -> None:
    rule = plan.rule_of("balance")
    if rule is None:
        return
    for one in desk.bench.shortfalls:
        container = desk.bench.at(one.container)
        if container:
            reason = f"{one.number} {one.stage} of {one.brood} not seen"
            found.append(_made(desk, container, rule, one.at, subject=one.brood, reason=reason))


def _deadlines(desk: _Desk, plan: Plan, found: list[Due]) -> None:
    rule = plan.rule_of("release")
    if rule is not None:
        for code, entry in desk.bench.release_by.items():
            container = next((one for one in desk.bench.standing() if one.lots_of(brood=code)), desk.bench.at(code))
            if container is None:
                continue
            due = entry.until - timedelta(hours=12)
            put_off = _put_off(desk, "release", container.code)
            found.append(
                Due(container.code, "container", "release", due, due, entry.until, entry.until, 3, rule, entry.at,
                    entry, put_off, code)
            )  # fmt: skip
    rule = plan.rule_of("permit")
    if rule is not None:
        for permit in desk.bench.permits.values():
            if permit.expires:
                due = permit.expires - timedelta(days=7)
                amber = permit.expires - timedelta(days=1)
                found.append(
                    Due("", "book", "permit", due, amber, permit.expires, None, 2, rule, permit.at, permit,
                        _put_off(desk, "permit", ""), permit.number)
                )  # fmt: skip


def _room(desk: _Desk, plan: Plan, found: list[Due]) -> None:
    rule = plan.rule_of("room")
    readings = desk.bench.air.get("", [])
    last = readings[-1] if readings else None
    if rule is not None and desk.bench.containers:
        since = last.at if last else min(one.since for one in desk.bench.containers.values())
        due = desk.moment.next_unserved(since)
        put_off = _put_off(desk, "room", "")
        found.append(Due("", "room", "room", due, due + GRACE, None, None, 1, rule, since, last, put_off))
    rule = plan.rule_of("heat")
    if rule is None:
        return
    for place, known in desk.bench.air.items():
        reading = known[-1]
        container = desk.bench.at(place)
        if place and container is None and place not in desk.bench.shelves:
            continue
        if container and container.purpose in ("overwintering", "holding", "host store"):
            continue
        if reading.temperature_c is None or (reading.temperature_c < WARM_C and reading.temperature_c >= COLD_C):
            continue
        kind: PlaceKind = "container" if container else ("shelf" if place else "room")
        warm = reading.temperature_c >= WARM_C
        danger = reading.temperature_c >= DANGER_C
        red = reading.at if danger else None
        harm = reading.at + timedelta(hours=2) if danger else None
        reason = f"read {reading.temperature_c:g} C" + ("" if warm else ", too cold to lay")
        put_off = _put_off(desk, "heat", place)
        found.append(
            Due(place, kind, "heat", reading.at, reading.at, red, harm, 3 if danger else 1, rule, reading.at, reading,
                put_off, "", reason)
        )  # fmt: skip


def _solution(desk: _Desk, plan: Plan, found: list[Due]) -> None:
    rule = plan.rule_of("solution")
    if rule is None or not any(one.females for one in desk.bench.standing()):
        return
    for food, made in desk.bench.food_made.items():
        found.append(
            Due("", "book", "solution", _after(made, rule.every_h) or made, _after(made, rule.amber_h),
                _after(made, rule.red_h), None, 1, rule, made, None, _put_off(desk, "solution", ""), food)
        )  # fmt: skip


def all_dues(bench: Bench, moment: Moment, plan: Plan | None = None) -> list[Due]:
    """Every check of the bench, due or ahead, in no particular order."""
    plan = plan or plan_of(bench)
    put_off = {(one.check, one.container or one.shelf): one for one in bench.put_off if one.until > moment.now}
    desk = _Desk(bench, moment, moment.now, put_off)
    found: list[Due] = []
    for container in bench.standing():
        _of_container(desk, plan, container, found)
    for part in (_barriers, _shortfalls, _deadlines, _room, _solution):
        part(desk, plan, found)
    return found


def dues_of(bench: Bench, moment: Moment, code: str, dues: Iterable[Due] | None = None) -> list[Due]:
    """The checks of one container."""
    known = all_dues(bench, moment) if dues is None else dues
    return [due for due in known if due.place_kind == "container" and due.where == code]


def why(due: Due, bench: Bench, moment: Moment) -> Why:
    """Why a check stands as it does: the rule, the last entry, the arithmetic, the source."""
    del bench
    check = CHECKS[due.check]
    rule = due.rule
    often = f"{check.label} {rule.words} (plan)" if rule else check.question
    last = f"last {due.last.what}, {_local(due.last.at, moment)}, {due.last.by or '-'}" if due.last else "not yet done"
    parts = []
    if due.reason:
        parts.append(due.reason)
    if due.since is not None:
        parts.append(f"since {_local(due.since, moment)}, {_span(moment.now - due.since)} ago")
    for name, at in (("due", due.due), ("amber", due.amber), ("red", due.red), ("danger from about", due.harm)):
        if at is not None and not (name == "due" and due.since and at <= due.since):
            parts.append(f"{name} {_local(at, moment)}")
    if due.put_off_until and due.put_off_until > moment.now:
        parts.append(f"put off until {_local(due.put_off_until, moment)}")
    missed = moment.missed_since(due.since) if rule and rule.each_round and due.since else 0
    if missed:
        parts.append(f"{missed} {'round' if missed == 1 else 'rounds'} missed")
    return Why(often, last, ", ".join(parts), rule.basis if rule else "asked by the keeper")


def _local(at: datetime, moment: Moment) -> str:
    local, today = at.astimezone(moment.zone), moment.now.astimezone(moment.zone).date()
    if local.date() == today:
        return f"{local:%H:%M}"
    return f"{local:%a %H:%M}" if abs((local.date() - today).days) < 7 else f"{local.day} {local:%b %H:%M}"


def _span(span: timedelta) -> str:
    minutes = int(span.total_seconds() // 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours} h {minutes:02d}" if hours < 72 else f"{hours // 24} d {hours % 24} h"
