"""Simulated laying: whether the chance of hidden eggs that is told comes true as often as it says, and what is discarded.

A season has a species of its own: how fast it lays, whether it takes to the plant, how well its eggs are seen, how many
hatch, how warm they need it. Females differ, eggs differ in how easily they are seen (the program takes them alike), and
all of it is drawn, not taken from the program's formulas. What the keeper does is entered into a bench as lines are, and
the chance is asked of the bench as the pages ask it. All numbers are assumed, but those with a source.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from math import exp
from random import Random
from typing import Any

from rounds.bench.folding import apply
from rounds.bench.state import Bench, KeptLot
from rounds.biology.thermal_constants import any_error, constants_for
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.entries.entry_factory import build
from rounds.forecasts.foresight import Forecasts

SPECIES, PLANT = "Melanargia ficta", "fictive grass"  # of no genus that has constants
BEGIN = datetime(2027, 5, 1, 7, tzinfo=UTC)
ROOM_C = 20.0
LAYS = 0.82  # 39 of 48 and 7 of 8 wild females (sources in forecasts/kept_stems.py)
TAKES_TO_IT = 0.8  # of females, the plant
STANDS, BUNCHES = 2, 4  # days that a bunch stands with her, bunches a female
SHOWN_BY_A_LOOK = 0.9
BROODS_DIFFER = 0.06  # as in the worlds of tests/season
ASKED = (1, 4, 8, 12)  # days after it was taken out
WATCHED = 32  # days a lot is watched at most


@dataclass
class Egg:
    """When it was laid, when it hatches [days; None never], how easily it is seen."""

    laid: float
    hatches: float | None
    seen: float
    found: bool = False


@dataclass
class Lot:
    """A bunch and what is truly on it."""

    name: str
    eggs: list[Egg] = field(default_factory=list)
    shown: bool = False
    gone: bool = False

    def viable_hidden(self) -> bool:
        """Whether an egg that nobody found is on it, alive or hatched unseen."""
        return any(egg.hatches is not None and not egg.found for egg in self.eggs)


@dataclass(frozen=True)
class Told:
    """What was told at a time, and whether it was so."""

    chance: float
    there: bool


@dataclass
class Result:
    """What came of some seasons."""

    told: list[Told] = field(default_factory=list)
    lots: int = 0
    discarded: int = 0
    lost: int = 0  # lots discarded with viable eggs

    def fifths(self) -> Iterator[tuple[int, float, float]]:
        """For each fifth of the chances told: how many, the mean told, the share that was so."""
        for fifth in range(5):
            some = [one for one in self.told if min(4, int(one.chance * 5)) == fifth]
            if some:
                yield (
                    len(some),
                    sum(one.chance for one in some) / len(some),
                    sum(one.there for one in some) / len(some),
                )


class Season:
    """One season at one bench."""

    def __init__(self, random: Random, result: Result, *, looks: bool) -> None:
        self.random, self.result, self.looks = random, result, looks
        self.bench, self.entries = Bench(), 0
        self.day = 0.0
        self.pace = exp(random.gauss(0, 0.6)) * 1.5  # eggs a day of a female that lays
        self.seen_by = {"naked eye": random.betavariate(12, 18), "lens": random.betavariate(18, 12)}
        self.viable = random.betavariate(8, 2)
        near, far = any_error("egg")
        off = random.gauss(0, 1)
        known = constants_for(SPECIES, "egg")
        assert known is not None
        self.hatch_days = (
            known.constants.constant_dd
            * exp(off * (far if off > 0 else near))
            / (ROOM_C - known.constants.lower_c)
        )
        self.searches = random.choice(
            (0.0, 0.5, 0.9)
        )  # share of days on which standing plants are searched
        self.lots: dict[str, Lot] = {}
        self.waiting: list[tuple[str, str, Egg]] = []  # eggs found: container, brood

    def record(self, kind: type[Entry], **fields: Any) -> None:
        """One line into the book."""
        self.entries += 1
        at = BEGIN + timedelta(days=self.day)
        apply(
            self.bench,
            build(kind, fields, entry_id=f"{self.entries:09d}", at=at, logged=at, by="SIM"),
        )

    def egg(self, laid: float, brood: float) -> Egg:
        """One egg laid then, of a female whose eggs take so much of the usual time."""
        random = self.random
        hatches = (
            laid + self.hatch_days * brood * max(0.6, random.gauss(1, 0.08))
            if random.random() < self.viable
            else None
        )
        return Egg(laid, hatches, random.gauss(0, 0.35))

    def search(self, code: str, lot: Lot, aid: str, **where: Any) -> None:
        """Search some stems; what is found is taken off."""
        share = self.seen_by[aid]
        there = [
            egg
            for egg in lot.eggs
            if not egg.found
            and egg.laid <= self.day
            and (egg.hatches is None or egg.hatches > self.day)
        ]
        found = [egg for egg in there if self.random.random() < min(0.97, share * exp(egg.seen))]
        for egg in found:
            egg.found = True
        brood = f"{code}/A" if found else ""
        if brood and brood not in self.bench.broods:
            self.record(
                k.BroodBegun,
                code=brood,
                taxon=SPECIES,
                mothers=(f"F{where.get('female', code[1:])}",),
            )
        where.pop("female", None)
        at = where.pop("container", code)
        self.waiting += [(at, brood, egg) for egg in found]
        self.record(k.Searched, container=at, found=len(found), aid=aid, brood=brood, **where)

    def go(self) -> None:
        """Let the season pass: three females, one after the other bunch, then what is kept is watched."""
        self.record(k.SetUp, container="E1", purpose="host store")
        self.record(k.Air, temperature_c=ROOM_C)
        females = range(1, 4)
        rates, broods = {}, {}
        for one in females:
            broods[one] = exp(self.random.gauss(0, BROODS_DIFFER))
            self.record(k.SetUp, container=f"K{one}", purpose="laying")
            self.record(
                k.FounderIntake, container=f"K{one}", code=f"F{one}", taxon=SPECIES, sex="female"
            )
            willing = self.random.random() < LAYS and self.random.random() < TAKES_TO_IT
            rates[one] = self.pace * self.random.gammavariate(2.8, 1 / 2.8) if willing else 0.0
        for bunch in range(BUNCHES):
            standing = {one: Lot(f"K{one} {bunch}") for one in females}
            for one in females:
                self.record(
                    k.HostIn,
                    container=f"K{one}",
                    plant=PLANT,
                    kept="water",
                    batch=f"{bunch}",
                    sprigs=9,
                )
            start = self.day
            for day in range(1, STANDS + 1):
                for one, lot in standing.items():
                    count = _poisson(self.random, rates[one])
                    lot.eggs += [
                        self.egg(start + day - self.random.random(), broods[one])
                        for _ in range(count)
                    ]
                self.day = start + day
                self.watch()
                for one, lot in standing.items():
                    if self.random.random() < self.searches:
                        self.search(f"K{one}", lot, "naked eye")
            for one, lot in standing.items():
                self.record(
                    k.HostOut,
                    container=f"K{one}",
                    plant=PLANT,
                    batch=f"{bunch}",
                    fate="held",
                    held_in="E1",
                )
                held = next(
                    held
                    for held in self.bench.containers["E1"].held
                    if held.batch == f"{bunch}" and held.source == f"K{one}"
                )
                self.lots[held.lot] = lot
                self.result.lots += 1
                if self.random.random() < 0.5:
                    self.search(
                        f"K{one}", lot, "lens", container="E1", lots=(held.lot,), female=one
                    )
        for _ in range(WATCHED):
            self.day += 1
            self.watch()

    def watch(self) -> None:
        """Once a day: see which of the eggs found hatched, look for frass, ask for each lot's chance, discard what may go."""
        out = Counter(
            (at, brood)
            for at, brood, egg in self.waiting
            if egg.hatches is not None and egg.hatches <= self.day
        )
        for (at, brood), number in out.items():
            self.record(k.Hatched, container=at, brood=brood, number=number)
        late = self.hatch_days * 1.4
        gone = Counter(
            (at, brood)
            for at, brood, egg in self.waiting
            if egg.hatches is None and egg.laid + late <= self.day
        )
        for (at, brood), number in gone.items():
            self.record(k.Died, container=at, brood=brood, number=number, stage="egg")
        self.waiting = [
            one
            for one in self.waiting
            if (one[2].hatches is None and one[2].laid + late > self.day)
            or (one[2].hatches is not None and one[2].hatches > self.day)
        ]
        store = self.bench.containers["E1"]
        for held in list(store.held):
            lot = self.lots[held.lot]
            hatched = [
                egg
                for egg in lot.eggs
                if not egg.found and egg.hatches is not None and egg.hatches <= self.day
            ]
            if self.looks:
                shown = any(self.random.random() < SHOWN_BY_A_LOOK for _ in hatched)
                self.record(
                    k.FrassSeen,
                    container="E1",
                    level="trace" if shown else "none",
                    lots=(held.lot,),
                )
                if shown:
                    self.out(held, "hatched")
        foresight = Forecasts(self.bench, UTC)
        for held in list(store.held):
            self.ask(held, self.lots[held.lot], foresight)

    def ask(self, held: KeptLot, lot: Lot, foresight: Forecasts) -> None:
        """What is told of a lot now; it goes if it may."""
        now = BEGIN + timedelta(days=self.day)
        chance = foresight.chance(self.bench.containers["E1"], held, now)
        age = (now - held.taken_out) / timedelta(days=1)
        if age in ASKED:
            self.result.told.append(Told(chance.chance, lot.viable_hidden()))
        if chance.may_go:
            self.result.discarded += 1
            self.result.lost += lot.viable_hidden()
            self.out(held, "binned")

    def out(self, held: KeptLot, fate: str) -> None:
        """A lot leaves the bench."""
        self.record(k.HostOut, container="E1", plant=PLANT, fate=fate, lots=(held.lot,))


def _poisson(random: Random, mean: float) -> int:
    number, left = 0, random.expovariate(1.0)
    while left < mean:
        number, left = number + 1, left + random.expovariate(1.0)
    return number


def result_of(seed: int, seasons: int, *, looks: bool = True) -> Result:
    """What comes of so many seasons."""
    random, result = Random(seed), Result()
    for _ in range(seasons):
        Season(random, result, looks=looks).go()
    return result


if __name__ == "__main__":
    for looked in (True, False):
        known = result_of(1, 150, looks=looked)
        print(
            f"looks {'made' if looked else 'not made'}: {known.lots} lots, {known.discarded} discarded, {known.lost} with viable eggs"
        )
        for number, said, so in known.fifths():
            print(f"  told {said:4.0%}, so {so:4.0%}, {number} times")
        print("  ", Counter(round(one.chance, 1) for one in known.told))
