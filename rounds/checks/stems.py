"""How many stems stand, are eaten or cut anew, and of which plant."""

from __future__ import annotations

from datetime import datetime
from math import ceil

from rounds.bench.state import Bench, Container, Host
from rounds.checks.base import Use
from rounds.checks.facts import still_eat
from rounds.checks.round_clock import utc
from rounds.checks.rule import Rule
from rounds.entries.base import ROOTED

UNKNOWN_PLANT = "host plant"


def plant_for(bench: Bench, container: Container) -> str:
    """The plant of the likely host; else not known."""
    host = likely_host(bench, container)
    return host.plant if host is not None else UNKNOWN_PLANT


def likely_host(bench: Bench, container: Container | None) -> Host | None:
    """The host cut last that stands in a container; else that of others of the same species; else nothing."""
    if container is None:
        return None
    if container.hosts:
        return max(container.hosts, key=lambda host: utc(host.cut))
    taxa = {bench.taxon_of(lot.brood) for lot in container.lots} - {""}
    others = [
        host
        for one in bench.standing()
        if one.purpose != "host store" and any(bench.taxon_of(lot.brood) in taxa for lot in one.lots)
        for host in one.hosts
    ]
    return max(others, key=lambda host: utc(host.cut), default=None)


def days_between(rule: Rule) -> float:
    """From one feeding to the next."""
    return (rule.every_h or 24) / 24


def stems_to_eat(container: Container, rule: Rule) -> int:
    """How many stems the larvae of a container that eat use up from one feeding to the next, by the rule of their food."""
    return ceil(still_eat(container) * rule.stems_a_day * days_between(rule))


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


def stems_used(at: datetime, plant: str, number: int, words: str, in_water: bool) -> list[Use]:
    """Stems, and a tube of water for each where they stand in water."""
    used = [Use(at, "sprigs", plant, number, words)]
    return [*used, Use(at, "tubes", "", number, words)] if in_water else used
