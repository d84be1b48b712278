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

from rounds.bench.cuttings import SAME_CUTTING
from rounds.bench.movements import Movement
from rounds.entries import registry as k
from rounds.entries.slots import each
from rounds.tallies.stems_in import StemsIn

if TYPE_CHECKING:
    from rounds.tallies.cohorts import Ended

# losses this soon after new food are pointed out; common practice, no source
SOON = timedelta(hours=24)
SEVERAL = 2
SIGNS = ("weak", "mould")


# What animals are known to have died of that no plant did.
NOT_OF_FOOD: frozenset[str] = each(
    "parasitised, old age, injury, ants, eaten, drowned, heat, cold, infertile, unhatched", by=", "
)


class Fed(Struct):
    """One container that got sprigs of a cutting: between when, what stood there, how many joined
    while they were in, by stage or instar, and what was lost."""

    container: str
    put_in: datetime
    taken_out: datetime | None = None
    stock: str = ""
    joined: Counter[str] = field(default_factory=Counter)
    died_soon: int = 0
    died_since: int = 0
    # of those that died since, where they had been moved to
    died_elsewhere: dict[str, int] = field(default_factory=dict)
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
        self._found: defaultdict[tuple[str, str], list[Cutting]] = defaultdict(list)
        self._given: defaultdict[str, list[tuple[Cutting, Fed]]] = defaultdict(list)
        # By container: what is in it still, and the cuttings that it keeps stems of.
        self._in: dict[str, list[tuple[Cutting, Fed]]] = {}
        self._stored: defaultdict[str, list[Cutting]] = defaultdict(list)

    def take(self, one: StemsIn | Movement | k.HostOut | k.Closed | k.Looked) -> None:
        """Add stems that come or go, animals that join them, or a sign that was seen."""
        if isinstance(one, StemsIn):
            self._put_in(one)
            return
        if isinstance(one, Movement):
            self._joined(one)
            return
        there = self._in.get(one.container, [])
        if isinstance(one, k.Looked):
            for _, fed in there:
                fed.signs.append(one.sign)
            return
        for cutting, fed in there:
            if _is_out(one, cutting):
                fed.taken_out = one.at
        self._in[one.container] = [known for known in there if known[1].taken_out is None]
        stored = self._stored[one.container]
        for cutting in stored:
            if _is_out(one, cutting) and (isinstance(one, k.Closed) or not one.sprigs):
                cutting.stores.discard(one.container)
        self._stored[one.container] = [known for known in stored if one.container in known.stores]

    def cuttings(self, ended: Iterable[Ended]) -> list[Cutting]:
        """Every cutting that was put in anywhere, the newest first, with what was lost of those
        that it fed; they are told of later lines too."""
        cuttings = [one for some in self._found.values() for one in some]
        for fed in (fed for cutting in cuttings for fed in cutting.fed):
            fed.died_soon = fed.died_since = 0
            fed.died_elsewhere = {}
        for death in ended:
            if (
                death.fate == "died"
                and death.cohort.stage not in ("egg", "pupa")
                and death.cause not in NOT_OF_FOOD
            ):
                _died(self._given, death)
        return sorted(cuttings, key=lambda one: (one.cut, one.batch), reverse=True)

    def _joined(self, one: Movement) -> None:
        before, after = one.before, one.after
        if after is None or (before is not None and before.container == after.container):
            return
        for _, fed in self._in.get(after.container, []):
            fed.joined[after.stage_name] += one.number

    def _put_in(self, one: StemsIn) -> None:
        of_letter = self._found[one.batch, one.plant]
        cutting = next((known for known in reversed(of_letter) if _is_of(known, one)), None)
        if cutting is None:
            cutting = Cutting(one.batch, one.plant, one.cut, one.source, one.cut_not_known)
            of_letter.append(cutting)
        cutting.source = cutting.source or one.source
        cutting.newest = max(cutting.newest or one.cut, one.cut)
        if one.stored:
            if one.container not in cutting.stores:
                cutting.stores.add(one.container)
                self._stored[one.container].append(cutting)
            return
        fed = Fed(one.container, one.at, stock=one.stock)
        cutting.fed.append(fed)
        self._given[one.container].append((cutting, fed))
        self._in.setdefault(one.container, []).append((cutting, fed))


def _is_out(line: k.HostOut | k.Closed, cutting: Cutting) -> bool:
    return isinstance(line, k.Closed) or (
        line.batch in ("", cutting.batch) and line.plant in ("", cutting.plant)
    )


def _is_of(cutting: Cutting, one: StemsIn) -> bool:
    """Whether stems of its letter are of that cutting: cut or put in with it, or kept in a store
    since."""
    newest = cutting.newest or cutting.cut
    return bool(cutting.stores) or cutting.cut - SAME_CUTTING <= one.cut <= newest + SAME_CUTTING


def _died(given: dict[str, list[tuple[Cutting, Fed]]], ended: Ended) -> None:
    """A death counts for all food that the animals had within a day before, also where it, or they,
    are out again."""
    stays = ended.cohort.stays
    # of each cutting: one given twice is told of a death once
    newest: dict[int, tuple[datetime, Fed]] = {}
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
