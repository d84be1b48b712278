"""What each cutting of host plant fed, and what was lost of it since: a fact beside a fact, no
diagnosis.

A death counts for the cutting that the dead one had, also where it was moved, split off or merged
since.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from msgspec import Struct, field

from rounds.bench.plurals import of_stage
from rounds.bench.state import Bench, Container
from rounds.entries import registry as k
from rounds.entries.hosts import SAME_CUTTING

if TYPE_CHECKING:
    from rounds.tallies.cohorts import Ended

SOON = timedelta(
    hours=24
)  # losses this soon after new food are pointed out; common practice, no source
SEVERAL = 2
SIGNS = ("weak", "mould")


# What animals are known to have died of that no plant did.
NOT_OF_FOOD: frozenset[str] = frozenset(
    {"parasitised", "old age", "injury", "ants", "eaten", "drowned", "heat", "cold"}
)


class StemsIn(Struct, frozen=True, tag_field="what", tag="stems in", omit_defaults=True):
    """Stems of a cutting were put in: what stood there, in words, and the broods of which larvae
    did; none where they are stored."""

    at: datetime
    container: str
    batch: str
    plant: str
    cut: datetime
    source: str = ""
    stock: str = ""
    larvae: tuple[str, ...] = ()
    stored: bool = False
    cut_not_known: bool = False


class Fed(Struct):
    """One container that got sprigs of a cutting: between when, what stood there, and what was
    lost."""

    container: str
    put_in: datetime
    taken_out: datetime | None = None
    stock: str = ""
    died_soon: int = 0
    died_since: int = 0
    died_elsewhere: dict[str, int] = field(
        default_factory=dict
    )  # of those that died since, where they had been moved to
    signs: list[str] = field(default_factory=list)


class Cutting(Struct):
    """One cutting: batch letter, plant, when it was cut and where, and all that it fed, in the
    order of feeding.

    One letter may be two cuttings, where two laptops that knew nothing of each other gave it.
    ``newest`` is when stems of it were last said to be cut or put in, ``stores`` the containers
    that keep some.
    """

    batch: str
    plant: str
    cut: datetime
    source: str = ""
    cut_not_known: bool = False
    fed: list[Fed] = field(default_factory=list)
    newest: datetime | None = None
    stores: set[str] = field(default_factory=set)

    @property
    def key(self) -> str:
        """What tells it from all others."""
        return f"{self.batch}|{self.plant}|{self.cut.isoformat()}"

    @property
    def died_soon(self) -> int:
        """How many died within a day of getting it."""
        return sum(fed.died_soon for fed in self.fed)

    @property
    def several_soon(self) -> bool:
        """Whether several died within a day of it."""
        return self.died_soon >= SEVERAL


class BatchLosses:
    """Knows what each cutting fed, when, and what was seen then."""

    def __init__(self) -> None:
        self._lines: list[StemsIn | k.HostOut | k.Closed | k.Looked] = []

    def take(self, one: StemsIn | k.HostOut | k.Closed | k.Looked) -> None:
        """Add stems that come or go, or a sign that was seen."""
        self._lines.append(one)

    def cuttings(self, ended: Iterable[Ended]) -> list[Cutting]:
        """Every cutting that was put in anywhere, the newest first, with what was lost of those
        that it fed."""
        found: defaultdict[tuple[str, str], list[Cutting]] = defaultdict(list)
        given: defaultdict[str, list[tuple[Cutting, Fed]]] = defaultdict(list)  # by container
        for line in self._lines:
            if isinstance(line, StemsIn):
                _put_in(found, given, line)
                continue
            there = [
                (cutting, fed) for cutting, fed in given[line.container] if fed.taken_out is None
            ]
            if isinstance(line, k.Looked):
                for _, fed in there:
                    fed.signs.append(line.sign)
                continue
            for cutting, fed in there:
                if _is_out(line, cutting):
                    fed.taken_out = line.at
            for cutting in (
                cutting
                for some in found.values()
                for cutting in some
                if line.container in cutting.stores
            ):
                if _is_out(line, cutting) and (isinstance(line, k.Closed) or not line.sprigs):
                    cutting.stores.discard(line.container)
        for death in ended:
            if (
                death.fate == "died"
                and death.cohort.stage not in ("egg", "pupa")
                and death.cause not in NOT_OF_FOOD
            ):
                _died(given, death)
        return sorted(
            (one for some in found.values() for one in some),
            key=lambda one: (one.cut, one.batch),
            reverse=True,
        )


def stems_in(bench: Bench, entry: k.HostIn) -> Iterable[StemsIn]:
    """Stems put in, and what they feed.

    Args:
        bench: as it stood before the entry.
    """
    container = bench.at(entry.container)
    yield StemsIn(
        entry.at,
        entry.container,
        entry.batch,
        entry.plant,
        entry.cut or entry.at,
        entry.source,
        _stock(container) if container else "",
        tuple(dict.fromkeys(lot.brood for lot in container.lots_of("larva"))) if container else (),
        container is None or container.purpose == "host store",
        entry.cut_not_known,
    )


def _is_out(line: k.HostOut | k.Closed, cutting: Cutting) -> bool:
    return isinstance(line, k.Closed) or (
        line.batch in ("", cutting.batch) and line.plant in ("", cutting.plant)
    )


def _put_in(
    found: dict[tuple[str, str], list[Cutting]],
    given: dict[str, list[tuple[Cutting, Fed]]],
    one: StemsIn,
) -> None:
    of_letter = found[one.batch, one.plant]
    cutting = next((known for known in reversed(of_letter) if _is_of(known, one)), None)
    if cutting is None:
        cutting = Cutting(one.batch, one.plant, one.cut, one.source, one.cut_not_known)
        of_letter.append(cutting)
    cutting.source = cutting.source or one.source
    cutting.newest = max(cutting.newest or one.cut, one.cut)
    if one.stored:
        cutting.stores.add(one.container)
        return
    fed = Fed(one.container, one.at, stock=one.stock)
    cutting.fed.append(fed)
    given[one.container].append((cutting, fed))


def _is_of(cutting: Cutting, one: StemsIn) -> bool:
    """Whether stems of its letter are of that cutting: cut or put in with it, or kept in a store
    since."""
    newest = cutting.newest or cutting.cut
    return bool(cutting.stores) or cutting.cut - SAME_CUTTING <= one.cut <= newest + SAME_CUTTING


def _stock(container: Container) -> str:
    """What stood in a container, in words."""
    numbers = Counter[tuple[str, int]]()
    for lot in container.lots:
        numbers[lot.stage, lot.instar if lot.stage == "larva" else 0] += lot.number
    return ", ".join(
        of_stage(number, f"L{instar}" if instar else stage)
        for (stage, instar), number in numbers.items()
    )


def _died(given: dict[str, list[tuple[Cutting, Fed]]], ended: Ended) -> None:
    """A death counts for all food that the animals had within a day before, also where it, or they,
    are out again."""
    stays = ended.cohort.stays
    newest: dict[
        int, tuple[datetime, Fed]
    ] = {}  # of each cutting: one given twice is told of a death once
    for stay, until in zip(stays, [*(one.since for one in stays[1:]), ended.at], strict=True):
        if ended.at - until > SOON:
            continue
        for cutting, fed in given[stay.container]:
            since = max(fed.put_in, stay.since)
            until_then = min(fed.taken_out or until, until)
            if since <= until_then and ended.at - until_then <= SOON:
                known = newest.get(id(cutting))
                if known is None or since > known[0]:
                    newest[id(cutting)] = since, fed
    number, where = ended.cohort.number, stays[-1].container
    for since, fed in newest.values():
        fed.died_since += number
        fed.died_soon += number if ended.at - since <= SOON else 0
        if where != fed.container:
            fed.died_elsewhere[where] = fed.died_elsewhere.get(where, 0) + number
