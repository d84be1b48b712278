"""What to have ready for the coming round and for tomorrow, each with its arithmetic.

All of it is a guess, and says so: it takes each check to be done in the last round before it falls due, and the
numbers below for what is used up. Every one of them is our estimate; no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, time, timedelta
from itertools import pairwise
from math import ceil

from msgspec import Struct

from rounds.bench.kinds.base import ROOTED
from rounds.bench.state import Bench, Container, Host
from rounds.checks.due import Due, all_dues
from rounds.checks.round_clock import Moment, instant, utc
from rounds.checks.rules import Rule

# Sprigs that one larva uses up in a day. The last instar eats many times what the young ones do.
SPRIGS_A_DAY = {"L1-L2": 0.1, "L3-L4": 0.25, "last instar": 1.0, "unfed": 0.1}
ML_A_DRINK = 0.5  # for each animal fed by hand
ML_A_FEEDER = 2.0
UNKNOWN_PLANT = "host plant"
SPARE = 1.2  # one fifth more than counted
ML_STEP = 5.0  # mixed in steps of this


class Need(Struct, frozen=True):
    """One thing to have ready.

    ``what`` is sprigs, solution, swabs, tubes or lining; ``of`` the plant or the lining, where that matters.
    """

    what: str
    of: str
    number: float
    unit: str
    arithmetic: str
    guess: bool = True


class Supplies(Struct, frozen=True):
    """What to have ready, for the coming round and for all of tomorrow."""

    round_begins: datetime
    coming: tuple[Need, ...]
    tomorrow: tuple[Need, ...]


class _Use(Struct, frozen=True):
    """Something used up at one place in one round."""

    at: datetime
    what: str
    of: str
    number: float
    words: str


def coming_round(bench: Bench, moment: Moment) -> datetime:
    """When the round begins that is next to be walked: the present one until its walk begins, then the one after."""
    present = moment.present_round[0]
    begun = any(moment.round_of(walk.started) == present for walk in bench.rounds[-4:])
    return moment.round_after if begun else present


def supplies(bench: Bench, moment: Moment, dues: Iterable[Due] | None = None) -> Supplies:
    """What to have ready for the coming round and for tomorrow, local time."""
    coming = coming_round(bench, moment)
    today = moment.today
    begins, ends = (instant(today + timedelta(days=days), time(0), moment.zone) for days in (1, 2))
    rounds = [coming]
    while rounds[-1] < ends:
        rounds.append(moment.next_anchor(rounds[-1]))
    known = all_dues(bench, moment) if dues is None else dues
    uses = [
        use
        for due in known
        if due.place_kind == "container" and (container := bench.at(due.where)) is not None
        for use in _uses(bench, container, due, rounds, moment)
    ]
    return Supplies(
        coming,
        _added([use for use in uses if use.at == coming]),
        _added([use for use in uses if begins <= use.at < ends]),
    )


def _uses(bench: Bench, container: Container, due: Due, rounds: list[datetime], moment: Moment) -> list[_Use]:
    if due.check == "host":
        return _host_uses(container, due, rounds)
    if due.check not in ("drink", "feeder", "food", "leaf", "clean"):
        return []
    return [use for at in _done_at(due, rounds, moment) for use in _used(bench, container, due, at)]


def _done_at(due: Due, rounds: list[datetime], moment: Moment) -> list[datetime]:
    """In which of the rounds a check is done, each time in the last round before it falls due."""
    rule = due.rule
    found = []
    falls_due = due.due
    for begins, following in pairwise(rounds):
        if falls_due >= following:
            continue
        found.append(begins)
        if rule is None or due.check == "leaf":
            break
        if rule.each_round:
            falls_due = following
        else:
            falls_due = moment.next_daily(begins) if rule.daily else begins + timedelta(hours=rule.every_h or 24)
    return found


def _used(bench: Bench, container: Container, due: Due, at: datetime) -> list[_Use]:
    code = container.code
    if due.check == "drink":
        animals = container.count("adult")
        return [
            _Use(at, "solution", "", animals * ML_A_DRINK, f"{code} {animals} x {ML_A_DRINK:g}"),
            _Use(at, "swabs", "", 1, code),
        ]
    if due.check == "feeder":
        return [
            _Use(at, "solution", "", ML_A_FEEDER, f"{code} feeder {ML_A_FEEDER:g}"),
            _Use(at, "swabs", "", 1, f"{code} feeder"),
        ]
    if due.check == "clean":
        return [_Use(at, "lining", container.lining, 1, code)] if container.lining else []
    if due.check == "leaf":
        return [_Use(at, "sprigs", plant_for(bench, container), 1, f"{code} 1 tender leaf")]
    return _food_uses(bench, container, due, at)


def stems_to_eat(container: Container, rule: Rule) -> int:
    """How many stems all larvae of a container eat from one feeding to the next, by the rule of their food."""
    return ceil(container.count("larva") * SPRIGS_A_DAY[rule.condition] * _days(rule))


def stems_to_lay_on(container: Container) -> int:
    """How many cut stems stand in a container, by which as many are cut anew; one of a lot that was not counted."""
    return sum(stems_by_plant(container).values())


def stems_by_plant(container: Container) -> dict[str, int]:
    """How many cut stems of each plant stand in a container; one of a lot that was not counted."""
    found: dict[str, int] = {}
    for host in container.hosts:
        if host.kept not in ROOTED:
            found[host.plant] = found.get(host.plant, 0) + (host.sprigs or 1)
    return found


def _days(rule: Rule) -> float:
    return (rule.every_h or 24) / 24


def _food_uses(bench: Bench, container: Container, due: Due, at: datetime) -> list[_Use]:
    rule = due.rule
    if rule is None or any(host.kept in ROOTED for host in container.hosts):
        return []
    days, a_day, number = _days(rule), SPRIGS_A_DAY[rule.condition], stems_to_eat(container, rule)
    words = f"{container.code} {container.count('larva')} {rule.condition} x {a_day:g} a day"
    if days != 1:
        words += f" x {days:g} d"
    return _sprigs(at, plant_for(bench, container), number, f"{words} = {number}", _in_water(container))


def _host_uses(container: Container, due: Due, rounds: list[datetime]) -> list[_Use]:
    """Laying host is cut anew in the last round before it is past its time, as much of each plant as stands there now.

    Where no female is, none is cut.
    """
    hosts = [host for host in container.hosts if host.kept not in ROOTED]
    if not hosts or not container.females or due.amber is None:
        return []
    life = timedelta(hours=due.rule.amber_h or 24) if due.rule is not None else timedelta(hours=24)
    if not due.reason and due.since is not None and due.amber > due.since:
        life = due.amber - due.since
    found: list[_Use] = []
    past = due.amber
    for begins, following in pairwise(rounds):
        if past < following:
            found.extend(use for one in stems_by_plant(container).items() for use in _cut_anew(begins, container.code, one, hosts))
            past = begins + life
    return found


def _cut_anew(at: datetime, code: str, wanted: tuple[str, int], hosts: list[Host]) -> list[_Use]:
    """As many of one plant as stand there now."""
    plant, number = wanted
    of_it = [host for host in hosts if host.plant == plant]
    words = f"{code} {number} {'as now' if all(host.sprigs for host in of_it) else 'at a guess'}"
    return _sprigs(at, plant, number, words, of_it[-1].kept == "water")


def _sprigs(at: datetime, plant: str, number: int, words: str, in_water: bool) -> list[_Use]:
    found = [_Use(at, "sprigs", plant, number, words)]
    return [*found, _Use(at, "tubes", "", number, words)] if in_water else found


def _in_water(container: Container) -> bool:
    return bool(container.hosts) and container.hosts[-1].kept == "water"


def plant_for(bench: Bench, container: Container) -> str:
    """The plant that stands in a container; else the last that others of the same species got; else not known."""
    if container.hosts:
        return container.hosts[-1].plant
    taxa = {bench.taxon_of(lot.brood) for lot in container.lots} - {""}
    others = [
        host
        for one in bench.standing()
        if one.purpose != "host store" and any(bench.taxon_of(lot.brood) in taxa for lot in one.lots)
        for host in one.hosts
    ]
    newest = max(others, key=lambda host: utc(host.cut), default=None)
    return newest.plant if newest is not None else UNKNOWN_PLANT


_UNITS = {"sprigs": "sprigs", "solution": "ml", "swabs": "swabs", "tubes": "tubes", "lining": "pieces"}


def _added(uses: list[_Use]) -> tuple[Need, ...]:
    by_thing: dict[tuple[str, str], list[_Use]] = {}
    for use in uses:
        by_thing.setdefault((use.what, use.of), []).append(use)
    order = list(_UNITS)
    return tuple(_need(what, of, by_thing[what, of]) for what, of in sorted(by_thing, key=lambda one: (order.index(one[0]), one[1])))


def _need(what: str, of: str, uses: list[_Use]) -> Need:
    total = sum(use.number for use in uses)
    counted: dict[str, int] = {}
    for use in uses:
        counted[use.words] = counted.get(use.words, 0) + 1
    words = ", ".join(f"{words}{f' ({times} times)' if times > 1 else ''}" for words, times in counted.items())
    if what != "solution":
        return Need(what, of, total, _UNITS[what], words)
    mixed = ceil(total * SPARE / ML_STEP) * ML_STEP
    return Need(what, of, mixed, "ml", f"{words} = {total:g} ml, a fifth to spare, rounded up")
