"""What each cutting of host plant fed, and what was lost there since: a fact beside a fact, no diagnosis."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from msgspec import Struct, field

from rounds.bench import kinds as k
from rounds.bench.folding import apply
from rounds.bench.kinds.base import Entry
from rounds.bench.state import PLURALS, Bench, Lot
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
    found: dict[tuple[str, str], Cutting] = {}
    for entry in that_count(entries):
        if isinstance(entry, k.HostIn):
            _put_in(bench, found, entry)
        elif isinstance(entry, k.HostOut):
            _taken_out(found, entry)
        elif isinstance(entry, k.Closed):
            for fed in _fed_by_now(found, entry.container):
                fed.taken_out = entry.at
        elif isinstance(entry, k.Died):
            _died(bench, found, entry)
        elif isinstance(entry, k.Looked) and entry.sign in ("weak", "mould"):
            for fed in _fed_by_now(found, entry.container):
                fed.signs.append(entry.sign)
        apply(bench, entry)
    return sorted(found.values(), key=lambda one: (one.cut, one.batch), reverse=True)


def _put_in(bench: Bench, found: dict[tuple[str, str], Cutting], entry: k.HostIn) -> None:
    cutting = found.setdefault((entry.batch, entry.plant), Cutting(entry.batch, entry.plant, entry.cut or entry.at, entry.source))
    cutting.source = cutting.source or entry.source
    container = bench.at(entry.container)
    if container is None or container.purpose == "host store":
        return
    stock = ", ".join(_animals(lot) for lot in container.lots)
    cutting.fed.append(Fed(entry.container, entry.at, stock=stock))


def _animals(lot: Lot) -> str:
    if lot.stage == "larva" and lot.instar:
        return f"{lot.number} L{lot.instar}"
    return f"{lot.number} {PLURALS[lot.stage] if lot.number != 1 else lot.stage}"


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


def _died(bench: Bench, found: dict[tuple[str, str], Cutting], entry: k.Died) -> None:
    """A death counts for all food that the animals had within a day before, also where it is out again."""
    container = bench.at(entry.container)
    if entry.stage in ("egg", "pupa") or container is None or entry.cause in NOT_OF_FOOD:
        return
    for cutting in found.values():
        # Of another cup, or put in before this one was washed and set up again: not theirs.
        theirs = [fed for fed in cutting.fed if fed.container == entry.container and fed.put_in >= container.since]
        had = [fed for fed in theirs if fed.taken_out is None or entry.at - fed.taken_out <= SOON]
        if had:
            newest = max(had, key=lambda fed: fed.put_in)  # a cutting given twice is told of a death once
            newest.died_since += entry.number
            newest.died_soon += entry.number if entry.at - newest.put_in <= SOON else 0
