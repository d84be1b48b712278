"""How many stems stand, are eaten or cut anew, and of which plant."""

from __future__ import annotations

from datetime import datetime
from math import ceil

from rounds.bench.state import Bench, Container, Host
from rounds.checks.base import SupplyUse
from rounds.checks.facts import Species, still_eat
from rounds.checks.round_clock import utc
from rounds.checks.rule import Rule
from rounds.entries.base import ROOTED

UNKNOWN_PLANT = "plant not on record"
STEMS_A_DAY = {
    "last instar": 1.0,
    "L3-L4": 0.25,
    "L1-L2": 0.1,
}  # that a larva eats, by the conditions of the rules; our estimate


def plant_for(bench: Bench, container: Container) -> str:
    """The plant of the likely host; else not known."""
    host = likely_host(bench, container)
    return host.plant if host is not None else UNKNOWN_PLANT


def likely_host(bench: Bench, container: Container | None) -> Host | None:
    """The host cut last that stands in a container; else that of others of the same species; else
    nothing."""
    if container is None:
        return None
    if container.hosts:
        return max(container.hosts, key=lambda host: utc(host.cut))
    taxa = {bench.taxon_of(lot.brood) for lot in container.lots} - {""}
    others = [
        host
        for one in bench.standing()
        if one.purpose != "host store"
        and any(bench.taxon_of(lot.brood) in taxa for lot in one.lots)
        for host in one.hosts
    ]
    return max(others, key=lambda host: utc(host.cut), default=None)


def days_between(rule: Rule) -> float:
    """From one feeding to the next."""
    return (rule.every_h or 24) / 24


def eaters(bench: Bench, container: Container, rule: Rule) -> list[tuple[int, str, float]]:
    """How many larvae of each age eat, what they are called, and how many stems each takes a day,
    the oldest first.

    Of a mixed cup, whose hours go by the oldest, each age by itself; those whose instar nobody said
    as the rule has it. Those that have stopped are of the oldest.
    """
    species = Species(bench)
    by_age: dict[str, int] = {}
    for lot in container.lots_of("larva"):
        age = (
            _age(lot.instar, species[lot.brood].instars)
            if lot.instar and rule.condition in STEMS_A_DAY
            else rule.condition
        )
        by_age[age] = by_age.get(age, 0) + lot.number
    stopped = sum(by_age.values()) - still_eat(container)
    found = []
    for age in sorted(by_age, key=lambda one: -STEMS_A_DAY.get(one, rule.stems_a_day)):
        left = max(0, by_age[age] - stopped)
        stopped -= by_age[age] - left
        if left:
            found.append((left, age, STEMS_A_DAY.get(age, rule.stems_a_day)))
    return found


def _age(instar: int, last: int) -> str:
    return "last instar" if instar >= last else "L3-L4" if instar >= 3 else "L1-L2"


def stems_to_eat(bench: Bench, container: Container, rule: Rule) -> int:
    """How many stems the larvae of a container that eat use up from one feeding to the next, by the
    rule of their food."""
    return ceil(
        sum(number * each for number, _, each in eaters(bench, container, rule))
        * days_between(rule)
        - 1e-9
    )


def stems_to_lay_on(container: Container) -> int:
    """How many cut stems stand in a container, by which as many are cut anew; one of a lot that was
    not counted."""
    return sum(stems_by_plant(container).values())


def stems_by_plant(container: Container) -> dict[str, int]:
    """How many cut stems of each plant stand in a container; one of a lot that was not counted."""
    found: dict[str, int] = {}
    for host in container.hosts:
        if host.kept not in ROOTED:
            found[host.plant] = found.get(host.plant, 0) + (host.sprigs or 1)
    return found


def stems_used(
    at: datetime, plant: str, number: int, words: str, in_water: bool
) -> list[SupplyUse]:
    """Stems, and a tube of water for each where they stand in water."""
    used = [SupplyUse(at, "sprigs", plant, number, words)]
    return [*used, SupplyUse(at, "tubes", "", number, words)] if in_water else used
