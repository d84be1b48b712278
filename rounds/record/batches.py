"""What each cutting of host plant fed, and what was lost of it since: a fact beside a fact, no diagnosis.

A death counts for the cutting that the dead one had, also where it was moved, split off or merged since.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import datetime, timedelta

from msgspec import Struct, field

from rounds.bench import kinds as k
from rounds.bench.folding import apply
from rounds.bench.kinds.base import Entry
from rounds.bench.state import PLURALS, Bench, Container
from rounds.record.cohorts import Ended, course
from rounds.record.replay import that_count

SOON = timedelta(hours=24)  # losses this soon after new food are pointed out; common practice, no source
SEVERAL = 2


# What animals are known to have died of that no plant did.
NOT_OF_FOOD: frozenset[str] = frozenset({"parasitised", "old age", "injury", "ants", "eaten", "drowned", "heat", "cold"})


class Fed(Struct):
    """One container that got sprigs of a cutting: between when, what stood there, and what was lost."""

    container: str
    put_in: datetime
    taken_out: datetime | None = None
    stock: str = ""
    died_soon: int = 0
    died_since: int = 0
    died_elsewhere: dict[str, int] = field(default_factory=dict)  # of those that died since, where they had been moved to
    signs: list[str] = field(default_factory=list)


class Cutting(Struct):
    """One cutting: batch letter, plant, when it was cut and where, and all that it fed, in the order of feeding."""

    batch: str
    plant: str
    cut: datetime
    source: str = ""
    fed: list[Fed] = field(default_factory=list)

    @property
    def died_soon(self) -> int:
        """How many died within a day of getting it."""
        return sum(one.died_soon for one in self.fed)

    @property
    def several_soon(self) -> bool:
        """Whether several died within a day of it."""
        return self.died_soon >= SEVERAL


def cuttings(entries: Iterable[Entry]) -> list[Cutting]:
    """Every cutting that was put in anywhere, the newest first."""
    bench = Bench()
    entries = list(entries)
    found: dict[tuple[str, str], Cutting] = {}
    for entry in that_count(entries):
        if isinstance(entry, k.HostIn):
            _put_in(bench, found, entry)
        elif isinstance(entry, k.HostOut):
            _taken_out(found, entry)
        elif isinstance(entry, k.Closed):
            for fed in _fed_by_now(found, entry.container):
                fed.taken_out = entry.at
        elif isinstance(entry, k.Looked) and entry.sign in ("weak", "mould"):
            for fed in _fed_by_now(found, entry.container):
                fed.signs.append(entry.sign)
        apply(bench, entry)
    for ended in course(entries).ended:
        if ended.fate == "died" and ended.cohort.stage not in ("egg", "pupa") and ended.cause not in NOT_OF_FOOD:
            for cutting in found.values():
                _died(cutting, ended)
    return sorted(found.values(), key=lambda one: (one.cut, one.batch), reverse=True)


def _put_in(bench: Bench, found: dict[tuple[str, str], Cutting], entry: k.HostIn) -> None:
    cutting = found.setdefault((entry.batch, entry.plant), Cutting(entry.batch, entry.plant, entry.cut or entry.at, entry.source))
    cutting.source = cutting.source or entry.source
    container = bench.at(entry.container)
    if container is None or container.purpose == "host store":
        return
    cutting.fed.append(Fed(entry.container, entry.at, stock=_stock(container)))


def _stock(container: Container) -> str:
    """What stood in a container, in words."""
    numbers = Counter[tuple[str, int]]()
    for lot in container.lots:
        numbers[lot.stage, lot.instar if lot.stage == "larva" else 0] += lot.number
    return ", ".join(
        f"{number} L{instar}" if instar else f"{number} {PLURALS[stage] if number != 1 else stage}"
        for (stage, instar), number in numbers.items()
    )


def _fed_by_now(found: dict[tuple[str, str], Cutting], code: str) -> list[Fed]:
    """What a container has in it now, of every cutting."""
    return [fed for cutting in found.values() for fed in cutting.fed if fed.container == code and fed.taken_out is None]


def _taken_out(found: dict[tuple[str, str], Cutting], entry: k.HostOut) -> None:
    if entry.lots:
        return  # kept stems, which feed nothing
    for cutting in found.values():
        if (entry.batch and cutting.batch != entry.batch) or (entry.plant and cutting.plant != entry.plant):
            continue
        for fed in cutting.fed:
            if fed.container == entry.container and fed.taken_out is None:
                fed.taken_out = entry.at


def _died(cutting: Cutting, ended: Ended) -> None:
    """A death counts for all food that the animals had within a day before, also where it, or they, are out again."""
    stays = ended.cohort.stays
    had: list[tuple[datetime, Fed]] = []
    for stay, until in zip(stays, [*(one.since for one in stays[1:]), ended.at], strict=True):
        for fed in cutting.fed:
            since = max(fed.put_in, stay.since)
            until_then = min(fed.taken_out or until, until)
            if fed.container == stay.container and since <= until_then and ended.at - until_then <= SOON:
                had.append((since, fed))
    if not had:
        return
    since, newest = max(had, key=lambda one: one[0])  # a cutting given twice is told of a death once
    number = ended.cohort.number
    newest.died_since += number
    newest.died_soon += number if ended.at - since <= SOON else 0
    where = stays[-1].container
    if where != newest.container:
        newest.died_elsewhere[where] = newest.died_elsewhere.get(where, 0) + number
