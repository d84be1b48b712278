"""How many stems stand, are eaten or cut anew, and of which plant; and which kept lot, when it was
looked under, which may have hatched."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from math import ceil
from typing import NamedTuple

from msgspec.structs import replace

from rounds.bench.folding.eating import spells
from rounds.bench.folding.kept_stems import PERHAPS, SHOWN
from rounds.bench.folding.not_seen import may_hide
from rounds.bench.folding.signs import still_eat
from rounds.bench.kept_lots import told
from rounds.bench.plants_of import PlantsOnRecord, counts_for_all, taxa_in, with_plants_for
from rounds.bench.state import Bench, Container, Host, KeptLot, Lot
from rounds.checks.base import SupplyUse
from rounds.checks.due_state import Due
from rounds.checks.facts import Species
from rounds.checks.question import AnswerContext, Question
from rounds.checks.round_clock import utc
from rounds.checks.rule import Rule
from rounds.entries.base import ROOTED
from rounds.entries.plant_parts import eaten_part
from rounds.forecasts.foresight import Forecasts
from rounds.grouping import summed

ONE_DAY = timedelta(days=1)
UNKNOWN_PLANT = "plant not on record"
UNFED = "unfed"  # of larvae without a plant: how urgent, not how much they eat
NOT_KNOWN = "of no known instar"  # they may be small, but rather too much than too little
# That a larva eats, by the conditions of the rules; our estimate: the last two of five instars eat
# nearly all, and what is eaten grows five- to tenfold from one to the next but one (trade).
UNFED_DAYS = {"last instar": 0.5}  # from one feeding to the next, as their rule has it; else a day
STEMS_A_DAY = {"last instar": 1.0, "L3-L4": 0.25, NOT_KNOWN: 0.25, "L1-L2": 0.02}


def saying_for_all(bench: Bench, container: Container, question: Question) -> Question:
    """A question about the plants there, which says which of them count for every species for
    nobody said whose they are."""
    words = counts_for_all(bench, container)
    return replace(question, text=f"{question.text} ({words})") if words else question


def plants_for(bench: Bench, container: Container) -> list[str]:
    """The plants of the likely hosts; else the one that is not known."""
    return [host.plant for host in likely_hosts(bench, container)] or [UNKNOWN_PLANT]


def as_eaten(host: Host) -> str:
    """A plant with the part of it that is eaten, or laid on, where that is no leaf: ``bladder senna
    bud``."""
    return " ".join(filter(None, (host.plant, eaten_part(host.part))))


def eaten_for(bench: Bench, container: Container) -> list[str]:
    """As ``plants_for``, each as it is eaten."""
    return [as_eaten(host) for host in likely_hosts(bench, container)] or [UNKNOWN_PLANT]


def likely_host(bench: Bench, container: Container | None) -> Host | None:
    """The one of the likely hosts that was cut last."""
    return max(likely_hosts(bench, container), key=lambda host: utc(host.cut), default=None)


def likely_hosts(bench: Bench, container: Container | None) -> list[Host]:
    """All plants that stand in a container, of each what was cut last; and, for each species in it
    that has none there, those that it eats where its plant was cut last, in water: how they are
    kept in another container says nothing of this one."""
    if container is None:
        return []
    on_record = PlantsOnRecord(bench)
    elsewhere: list[Host] = []
    for taxon in filter(None, taxa_in(bench, container)):
        if not with_plants_for(bench, container, taxon, on_record).hosts:
            elsewhere += _elsewhere(bench, taxon, on_record)
    here = {host.plant for host in container.hosts}
    in_water = [replace(host, kept="water") for host in elsewhere if host.plant not in here]
    return _newest_of_each([*container.hosts, *in_water])


def _newest_of_each(hosts: list[Host]) -> list[Host]:
    return [*{host.plant: host for host in sorted(hosts, key=lambda one: utc(one.cut))}.values()]


def _elsewhere(bench: Bench, taxon: str, on_record: PlantsOnRecord) -> list[Host]:
    """What a species eats in the container where its plant was cut last."""
    theirs = (
        with_plants_for(bench, one, taxon, on_record)
        for one in bench.standing()
        if one.purpose != "host store"
        and any(bench.taxon_of(lot.brood) == taxon for lot in one.lots)
    )
    eaten = [_eaten_by(bench, one, taxon, on_record) for one in theirs if one.hosts]
    return max(eaten, key=lambda hosts: max(utc(host.cut) for host in hosts), default=[])


def _eaten_by(
    bench: Bench, container: Container, taxon: str, on_record: PlantsOnRecord
) -> list[Host]:
    """What of the plants in a container is for one of the species there: what is on record as its
    own; where nothing tells them apart what was put in after it came and before the next species
    did; all of them where that is nothing."""
    of_record = with_plants_for(bench, container, taxon, on_record).hosts
    if 0 < len(of_record) < len(container.hosts):
        return of_record
    came: dict[str, datetime] = {}
    for lot in container.lots:
        whose, since = bench.taxon_of(lot.brood), utc(lot.came or container.since)
        came[whose] = min(came.get(whose, since), since)
    later = [since for since in came.values() if since > came[taxon]]
    own = [
        host
        for host in container.hosts
        if utc(host.put_in) >= came[taxon] and not (later and utc(host.put_in) >= min(later))
    ]
    return own or container.hosts


def days_between(bench: Bench, container: Container, rule: Rule) -> float:
    """From one feeding to the next; of the unfed as often as the oldest of them are fed from then
    on."""
    if rule.condition == UNFED:
        oldest = next((age for _, age, _ in eaters(bench, container, rule)), "")
        return UNFED_DAYS.get(oldest, 1.0)
    return (rule.every_h or 24) / 24


def eaters(bench: Bench, container: Container, rule: Rule) -> list[tuple[int, str, float]]:
    """How many larvae of each age eat, what they are called, and how many stems each takes a day,
    the oldest first.

    Of a mixed cup, whose hours go by the oldest, each age by itself; those whose instar nobody said
    as the rule has it. Those that have stopped are of the oldest. Those of the species that were
    not seen may sit in the plant, and eat too.
    """
    larvae = container.lots_of("larva")
    stopped = sum(lot.number for lot in larvae) - still_eat(container)
    here = taxa_in(bench, container)
    hidden = may_hide(bench).get(container.code, ()) if bench.shortfalls else ()
    unseen = (one for one in hidden if one.stage == "larva" and bench.taxon_of(one.brood) in here)
    eat = ((one.brood, one.instar, one.number) for one in (*larvae, *unseen))
    return _by_age(bench, eat, stopped, rule)


def eaten_up(
    bench: Bench, container: Container, rule: Rule, since: datetime, stems: float
) -> datetime | None:
    """When so many stems are eaten up that were put in then, by those who were there at each time
    and from the newest entry on by those of now; None where nobody eats."""
    spell_began, a_day = since, 0.0
    for spell in spells(bench, container, since):
        until = utc(spell.until)
        a_day = sum(
            number * each for number, _, each in _by_age(bench, spell.larvae, spell.stopped, rule)
        )
        eaten = a_day * max(0.0, (until - spell_began) / ONE_DAY)
        if eaten >= stems:
            break
        stems -= eaten
        spell_began = max(spell_began, until)
    return spell_began + ONE_DAY * (stems / a_day) if a_day else None


def _by_age(
    bench: Bench, larvae: Iterable[tuple[str, int | None, int]], stopped: int, rule: Rule
) -> list[tuple[int, str, float]]:
    """The same of larvae by brood, instar and number, of whom so many of the oldest stopped."""
    species = Species(bench)
    by_age: dict[str, int] = {}
    for brood, instar, number in larvae:
        age = rule.condition
        if instar and age in (*STEMS_A_DAY, UNFED):
            age = _age(instar, species[brood].instars)
        elif age in ("L1-L2", UNFED):
            age = NOT_KNOWN
        by_age[age] = by_age.get(age, 0) + number
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
    a_day = sum(number * each for number, _, each in eaters(bench, container, rule))
    return ceil(a_day * days_between(bench, container, rule) - 1e-9)


class Portion(NamedTuple):
    """What those who eat the same eat of one plant from one feeding to the next.

    ``of`` is how many plants they share it among, ``eaters`` are they (see ``eaters``).
    """

    plant: str
    stems: int
    of: int
    eaters: list[tuple[int, str, float]]


def portions(bench: Bench, container: Container, rule: Rule) -> list[Portion]:
    """How much of each plant, as it is eaten, the larvae of a container eat: each species of its
    own, an equal share of each where it has several."""
    larvae = container.lots_of("larva")
    on_record = PlantsOnRecord(bench)
    alike: dict[tuple[str, ...], list[Lot]] = {}
    for lot in larvae:
        taxon = bench.taxon_of(lot.brood)
        if container.hosts:
            eaten = _eaten_by(bench, container, taxon, on_record)
        else:
            eaten = _elsewhere(bench, taxon, on_record)
        plants = tuple(map(as_eaten, _newest_of_each(eaten))) or (UNKNOWN_PLANT,)
        alike.setdefault(plants, []).append(lot)
    found = []
    for plants, lots in alike.items():
        # which of several have stopped is not known: as much as if none had
        only = container if len(lots) == len(larvae) else replace(container, lots=lots, sign="")
        stems = -(-stems_to_eat(bench, only, rule) // len(plants))
        found += [Portion(plant, stems, len(plants), eaters(bench, only, rule)) for plant in plants]
    return found


def stems_by_plant(container: Container) -> dict[str, int]:
    """How many cut stems of each plant, as it is eaten, stand in a container; one of a lot that was
    not counted."""
    return summed(
        (as_eaten(host), host.sprigs or 1) for host in container.hosts if host.kept not in ROOTED
    )


def stems_used(
    at: datetime, plant: str, number: int, words: str, in_water: bool
) -> list[SupplyUse]:
    """Stems, and a tube of water for each where they stand in water."""
    used = [SupplyUse(at, "sprigs", plant, number, words)]
    return [*used, SupplyUse(at, "tubes", "", number, words)] if in_water else used


def has_shown(held: KeptLot) -> bool:
    """Whether frass was seen under a lot, or under one of several that it may be."""
    return held.frass in SHOWN or held.frass == PERHAPS


def lot_words(lots: list[KeptLot], lot: KeptLot) -> str:
    """A kept lot by its digit, where there are several, else by its plant."""
    if not lot.number:
        return f"{lot.plant} standing"
    return f"lot {lot.number}, {told(lot)}" if len(lots) > 1 else f"kept {lot.plant}"


def lots_named(container: Container | None, due: Due) -> list[KeptLot]:
    """The kept lots that the reason of a check names, where it is about some of several."""
    lots = container.held if container is not None else []
    return [lot for lot in lots if len(lots) > 1 and lot_words(lots, lot) in due.reason]


def looked_under(held: KeptLot) -> datetime:
    """When somebody last looked for frass under a lot, else when it was taken out."""
    looks = (held.taken_out, *held.frass_looks[-1:], held.frass_unknown)
    return max(utc(at) for at in looks if at is not None)


def foresight_of(context: AnswerContext) -> Forecasts:
    """The desk's own, where it has one."""
    return context.foresight or Forecasts(context.bench, context.now.tzinfo or UTC)
