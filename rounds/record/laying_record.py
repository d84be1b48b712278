"""Laying by host: female-days that add themselves up from the entries, and the eggs found.

A female-day is one living, warm female in a laying or trial container together with one host for 24 hours. Hours in the
dark, in holding, dead, released or without a host do not count; those without a host do for a species that lays without a
plant. Where several hosts stand side by side each gets the time, for each was offered. Eggs that showed later on held sprigs
count where the sprigs had stood.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from collections.abc import Set as AbstractSet
from datetime import datetime, timedelta

from msgspec import Struct, field

from rounds.bench.kinds import Searched, Stocked, Taxon
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench, Container
from rounds.biology.laying import Rate, laying_rate
from rounds.record.held_eggs import eggs_on_held
from rounds.record.replay import spans, that_count

COUNTED = ("laying", "trial")
NOT_SAID = "host not said"
NO_PLANT = "no plant"
LEAST_TIME = 0.05  # female-days that are told as 0.1: of less no rate is made


class Part(Struct):
    """What the females of one container add to a host's sum: their female-days and eggs, and between when.

    Females that stood there together at some time, also by way of others, are one part; those that came after all of them were
    gone are another.
    """

    container: str
    female_days: float = 0.0
    eggs: int = 0
    searches: int = 0
    begun: datetime | None = None
    ended: datetime | None = None
    codes: set[str] = field(default_factory=set)
    most: int = 0

    @property
    def alone(self) -> str:
        """The one female that all of it is of; empty where there was more than one."""
        return next(iter(self.codes)) if self.most == 1 and len(self.codes) == 1 else ""


class OnHost(Struct):
    """One species on one host: the parts of the sum, by container.

    ``sex_not_known`` are days of adults of which nobody knows whether they are females: they are in no sum.
    """

    taxon: str
    plant: str
    parts: list[Part] = field(default_factory=list)
    sex_not_known: float = 0.0

    @property
    def female_days(self) -> float:
        """The sum of the parts."""
        return sum(part.female_days for part in self.parts)

    @property
    def eggs(self) -> int:
        """Eggs found on it."""
        return sum(part.eggs for part in self.parts)

    @property
    def searches(self) -> int:
        """How often it was searched."""
        return sum(part.searches for part in self.parts)

    @property
    def rate(self) -> Rate | None:
        """Eggs per female-day, with limits; None without time with it that is worth a figure."""
        return laying_rate(eggs=self.eggs, female_days=self.female_days) if self.female_days >= LEAST_TIME else None


def laying_record(entries: Iterable[Entry], now: datetime) -> list[OnHost]:
    """Every species on every host that it was offered, the most female-days first in each species."""
    found: dict[tuple[str, str], OnHost] = {}
    entries = list(entries)
    free = lay_without_plant(entries)
    for bench, since, until, entry in spans(entries, now):
        if until > since:
            _pass(bench, found, since, until, free)
        if isinstance(entry, Searched | Stocked):
            _search(bench, found, entry, free)
    return sorted(found.values(), key=lambda one: (one.taxon, -one.female_days, one.plant))


def of_females(record: Iterable[OnHost], codes: Iterable[str]) -> list[OnHost]:
    """The same record, of the parts only in which any of these females had a share."""
    wanted = set(codes)
    found = [OnHost(one.taxon, one.plant, [part for part in one.parts if part.codes & wanted]) for one in record]
    return [one for one in found if one.parts]


def lay_without_plant(entries: Collection[Entry]) -> frozenset[str]:
    """The species whose females lay without a plant; said late, it holds from the first."""
    if not any(isinstance(entry, Taxon) and entry.lays_without_plant for entry in entries):
        return frozenset()
    known = {entry.name: entry for entry in that_count(entries) if isinstance(entry, Taxon)}
    return frozenset(name for name, taxon in known.items() if taxon.lays_without_plant)


def laying_in(bench: Bench) -> Iterator[Container]:
    """The containers in which the hours of females may count: for laying or a trial, in the light."""
    return (one for one in bench.standing() if one.purpose in COUNTED and one.lit != "dark")


def offered(container: Container, taxon: str, free: Collection[str]) -> set[str]:
    """What females of a species may lay on there; empty where their hours do not count.

    Args:
        free: the species that lay without a plant.
    """
    return {host.plant for host in container.hosts} or ({NO_PLANT} if taxon in free else set())


def females_of(bench: Bench, container: Container) -> dict[str, int]:
    """Laying females by species."""
    found: dict[str, int] = {}
    for lot in container.lots:
        if lot.stage == "adult" and lot.sex == "female":
            taxon = bench.taxon_of(lot.brood)
            found[taxon] = found.get(taxon, 0) + lot.number
    return found


def _pass(bench: Bench, found: dict[tuple[str, str], OnHost], since: datetime, until: datetime, free: Collection[str]) -> None:
    days = (until - since) / timedelta(days=1)
    for container in laying_in(bench):
        for taxon, females in females_of(bench, container).items():
            codes = _codes(bench, container, taxon)
            for plant in offered(container, taxon, free):
                part = _part(found, taxon, plant, container.code, codes)
                part.female_days += females * days
                part.begun = part.begun or since
                part.most = max(part.most, females)
                part.ended = until
        for lot in container.lots:
            if lot.stage == "adult" and not lot.sex:
                taxon = bench.taxon_of(lot.brood)
                for plant in offered(container, taxon, free):
                    found.setdefault((taxon, plant), OnHost(taxon, plant)).sex_not_known += lot.number * days


def _codes(bench: Bench, container: Container, taxon: str) -> set[str]:
    lots = (lot for lot in container.lots if lot.stage == "adult" and lot.sex == "female")
    return {code for lot in lots if bench.taxon_of(lot.brood) == taxon for code in lot.codes}


def _part(found: dict[tuple[str, str], OnHost], taxon: str, plant: str, code: str, codes: AbstractSet[str]) -> Part:
    """The newest part of a container that any of these females shares, else a new one; without females its newest."""
    on_host = found.setdefault((taxon, plant), OnHost(taxon, plant))
    for part in reversed(on_host.parts):
        if part.container == code and (not codes or not part.codes or part.codes & codes):
            part.codes |= codes
            return part
    on_host.parts.append(Part(code, codes=set(codes)))
    return on_host.parts[-1]


def _mothers(bench: Bench, brood: str) -> set[str]:
    """Who laid the eggs of a brood, as far as its line says."""
    begun = bench.broods.get(brood)
    return set(begun.mothers) if begun else set()


def _search(bench: Bench, found: dict[tuple[str, str], OnHost], entry: Searched | Stocked, free: Collection[str]) -> None:
    container = bench.at(entry.container)
    if container is None:
        return
    if container.purpose not in COUNTED or isinstance(entry, Stocked) or entry.lots:
        for held in eggs_on_held(bench, entry):
            part = _part(found, held.taxon, held.plant or NOT_SAID, held.source or entry.container, held.mothers)
            part.eggs += held.eggs
            part.searches += isinstance(entry, Searched)
        return
    species = females_of(bench, container)
    taxon = bench.taxon_of(entry.brood) if entry.brood else next(iter(species), "")
    if not taxon:
        return
    plants = sorted(offered(container, taxon, free))
    plant = entry.plant or (plants[0] if len(plants) == 1 else NOT_SAID)
    part = _part(found, taxon, plant, entry.container, _mothers(bench, entry.brood) or _codes(bench, container, taxon))
    part.eggs += entry.found
    part.searches += 1
