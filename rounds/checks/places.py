"""When the checks are due that belong to no single container: barriers, what was not seen, limits, room, solution."""

from __future__ import annotations

from collections.abc import Callable, Collection
from datetime import datetime, timedelta

from msgspec import Struct
from msgspec.structs import replace

from rounds.bench.kinds import Air
from rounds.bench.kinds.base import Barrier, Entry
from rounds.bench.measures import measures_of
from rounds.bench.permits import ends_at, to_be_freed
from rounds.bench.resting import all_rest, awake_in_winter
from rounds.bench.state import PLURALS, Bench, Container, Moat, Shelf
from rounds.checks.animals import GRACE
from rounds.checks.due_context import Reckoning, Timed, arrived, timed
from rounds.checks.due_state import Due, PlaceKind
from rounds.checks.plan import Plan
from rounds.checks.round_clock import EARLY, utc
from rounds.checks.time_format import local
from rounds.forecasts.tonight import is_closed, sill_spans

FAILED = frozenset({"dry", "bridged", "breached"})
WANTING = frozenset({"low", "dirty"})
ASKED: frozenset[Barrier] = frozenset({"moat", "sticky band", "grease"})
_WATER: dict[Barrier, str] = {"moat": "water", "sticky band": "band"}
WASHED_EVERY = timedelta(days=7)  # common practice, no source
WARM_C, DANGER_C, COLD_C = 30.0, 33.0, 18.0  # starter defaults; our estimate
FREEZING_C, WARM_REST_C, HOT_REST_C = 0.0, 10.0, 20.0  # of a winter store; see the rules
READING_LASTS, REST_READING_LASTS = timedelta(hours=24), timedelta(days=16)  # our estimate
LAYING = frozenset({"laying", "pairing", "trial"})
COOL = frozenset({"holding", "host store"})


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
    barrier = reckoning.bench.barrier_named("" if kind == "shelf" else where, where if kind == "shelf" else "")
    due = _each(reckoning, rule, seen)
    amber, red = _after(seen, rule.amber), _after(seen, rule.red)
    reason, pressing = "", None
    if bad:
        reason, pressing = f"ants above the {_WATER.get(barrier, barrier)}" if moat.ants_above else f"seen {moat.state}", seen
    elif moat.state in WANTING:
        due, amber, reason, pressing = seen, seen, f"seen {moat.state}", seen
    elif barrier == "moat" and (low := reckoning.foresight.moat(moat, reckoning.moment.now)) is not None and low.low_at is not None:
        low_at = utc(low.low_at)
        when = local(low_at, reckoning.moment)
        reason = f"about {low.by_now_mm:.0f} mm by now, low ({low.low_mm:g} mm) {when}, from {low.loss.rests_on}"
        due, amber = min(due, low_at), low_at if amber is None else min(amber, low_at)
        if low.dry_at is not None:
            red = utc(low.dry_at) if red is None else min(red, utc(low.dry_at))
    if barrier == "moat" and not bad and moat.state not in WANTING and seen - utc(moat.washed or container.since) > WASHED_EVERY:
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
    """Lowest and highest of the room and of every place apart from it, each round; a place of resting stock seldom."""
    rule = rules.of("room", "room")
    bench = reckoning.bench
    for shelf in bench.shelves.values():
        living = [one for one in bench.standing() if one.lots and bench.shelf_of(one) is shelf] if shelf.apart else []
        if living:
            resting = all(all_rest(bench, one) for one in living)
            own = rules.of("room", "winter store" if resting else "room")
            awake = [one for one in living if resting or not all_rest(bench, one)]
            _append(found, _thermometer(reckoning, own, shelf.name, "shelf", awake))
    _append(found, _thermometer(reckoning, rule, "", "room", _awake(bench)))


def _thermometer(reckoning: Reckoning, rule: Timed | None, where: str, kind: PlaceKind, living: list[Container]) -> Due | None:
    """When a place is to be read for the sake of the containers that stand there."""
    if rule is None or not living:
        return None
    readings = reckoning.bench.air.get(where)
    last = readings[-1] if readings else None
    begun = min(_awake_since(reckoning.bench, one) for one in living)
    since = utc(last.at) if last is not None and begun < last.at else begun
    due = _each(reckoning, rule, since)
    amber = due + GRACE if rule.amber is None else since + rule.amber
    put_off = _put_off(reckoning, where, "room")
    return Due(where, kind, "room", due, amber, _after(since, rule.red), None, rule.severity, rule.rule, since, last, put_off)


def _awake(bench: Bench) -> list[Container]:
    """The containers for whose sake the room is read: none where all that lives in it rests over the winter."""
    standing = list(bench.standing())
    if any(shelf.apart for shelf in bench.shelves.values()):
        standing = [one for one in standing if not ((shelf := bench.shelf_of(one)) and shelf.apart)]
    living = [one for one in standing if one.lots]
    return [one for one in living if not all_rest(bench, one)] if living else standing


def _awake_since(bench: Bench, container: Container) -> datetime:
    woken = container.purpose_since if container.purpose_before == "overwintering" else None
    awake = awake_in_winter(bench, container)
    came = arrived(replace(container, lots=awake) if awake else container, "")
    return max(utc(at) for at in (container.since, woken, came) if at is not None)


def _heat(reckoning: Reckoning, rules: _Rules, found: list[Due]) -> None:
    """Every place whose last reading was too warm, or too cold where females are to lay."""
    bench = reckoning.bench
    for place, readings in bench.air.items():
        container = bench.at(place)
        if (place and container is None and place not in bench.shelves) or (container and container.purpose in COOL):
            continue
        band = _band(bench, container, place)
        reading = next((one for one in reversed(readings) if _tells_warmth(one, band)), None)
        told = _out_of_band(bench, container, place, reading, band) if reading is not None else None
        if reading is None or told is None or _is_over(reckoning, container, reading, band):
            continue
        condition, reason = told
        rule = rules.of("heat", condition, container)
        if rule is not None:
            kind: PlaceKind = "container" if container else ("shelf" if place else "room")
            least = {"warm rest": band.warm_c, "hot rest": band.warm_c, "hot cup": band.hot_c, "hot room": band.hot_c}.get(condition)
            since = utc(reading.at) if least is None else _hot_since(readings, least)
            put_off = _put_off(reckoning, place, "heat", utc(reading.at))
            found.append(
                Due(place, kind, "heat", since + rule.every, _after(since, rule.amber), _after(since, rule.red),
                    _after(since, rule.harm), rule.severity, rule.rule, since, reading, put_off, "", reason)
            )  # fmt: skip


class _Band(Struct, frozen=True):
    """Between what a place may be, in C, and whether only resting stock stands there. ``limit_c`` is the keeper's own limit
    of cold, None where nothing lives there or none was given; ``own_warm_c`` that of warmth of a winter store.
    """

    cold_c: float
    warm_c: float
    hot_c: float
    rests: bool
    limit_c: float | None = None
    own_warm_c: float | None = None


def _band(bench: Bench, container: Container | None, place: str) -> _Band:
    """The limits of a place: its own, else the starter ones for what stands there."""
    shelf = bench.shelf_of(container) if container is not None else bench.shelves.get(place)
    rests = all_rest(bench, container) if container is not None else _rests(bench, shelf)
    cold, warm, hot = (FREEZING_C, WARM_REST_C, HOT_REST_C) if rests else (COLD_C, WARM_C, DANGER_C)
    own = None
    if shelf is not None:
        cold = shelf.cold_c if shelf.cold_c is not None else cold
        own = shelf.warm_c if shelf.warm_c is not None or not rests else shelf.hot_c  # of a winter store one limit is enough
        hot = shelf.hot_c if shelf.hot_c is not None else max(hot, shelf.warm_c or hot)
        warm = own if own is not None else min(warm, hot)
    limit = shelf.cold_c if shelf is not None and _lives(bench, container, shelf) else None
    return _Band(cold, warm, hot, rests, limit, own)


def _lives(bench: Bench, container: Container | None, shelf: Shelf) -> bool:
    """Whether animals, or stems that may bear eggs, are in a container, else anywhere on a shelf."""
    places = [container] if container is not None else [one for one in bench.standing() if bench.shelf_of(one) is shelf]
    return any(one.lots or one.held for one in places)


def own_limits(bench: Bench, place: str) -> tuple[float | None, float]:
    """Under how many C a place is too cold for what stands there, where that is its own or of resting stock, and from how
    many on it is too warm.
    """
    band, shelf = _band(bench, None, place), bench.shelves.get(place)
    has_cold = band.rests or (shelf is not None and shelf.cold_c is not None)
    return band.cold_c if has_cold else None, band.warm_c


def _rests(bench: Bench, shelf: Shelf | None) -> bool:
    living = [one for one in bench.standing() if one.lots and bench.shelf_of(one) is shelf] if shelf is not None else []
    return bool(living) and all(all_rest(bench, one) for one in living)


def _tells_warmth(reading: Air, band: _Band) -> bool:
    """Whether a reading tells how warm it was; how cold it was only matters in rest, and under the keeper's own limit."""
    is_cold_told = band.rests or band.limit_c is not None
    return reading.temperature_c is not None or reading.high_c is not None or (is_cold_told and reading.low_c is not None)


def _out_of_band(bench: Bench, container: Container | None, place: str, reading: Air, band: _Band) -> tuple[str, str] | None:
    """Which condition a reading meets, and what it said; a lowest of the night does not say that it is cold now, but under
    the keeper's own limit it is told.
    """
    warmth = measures_of(bench.settings).warmth
    now_c = reading.temperature_c
    if band.rests:
        return _out_of_rest(reading, band, warmth)
    warmest = reading.high_c if now_c is None else now_c
    if warmest is not None and warmest >= band.hot_c:
        return "hot cup" if container else "hot room", f"read {warmth(warmest)}"
    if warmest is not None and warmest >= band.warm_c:
        return "warm or cold", f"read {warmth(warmest)}"
    read = [one for one in (now_c, reading.low_c, reading.high_c) if one is not None]
    lowest = min(read, default=band.cold_c)
    limit = f"read {warmth(lowest)}, under its limit of {warmth(band.limit_c)}" if band.limit_c is not None else ""
    if limit and lowest < min(FREEZING_C, band.limit_c or FREEZING_C):
        return "freezing", limit
    if warmest is not None and warmest < band.cold_c and _females_lay(bench, container, place):
        return "warm or cold", f"read {warmth(warmest)}, too cold to lay"
    if band.limit_c is not None and lowest < band.limit_c:
        return "warm or cold", limit
    return None


def _out_of_rest(reading: Air, band: _Band, warmth: Callable[[float], str]) -> tuple[str, str] | None:
    """Resting stock is harmed by warmth and by frost also if it is over by now."""
    read = [one for one in (reading.temperature_c, reading.low_c, reading.high_c) if one is not None]
    if max(read) >= band.warm_c:
        condition = "hot rest" if max(read) >= band.hot_c else "warm rest"
        why = "too warm for a winter store" if band.own_warm_c is None else f"over its limit of {warmth(band.own_warm_c)}"
        return condition, f"read {warmth(max(read))}, {why}"
    return ("freezing", f"read {warmth(min(read))}, too cold for a winter store") if min(read) < band.cold_c else None


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


def _is_over(reckoning: Reckoning, container: Container | None, reading: Air, band: _Band) -> bool:
    """A reading says nothing any more a day later, that of a winter store until it is to be read again; nor once its
    container was shaded or opened.
    """
    if reckoning.moment.now - reading.at > (REST_READING_LASTS if band.rests else READING_LASTS):
        return True
    if container is None:
        return False
    answers = (container.last.get("light"), container.last.get("lid opened"))
    return any(answer is not None and answer.at > reading.at for answer in answers)


def _females_lay(bench: Bench, container: Container | None, place: str) -> bool:
    if container is not None:
        return container.purpose in LAYING and container.females > 0
    laying = (one for one in bench.standing() if one.purpose in LAYING and one.females)
    shelves = [bench.shelf_of(one) for one in laying]
    return any(shelf.name == place if place else not shelf.apart for shelf in shelves if shelf) or (not place and None in shelves)


def _hot_since(readings: list[Air], least_c: float) -> datetime:
    """When the run of readings so warm began that goes on to the last one."""
    since = readings[-1].at
    for reading in reversed(readings):
        warmest = reading.temperature_c if reading.temperature_c is not None else reading.high_c
        if warmest is not None and warmest < least_c:
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
