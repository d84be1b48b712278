"""When the checks are due that belong to no single container: barriers, what was not seen, limits, room, solution."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime, timedelta

from rounds.bench.kinds import Air
from rounds.bench.kinds.base import Barrier, Entry
from rounds.bench.measures import measures_of
from rounds.bench.permits import ends_at, to_be_freed
from rounds.bench.state import PLURALS, Bench, Container, Moat
from rounds.care.ahead.tonight import is_closed, sill_spans
from rounds.care.animals import GRACE
from rounds.care.here import Reckoning, Timed, arrived, timed
from rounds.care.moment import EARLY, utc
from rounds.care.plan import Plan
from rounds.care.spoken import local
from rounds.care.standing import Due, PlaceKind

FAILED = frozenset({"dry", "bridged", "breached"})
WANTING = frozenset({"low", "dirty"})
ASKED: frozenset[Barrier] = frozenset({"moat", "sticky band"})
WASHED_EVERY = timedelta(days=7)  # common practice, no source
WARM_C, DANGER_C, COLD_C = 30.0, 33.0, 18.0  # starter defaults; our estimate
READING_LASTS = timedelta(hours=24)
LAYING = frozenset({"laying", "pairing", "trial"})
COOL = frozenset({"holding", "overwintering", "host store"})


class _Rules:
    """The rules of checks that do not go by stage, ready for each container, shelf, room and book."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._known: dict[tuple[str, str, str, str], Timed | None] = {}

    def of(self, check: str, condition: str, container: Container | None = None) -> Timed | None:
        """The rule as it stands for a container, else for the book; None where it is off."""
        purpose = container.purpose if container is not None else ""
        own = container.code if container is not None and container.code in self._plan.own_codes else ""
        key = check, condition, purpose, own
        if key not in self._known:
            rule = self._plan.rule(check, condition, container)
            self._known[key] = timed(rule) if rule is not None else None
        return self._known[key]


def of_places(reckoning: Reckoning, plan: Plan) -> list[Due]:
    """Every check that is not a container's by its stage."""
    rules, found = _Rules(plan), list[Due]()
    for part in (_barriers, _not_seen, _limits, _room, _heat, _sunlit, _solution):
        part(reckoning, rules, found)
    return found


def _put_off(reckoning: Reckoning, where: str, check: str, seen: datetime | None = None) -> datetime | None:
    put_off = reckoning.put_off.get(where, {}).get(check)
    if put_off is None or (seen is not None and seen > put_off.at):
        return None
    return utc(put_off.until)


def _after(start: datetime, span: timedelta | None) -> datetime | None:
    return None if span is None else start + span


def _barriers(reckoning: Reckoning, rules: _Rules, found: list[Due]) -> None:
    """One check for each barrier that guards something; an ant above the water shows at all that it guards."""
    bench = reckoning.bench
    asked = {name: shelf for name, shelf in bench.shelves.items() if shelf.barrier in ASKED}
    first: dict[str, Container] = {}
    for container in bench.standing():
        if container.barrier in ASKED:
            _append(found, _barrier(reckoning, rules, container.code, "container", container.moat, container))
            continue
        if container.inside:
            whose, barrier, moat = bench.moat_of(container)
            if barrier not in ASKED:
                continue
        elif container.shelf in asked:
            whose, moat = container.shelf, asked[container.shelf].moat
        else:
            continue
        if whose not in first or (moat.seen is None and _on_shelf(container) < _on_shelf(first[whose])):
            first[whose] = container
        if moat.ants_above:
            _append(found, _barrier(reckoning, rules, container.code, "container", moat, container, whose))
    for name, container in first.items():
        if name in asked:
            _append(found, _barrier(reckoning, rules, name, "shelf", asked[name].moat, container))


def _append(found: list[Due], due: Due | None) -> None:
    if due is not None:
        found.append(due)


def _barrier(
    reckoning: Reckoning,
    rules: _Rules,
    where: str,
    kind: PlaceKind,
    moat: Moat,
    container: Container,
    whose: str = "",
) -> Due | None:
    seen = _guarded_since(reckoning.bench, where, kind, moat, container)
    own = container if kind == "container" else None
    last = _last_seen(container) if own is not None and not whose else None
    bad = bool(moat.ants_above) or moat.state in FAILED
    rule = rules.of("ants", "barrier failed" if bad else "barrier", own)
    if rule is None:
        return None
    due = _each(reckoning, rule, seen)
    amber, red = _after(seen, rule.amber), _after(seen, rule.red)
    reason, pressing = "", None
    if bad:
        reason, pressing = "ants above the water" if moat.ants_above else f"seen {moat.state}", seen
    elif moat.state in WANTING:
        due, amber, reason, pressing = seen, seen, f"seen {moat.state}", seen
    elif (low := reckoning.foresight.moat(moat, reckoning.moment.now)) is not None and low.low_at is not None:
        low_at = utc(low.low_at)
        when = local(low_at, reckoning.moment)
        reason = f"about {low.by_now_mm:.0f} mm by now, low ({low.low_mm:g} mm) {when}, from {low.loss.rests_on}"
        due, amber = min(due, low_at), low_at if amber is None else min(amber, low_at)
        if low.dry_at is not None:
            red = utc(low.dry_at) if red is None else min(red, utc(low.dry_at))
    if not bad and moat.state not in WANTING and seen - utc(moat.washed or container.since) > WASHED_EVERY:
        reason = f"not washed for a week; {reason}".removesuffix("; ")
    put_off = _put_off(reckoning, where, "ants", pressing) if reckoning.put_off else None
    return Due(
        where, kind, "ants", due, amber, red, _after(seen, rule.harm), rule.severity, rule.rule, seen, last, put_off,
        whose, reason,
    )  # fmt: skip


def _on_shelf(container: Container) -> datetime:
    """Since when a container stands where it stands."""
    return utc(max(container.since, container.shelf_since or container.since))


def _guarded_since(bench: Bench, where: str, kind: PlaceKind, moat: Moat, container: Container) -> datetime:
    """When a barrier was last seen; or, where that is later or never was, when it came to be there."""
    since = bench.shelves[where].barrier_since if kind == "shelf" else container.barrier_since
    seen = utc(moat.seen) if moat.seen is not None else _on_shelf(container)
    return seen if since is None else max(seen, utc(since))


def _each(reckoning: Reckoning, rule: Timed, seen: datetime) -> datetime:
    return reckoning.moment.next_two(seen + EARLY)[0] if rule.each_round else seen + rule.every


def _last_seen(container: Container) -> Entry | None:
    seen, topped = container.last.get("barrier"), container.last.get("topped up")
    if seen is None or topped is None:
        return seen or topped
    return max(seen, topped, key=lambda entry: entry.at)


def _not_seen(reckoning: Reckoning, rules: _Rules, found: list[Due]) -> None:
    """One check a container and brood of which some were not seen, until it is settled."""
    bench = reckoning.bench
    open_ones: dict[tuple[str, str], tuple[datetime, int, str]] = {}
    for one in bench.shortfalls:
        at, number, _ = open_ones.get((one.container, one.brood), (utc(one.at), 0, one.stage))
        open_ones[one.container, one.brood] = min(at, utc(one.at)), number + one.number, one.stage
    for (where, brood), (at, number, stage) in open_ones.items():
        container = bench.at(where)
        rule = rules.of("balance", "not seen", container) if container is not None else None
        if rule is not None:
            words = PLURALS[stage] if number != 1 else stage
            found.append(
                Due(where, "container", "balance", at + rule.every, _after(at, rule.amber), _after(at, rule.red),
                    _after(at, rule.harm), rule.severity, rule.rule, at, None,
                    _put_off(reckoning, where, "balance", at), brood, f"{number} {words} of {brood} not seen")
            )  # fmt: skip


def _limits(reckoning: Reckoning, rules: _Rules, found: list[Due]) -> None:
    """What must be over by a time: a female's release, a permit."""
    bench = reckoning.bench
    wanted = to_be_freed(bench)
    where = _containers_of(bench, wanted)
    for code, free in wanted.items():
        rule = rules.of("release", "limit", bench.at(where[code])) if code in where else None
        if rule is not None:
            found.append(_limit(reckoning, rule, where[code], "container", utc(free.until), free.entry, code, free.reason))
    rule = rules.of("permit", "limit")
    for permit in bench.permits.values():
        ends = ends_at(permit)
        if ends is not None and not permit.closed and rule is not None:
            found.append(_limit(reckoning, rule, "", "book", utc(ends), permit, permit.number))


def _containers_of(bench: Bench, wanted: Collection[str]) -> dict[str, str]:
    """Where those are that have a limit; a limit may also be a container's own."""
    if not wanted:
        return {}
    found = {code: code for code in wanted if bench.at(code) is not None}
    for container in bench.standing():
        for lot in container.lots:
            found.update({code: container.code for code in lot.codes if code in wanted})
    return found


def _limit(
    reckoning: Reckoning, rule: Timed, where: str, kind: PlaceKind, until: datetime, entry: Entry, subject: str, reason: str = ""
) -> Due:
    """Hours of a limit count back from it; at the limit it is red, and for her that is the harm."""
    amber = None if rule.amber is None else until - rule.amber
    red = None if rule.red is None else until - rule.red
    harm = until if rule.check == "release" else None
    return Due(
        where, kind, rule.check, until - rule.every, amber, red, harm, rule.severity, rule.rule, until, entry,
        _put_off(reckoning, where, rule.check), subject, reason,
    )  # fmt: skip


def _room(reckoning: Reckoning, rules: _Rules, found: list[Due]) -> None:
    """The room's lowest and highest, each round; not where only resting stock is left."""
    rule = rules.of("room", "room")
    bench = reckoning.bench
    awake = _awake(bench)
    if rule is None or not awake:
        return
    readings = bench.air.get("")
    last = readings[-1] if readings else None
    begun = min(_awake_since(one) for one in awake)
    since = utc(last.at) if last is not None and last.at > begun else begun
    due = _each(reckoning, rule, since)
    amber = due + GRACE if rule.amber is None else since + rule.amber
    put_off = _put_off(reckoning, "", "room")
    found.append(
        Due("", "room", "room", due, amber, _after(since, rule.red), None, rule.severity, rule.rule, since, last,
            put_off)
    )  # fmt: skip


def _awake(bench: Bench) -> list[Container]:
    """The containers for whose sake the room is read: none where all that lives here rests over the winter."""
    standing = list(bench.standing())
    living = [one for one in standing if one.lots]
    return [one for one in living if one.purpose != "overwintering"] if living else standing


def _awake_since(container: Container) -> datetime:
    woken = container.purpose_since if container.purpose_before == "overwintering" else None
    came = arrived(container, "")
    return max(utc(at) for at in (container.since, woken, came) if at is not None)


def _heat(reckoning: Reckoning, rules: _Rules, found: list[Due]) -> None:
    """Every place whose last reading was too warm, or too cold where females are to lay."""
    bench = reckoning.bench
    for place, readings in bench.air.items():
        container = bench.at(place)
        if (place and container is None and place not in bench.shelves) or (container and container.purpose in COOL):
            continue
        reading = next((one for one in reversed(readings) if one.temperature_c is not None or one.high_c is not None), None)
        told = _out_of_band(bench, container, place, reading) if reading is not None else None
        if reading is None or told is None or _is_over(reckoning, container, reading):
            continue
        condition, reason = told
        rule = rules.of("heat", condition, container)
        if rule is not None:
            kind: PlaceKind = "container" if container else ("shelf" if place else "room")
            since = utc(reading.at) if condition == "warm or cold" else _hot_since(readings)
            put_off = _put_off(reckoning, place, "heat", utc(reading.at))
            found.append(
                Due(place, kind, "heat", since + rule.every, _after(since, rule.amber), _after(since, rule.red),
                    _after(since, rule.harm), rule.severity, rule.rule, since, reading, put_off, "", reason)
            )  # fmt: skip


def _out_of_band(bench: Bench, container: Container | None, place: str, reading: Air) -> tuple[str, str] | None:
    """Which condition a reading meets, and what it said; a lowest of the night does not say that it is cold now."""
    measures = measures_of(bench.settings)
    now_c = reading.temperature_c
    warmest = reading.high_c if now_c is None else now_c
    if warmest is not None and warmest >= DANGER_C:
        return "hot cup" if container else "hot room", f"read {measures.warmth(warmest)}"
    if warmest is not None and warmest >= WARM_C:
        return "warm or cold", f"read {measures.warmth(warmest)}"
    if now_c is not None and now_c < COLD_C and _females_lay(bench, container, place):
        return "warm or cold", f"read {measures.warmth(now_c)}, too cold to lay"
    return None


def _sunlit(reckoning: Reckoning, rules: _Rules, found: list[Due]) -> None:
    """Every closed cup left in the sun, before the sun reaches the sill."""
    moment = reckoning.moment
    for container in reckoning.bench.standing():
        if container.lit != "sun" or not container.lots or not is_closed(container):
            continue
        rule = rules.of("heat", "sun on a closed cup", container)
        span = next((one for one in sill_spans(reckoning.bench, moment.now, moment.zone) if one[1] > moment.now), None)
        if rule is None or span is None:
            continue
        begins = utc(span[0])
        reason = f"sun on the sill {span[0]:%H:%M} to {span[1]:%H:%M}, lid {container.lid}"
        put_off = _put_off(reckoning, container.code, "heat")
        found.append(
            Due(container.code, "container", "heat", begins, begins, _after(begins, rule.red), _after(begins, rule.harm),
                rule.severity, rule.rule, begins, None, put_off, "", reason)
        )  # fmt: skip


def _is_over(reckoning: Reckoning, container: Container | None, reading: Air) -> bool:
    """A reading says nothing any more a day later, nor once its container was shaded or opened."""
    if reckoning.moment.now - reading.at > READING_LASTS:
        return True
    if container is None:
        return False
    answers = (container.last.get("light"), container.last.get("lid opened"))
    return any(answer is not None and answer.at > reading.at for answer in answers)


def _females_lay(bench: Bench, container: Container | None, place: str) -> bool:
    if container is not None:
        return container.purpose in LAYING and container.females > 0
    return any(one.purpose in LAYING and one.females and (not place or one.shelf == place) for one in bench.standing())


def _hot_since(readings: list[Air]) -> datetime:
    """When the run of readings in danger began that goes on to the last one."""
    since = readings[-1].at
    for reading in reversed(readings):
        warmest = reading.temperature_c if reading.temperature_c is not None else reading.high_c
        if warmest is not None and warmest < DANGER_C:
            break
        since = reading.at if warmest is not None else since
    return utc(since)


def _solution(reckoning: Reckoning, rules: _Rules, found: list[Due]) -> None:
    """Stock solution that grows old while there are adults to feed."""
    rule = rules.of("solution", "solution")
    if rule is None or not reckoning.bench.food_made:
        return
    if not any(reckoning.bench.is_fed(lot) for one in reckoning.bench.standing() for lot in one.lots):
        return
    for food, at in reckoning.bench.food_made.items():
        made_at = utc(at)
        found.append(
            Due("", "book", "solution", made_at + rule.every, _after(made_at, rule.amber), _after(made_at, rule.red),
                _after(made_at, rule.harm), rule.severity, rule.rule, made_at, None,
                _put_off(reckoning, "", "solution"), food)
        )  # fmt: skip
