"""Laying by host: female-days that add themselves up from the entries, and the eggs found.

A female-day is one living, warm female in a laying or trial container together with one host for 24 hours. Hours in the
dark, in holding, dead, released or without a host do not count; those without a host do for a species that lays without a
plant. Where several hosts stand side by side each gets the time, for each was offered. Eggs that showed later on held sprigs
count where the sprigs had stood.

Time is effort only once somebody looked for eggs: a search counts the time of the stems that it looked at, in the container or
after they were taken out. What came after the last search, and the time of stems that nobody searched, wait beside it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from collections.abc import Set as AbstractSet
from datetime import datetime, timedelta

from msgspec import Struct, field

from rounds.bench.folding.tending import hosts_searched
from rounds.bench.kinds import HostIn, HostOut, Searched, Stocked, Taxon
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench, Container, Held, Lot, members, one_of
from rounds.biology.laying import Rate, laying_rate
from rounds.record.held_eggs import eggs_on_held, sprigs_of
from rounds.record.replay import spans, that_count

COUNTED = ("laying", "trial")
NOT_SAID = "host not said"
NO_PLANT = "no plant"
LEAST_TIME = 0.05  # female-days that are told as 0.1: of less no rate is made


class Stretch(Struct):
    """Time with the same stems: its female-days by founder or brood code, and between when."""

    begun: datetime
    ended: datetime
    by_code: dict[str, float] = field(default_factory=dict)


class Part(Struct):
    """What the females of one container add to a host's sum: their female-days and eggs, and between when.

    Females that stood there together at some time, also by way of others, are one part; those that came after all of them were
    gone are another. ``by_code`` are the female-days by founder or brood code; ``waiting`` is the time that no search looked
    at; ``unsaid`` are eggs found where several plants stood, nobody knows on which; ``either`` those that may be of another
    species.
    """

    container: str
    female_days: float = 0.0
    eggs: int = 0
    searches: int = 0
    begun: datetime | None = None
    ended: datetime | None = None
    codes: set[str] = field(default_factory=set)
    most: int = 0
    by_code: dict[str, float] = field(default_factory=dict)
    waiting: list[Stretch] = field(default_factory=list)
    unsaid: int = 0
    either: int = 0

    @property
    def alone(self) -> str:
        """The one female that all of it is of; empty where there was more than one."""
        return next(iter(self.codes)) if self.most == 1 and len(self.codes) == 1 else ""

    @property
    def not_searched(self) -> float:
        """Female-days that no search looked at."""
        return sum(days for one in self.waiting for days in one.by_code.values())

    @property
    def rate(self) -> Rate | None:
        """Eggs per female-day, with limits; None without time that is worth a figure, or if they may be on another plant."""
        return _rate(self.eggs, self.female_days, self.unsaid + self.either)

    def count(self, stretch: Stretch) -> None:
        """A search looked at the stems of this time."""
        for code, days in stretch.by_code.items():
            self.female_days += days
            self.by_code[code] = self.by_code.get(code, 0.0) + days
        self.begun = min(self.begun or stretch.begun, stretch.begun)
        self.ended = max(self.ended or stretch.ended, stretch.ended)
        self.waiting = [one for one in self.waiting if one is not stretch]


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
    def unsaid(self) -> int:
        """Eggs found while it stood with others, nobody knows on which."""
        return sum(part.unsaid for part in self.parts)

    @property
    def either(self) -> int:
        """Eggs found that may be of this species or of another."""
        return sum(part.either for part in self.parts)

    @property
    def not_searched(self) -> float:
        """Female-days that no search looked at."""
        return sum(part.not_searched for part in self.parts)

    @property
    def rate(self) -> Rate | None:
        """Eggs per female-day, with limits; None without time that is worth a figure, or if they may be on another plant."""
        return _rate(self.eggs, self.female_days, self.unsaid + self.either)


def _rate(eggs: int, female_days: float, unsaid: int) -> Rate | None:
    if female_days < LEAST_TIME or (unsaid and not eggs):
        return None
    return laying_rate(eggs=eggs, female_days=female_days)


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
        elif isinstance(entry, HostIn | HostOut):
            _other_stems(found, entry.container)
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
                part.most = max(part.most, females)
                _wait(part, since, until, _days_by_code(bench, container, taxon, days))
        for lot in container.lots:
            if lot.stage == "adult" and not lot.sex:
                taxon = bench.taxon_of(lot.brood)
                for plant in offered(container, taxon, free):
                    found.setdefault((taxon, plant), OnHost(taxon, plant)).sex_not_known += lot.number * days


def _wait(part: Part, since: datetime, until: datetime, by_code: dict[str, float]) -> None:
    """Time with the stems that stand there, until a search looks at them."""
    if not part.waiting or part.waiting[-1].ended != since:
        part.waiting.append(Stretch(since, until))
    stretch = part.waiting[-1]
    stretch.ended = until
    for code, days in by_code.items():
        stretch.by_code[code] = stretch.by_code.get(code, 0.0) + days


def _other_stems(found: dict[tuple[str, str], OnHost], container: str) -> None:
    """Stems come or go: what follows is time with others."""
    for on_host in found.values():
        for part in on_host.parts:
            if part.container == container and part.waiting and part.waiting[-1].by_code:
                last = part.waiting[-1]
                part.waiting.append(Stretch(last.ended, last.ended))


def _females(bench: Bench, container: Container, taxon: str) -> Iterator[Lot]:
    lots = (lot for lot in container.lots if lot.stage == "adult" and lot.sex == "female")
    return (lot for lot in lots if bench.taxon_of(lot.brood) == taxon)


def _days_by_code(bench: Bench, container: Container, taxon: str, days: float) -> dict[str, float]:
    found: dict[str, float] = {}
    for lot in _females(bench, container, taxon):
        found[lot.brood] = found.get(lot.brood, 0.0) + lot.number * days
    return found


def _codes(bench: Bench, container: Container, taxon: str) -> set[str]:
    return {code for lot in _females(bench, container, taxon) for code in lot.codes}


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
            for taxon in members(held.taxon) if len(members(held.taxon)) > 1 else ():
                for one in found[taxon, held.plant].parts if (taxon, held.plant) in found else ():
                    one.either += held.eggs if one.container == held.source else 0
        for sprigs in sprigs_of(bench, container, entry):
            _count_kept(found, sprigs)
        return
    looked_at = _count_standing(found, container, entry)
    for taxon, eggs in searched_for(bench, container, entry).items():
        plants = sorted(offered(container, taxon, free))
        if looked_at and not eggs and not entry.plant and len(plants) > 1:
            continue
        plant = entry.plant or (plants[0] if len(plants) == 1 else NOT_SAID)
        theirs = _mothers(bench, entry.brood) if eggs else set()
        part = _part(found, taxon, plant, entry.container, theirs or _codes(bench, container, taxon))
        part.eggs += eggs
        part.searches += not any(one is part for _, one in looked_at)
        theirs_too = [one for whose, one in looked_at if whose in (taxon, *members(taxon))]
        for one in theirs_too:
            one.unsaid += eggs if plant == NOT_SAID else 0
            one.either += eggs if len(members(taxon)) > 1 else 0


def searched_for(bench: Bench, container: Container, entry: Searched) -> dict[str, int]:
    """How many eggs of each species a search of a laying container found; those of one of several are of ``A or B``.

    A species that stands there was searched for too, unless what was found may be of it.
    """
    there = [taxon for taxon in females_of(bench, container) if taxon]
    taxon = bench.taxon_of(entry.brood) if entry.brood else one_of(there) if entry.found else ""
    eggs = {taxon: entry.found} if taxon else {}
    return eggs | {one: 0 for one in there if one not in members(taxon)}


def _count_standing(found: dict[tuple[str, str], OnHost], container: Container, entry: Searched) -> list[tuple[str, Part]]:
    """Count the time of the stems that a search looked at where they stand; the parts of which there was any, by species."""
    standing = hosts_searched(container, entry)
    looked_at = []
    for (taxon, plant), on_host in found.items():
        put_in = [host.put_in for host in standing if host.plant == plant]
        is_meant = bool(put_in) if standing else entry.plant in ("", plant)
        if not is_meant:
            continue
        for part in on_host.parts:
            counted = [one for one in part.waiting if not standing or min(put_in) <= one.begun]
            if part.container == container.code and counted:
                for one in counted:
                    part.count(one)
                part.searches += 1
                looked_at.append((taxon, part))
    return looked_at


def _count_kept(found: dict[tuple[str, str], OnHost], held: Held) -> None:
    """Count the time of stems that were searched, or showed their eggs, after they were taken out."""
    for (_, plant), on_host in found.items():
        for part in on_host.parts:
            if (part.container, plant) == (held.source, held.plant):
                for one in [one for one in part.waiting if held.offered <= one.begun and one.ended <= held.taken_out]:
                    part.count(one)
