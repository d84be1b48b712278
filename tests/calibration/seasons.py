"""Broods in the worlds of the season: whether each window that is told holds nine in ten, by change and by basis.

A season has a species of its own. How far it is off from what is told of it is drawn from the errors of the collected species
(each left out in turn), or for a paper's constants from those of the collected studies of one species; its last instar is the longer the longer
its larvae take beside any species', as in the species with published instars. The errors of some seasons are spread evenly over
those collected, so that a few seasons stand for many. Development follows the curve of the world, not a line; broods and animals
differ, some eggs never hatch, some larvae die. A keeper looks at the rounds of the season (late or missed now and then) and reads
the room then; what is seen is entered into a bench as lines are, and the window is asked of the bench as its pages ask it: of each
animal at any hour of each stage and instar. Own broods are others of which
some were through the stage when it was asked; so that who is quick weighs no more in one basis than in the other.

    python -m tests.calibration.seasons --seasons 40 --first 5000
"""

from __future__ import annotations

import argparse
import sys
from bisect import bisect_left
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from math import exp, inf, lcm, log
from random import Random
from statistics import median
from typing import Any, TypeVar

from rounds.bench.folding import apply
from rounds.bench.state import Bench
from rounds.biology import thermal_constants as lines
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.entries.entry_factory import build
from rounds.forecasts.foresight import Forecasts
from tests.calibration.species import cases
from tests.published.errors_of_lines import MEASURED_AT
from tests.season.life import speed
from tests.season.numbers import WORLDS, World
from tests.season.play import rounds_of
from tests.season.weather import Weather

BEGIN = datetime(2027, 4, 20, tzinfo=UTC)
DAYS = 150
STAGES = ("egg", "L1", "L2", "L3", "L4", "L5", "pupa")
CHANGES = ("hatch", "moult", "moult", "moult", "moult", "pupation", "emergence")
OF_PAPERS = ("egg", "larva", "pupa")  # most give no line of an instar
UNKNOWN, RELATIVE, OWN = "Ficta ignota", "Spodoptera ficta", "Melanargia ficta"
INSTARS = (1.0, 0.85, 0.85, 0.85, 2.2)  # of the species with published lines of every instar
LAST_LONGER, INSTARS_VARY = 0.9, 0.15  # the last by a larva's own error, each by luck: the same
# multiples of each fall evenly between nought and one: the golden ratio, the roots of 2 and 3
EVENLY = {"larva": 0.6180339887498949, "egg": 0.4142135623730951, "pupa": 0.7320508075688772}
LAID_ON = (5, 17, 29, 41)  # days on which a brood begins; before that the room is read
NUMBER = 14
One = TypeVar("One")


@dataclass(frozen=True)
class Told:
    """What was told of one animal in its stage or instar: whether it came inside, how late, as a share of the stage, and how many
    hours that took."""

    basis: str
    change: str
    inside: bool
    late: float
    hours: float


@dataclass
class Animal:
    """When each stage of one animal ends [hours], infinite where it never does; where it stands on record."""

    ends: list[float]
    dies: float
    stage: int = 0
    gone: bool = False
    ask: float = 0.0  # when it is asked of this stage: any hour of it
    told: dict[int, tuple[str, float, float, float, float]] = field(default_factory=dict)


def errors_of(stage: str, *, genus: bool) -> dict[str, float]:
    """How far each collected species is off from its genus, or from any, in logarithms of days, itself left out."""
    own = {name: lines.combined(some) for name, some in lines.lines_of(stage).items()}
    found = {}
    for name, true in own.items():
        near = [
            one
            for other, one in own.items()
            if other != name and (not genus or other.split()[0] == name.split()[0])
        ]
        if near:
            told = lines.combined(near)
            rates = [(told.rate(at), true.rate(at)) for at in MEASURED_AT]
            errors = [log(one / other) for one, other in rates if one > 0 and other > 0]
            if errors:
                found[name] = median(errors)
    return found


@lru_cache(maxsize=8)
def studies_off(stage: str) -> list[float]:
    """How far collected studies of a species are off from its other studies, in logarithms of days, each species as often."""
    found = [
        [
            error
            for case in cases()
            if (case.basis, case.stage, case.name) == ("its own", stage, name)
            for error in case.errors
        ]
        for name in sorted(lines.lines_of(stage))
    ]
    often = lcm(*(len(errors) for errors in found if errors))
    return [error for errors in found for error in sorted(errors) * (often // max(1, len(errors)))]


def evenly(some: Sequence[One], place: float) -> One:
    """The one at a place between nought and one, each as likely."""
    return some[int(place * len(some))]


class Season:
    """One season of one species in one world."""

    def __init__(self, world: World, basis: str, seed: int, every: int = 1) -> None:
        self.random = Random(f"calibration {world.name} {basis} {seed}")
        self.world, self.basis, self.every = world, basis, every
        self.weather = Weather(world, DAYS, Random(f"weather {seed}"))
        self.walked = sorted(rounds_of(seed, DAYS))
        rates = [speed(world, self.weather.room_c(hour)) for hour in range(24 * DAYS)]
        self.grown = [0.0]  # days at 20 C that have passed, by the hour
        for rate in rates:
            self.grown.append(self.grown[-1] + rate / 24)
        self.bench, self.entries, self.hour = Bench(), 0, 0
        self.taxon = {"unknown": UNKNOWN, "relative": RELATIVE, "paper": OWN}[basis]
        turn = seed * len(WORLDS) + WORLDS.index(world)
        self.places = {stage: (step * turn) % 1 for stage, step in EVENLY.items()}
        self.days_at_20 = self._species()
        self.broods: dict[str, list[Animal]] = {}

    def record(self, kind: type[Entry], **fields: Any) -> None:
        """One line into the book."""
        self.entries += 1
        at = BEGIN + timedelta(hours=self.hour)
        apply(
            self.bench,
            build(kind, fields, entry_id=f"{self.entries:09d}", at=at, logged=at, by="SIM"),
        )

    def _species(self) -> list[float]:
        """Days at 20 C of each stage, as they truly are; what a paper says of them goes into the book."""
        random, world, days = self.random, self.world, {}
        near = self.basis == "relative"
        of_any = errors_of("larva", genus=False)
        larvae = sorted(
            errors_of("larva", genus=True) if near else of_any, key=lambda one: of_any[one]
        )
        of_larvae = evenly(larvae, self.places["larva"])
        for stage in OF_PAPERS:
            if self.basis == "paper":
                of = {"egg": (0, 1), "larva": (1, 6), "pupa": (6, 7)}[stage]
                days[stage] = sum(world.days_at_20[of[0] : of[1]])
                low, high = (speed(world, at) / days[stage] for at in (18.0, 26.0))
                constant = 8.0 / (high - low) / exp(evenly(studies_off(stage), self.places[stage]))
                lower = 18.0 - low * 8.0 / (high - low)
                self.record(
                    k.ThermalConstants,
                    taxon=self.taxon,
                    stage=stage,
                    lower_c=round(lower, 1),
                    constant_dd=round(constant, 1),
                )
                continue
            known = lines.constants_for(self.taxon, stage)
            assert known is not None
            assert known.whose == ("genus" if near else "any")
            errors = errors_of(stage, genus=near)
            off = errors[
                of_larvae if stage == "larva" else evenly(list(errors), self.places[stage])
            ]
            days[stage] = exp(off) / known.constants.rate(21.0) * speed(world, 21.0)
        takes = [one * exp(random.gauss(0, INSTARS_VARY)) for one in INSTARS]
        takes[-1] *= exp(LAST_LONGER * of_any[of_larvae])
        larva = [one / sum(takes) * days["larva"] for one in takes]
        return [days["egg"], *larva, days["pupa"]]

    def _hour_of(self, grown: float) -> float:
        """When so much has grown [hours]."""
        place = bisect_left(self.grown, grown)
        if place >= len(self.grown):
            return inf
        before, after = self.grown[max(0, place - 1)], self.grown[place]
        return place - 1 + (grown - before) / (after - before) if after > before else float(place)

    def _lay(self, code: str, since: int) -> None:
        """Eggs laid between two searches are found, and put into a cup of their own."""
        random, world = self.random, self.world
        brood = max(0.8, random.gauss(1.0, world.between_broods))
        animals = []
        for _ in range(NUMBER):
            laid = random.uniform(since, self.hour)
            pace = brood * max(0.6, random.gauss(1.0, world.between_animals))
            before = int(laid)
            at = self.grown[before] + (laid - before) * (
                self.grown[before + 1] - self.grown[before]
            )
            ends = []
            for days in self.days_at_20:
                at += days * pace
                ends.append(self._hour_of(at))
            if random.random() > world.viable_share:
                ends = [inf] * len(STAGES)
            dies = (
                ends[0] + random.expovariate(world.background_hazard)
                if ends[0] < inf
                else self.hour + 480.0
            )
            animals.append(Animal(ends, dies if dies < ends[5] else inf))
            self._ask(animals[-1])
        self.broods[code] = animals
        at_laid = BEGIN + timedelta(hours=since)
        self.record(k.SetUp, container=code, purpose="rearing")
        self.record(k.BroodBegun, code=f"{code}/A", taxon=self.taxon)
        self.record(
            k.Stocked,
            container=code,
            brood=f"{code}/A",
            stage="egg",
            number=NUMBER,
            laid_from=at_laid,
            laid_to=BEGIN + timedelta(hours=self.hour),
        )

    def _look(self, code: str) -> None:
        """See what became of the animals of a cup."""
        changed = False
        died: Counter[int] = Counter()
        for animal in self.broods[code]:
            if not animal.gone and animal.dies <= self.hour:
                animal.gone = changed = True
                died[animal.stage] += 1
        for stage, number in died.items():
            more = {"stage": "larva", "instar": stage} if 1 <= stage <= 5 else {"stage": "egg"}
            self.record(k.Died, container=code, number=number, **more)
        for stage in reversed(range(len(STAGES))):
            through = [
                one
                for one in self.broods[code]
                if not one.gone and one.stage == stage and one.ends[stage] <= self.hour
            ]
            if not through:
                continue
            changed, number = True, len(through)
            if stage == 0:
                self.record(k.Hatched, container=code, number=number)
            elif stage < 5:
                self.record(k.Moulted, container=code, number=number, instar=stage + 1)
            elif stage == 5:
                self.record(k.Pupated, container=code, number=number)
            else:
                self.record(k.Emerged, container=code, number=number)
                self.record(k.Released, container=code, number=number, stage="adult")
            for animal in through:
                animal.stage += 1
                animal.gone = animal.stage == len(STAGES)
                self._ask(animal)
        if not changed:
            self.record(k.Looked, container=code, sign="as usual")

    def _ask(self, animal: Animal) -> None:
        if not animal.gone:
            end = min(animal.ends[animal.stage], animal.dies)
            animal.ask = self.random.uniform(self.hour, end) if end < inf else inf

    def _asked(self, code: str) -> list[Animal]:
        """The animals of a cup whose hour to be asked about has come."""
        return [
            one
            for one in self.broods[code]
            if not one.gone and one.ask <= self.hour and one.stage not in one.told
        ]

    def _basis(self, code: str, stage: int) -> str:
        """What is told rests on own broods where another one was through the stage, or some of
        it."""
        others = (one for other, some in self.broods.items() if other != code for one in some)
        return (
            f"{self.basis}, own broods" if any(one.stage > stage for one in others) else self.basis
        )

    def _told(self, code: str, foresight: Forecasts) -> None:
        """What is told now of those that are asked about."""
        fresh = self._asked(code)
        container = self.bench.containers[code]
        for coming in foresight.coming(container):
            for animal in fresh:
                instar = animal.stage if 1 <= animal.stage <= 5 else 0
                if coming.change != CHANGES[animal.stage] or coming.instar != instar:
                    continue
                assert coming.low is not None
                assert coming.half is not None
                high_at = coming.high or BEGIN + timedelta(days=1_000)  # not within 400 days
                basis = self._basis(code, animal.stage)
                low, half, high = (
                    (one - BEGIN) / timedelta(hours=1) for one in (coming.low, coming.half, high_at)
                )
                begun = (coming.begun_from - BEGIN) / timedelta(hours=1)
                animal.told[animal.stage] = basis, low, half, high, begun

    def go(self) -> list[Told]:
        """Let it pass."""
        laid = list(LAID_ON)
        before = 0
        for hour in self.walked:
            self.hour = hour
            self.record(k.Air, temperature_c=round(self.weather.room_c(hour), 1))
            for code, animals in self.broods.items():
                if hour // 24 % self.every == 0 and not all(one.gone for one in animals):
                    self._look(code)
            if laid and hour >= 24 * laid[0]:
                self._lay(f"E{laid.pop(0)}", before)
            asked = [code for code in self.broods if self._asked(code)]
            if asked:
                foresight = Forecasts(self.bench, UTC)
                for code in asked:
                    self._told(code, foresight)
            before = hour
        return list(self._outcomes())

    def _outcomes(self) -> Iterable[Told]:
        for animals in self.broods.values():
            for animal in animals:
                for stage, (basis, low, half, high, begun) in animal.told.items():
                    truth = animal.ends[stage]
                    if truth == inf or truth > animal.dies:
                        continue
                    since = animal.ends[stage - 1] if stage else begun
                    late = (truth - half) / (truth - since)
                    yield Told(basis, CHANGES[stage], low <= truth <= high, late, truth - since)


@dataclass(frozen=True)
class Score:
    """Share inside the nine-in-ten window, and how late the middle one came, as a share of its stage."""

    inside: float
    bias: float
    animals: int


def score(told: Sequence[Told]) -> Score:
    """Over all hours in which the animals of some seasons could be asked about.

    Each is asked about once a stage, at any hour of it; so each counts for as many hours as it took. Counted alike, those
    that are quick would weigh more than in what a keeper is told round after round, and half would seem late by as much.
    """
    hours, late, passed = sum(one.hours for one in told), 0.0, 0.0
    for one in sorted(told, key=lambda one: one.late):
        late, passed = one.late, passed + one.hours
        if 2 * passed >= hours:
            break
    return Score(sum(one.hours for one in told if one.inside) / hours, late, len(told))


def table(
    first: int, seasons: int, worlds: Sequence[World] = WORLDS, every: int = 1
) -> dict[tuple[str, str, str], list[Told]]:
    """By world, basis and change; the world '' is all of them; cups are looked at on one of so many days."""
    found: dict[tuple[str, str, str], list[Told]] = defaultdict(list)
    for world in worlds:
        for basis in ("paper", "relative", "unknown"):
            for seed in range(first, first + seasons):
                for told in Season(world, basis, seed, every).go():
                    found[world.name, told.basis, told.change].append(told)
                    found["", told.basis, told.change].append(told)
    return dict(sorted(found.items()))


def main(arguments: Sequence[str]) -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(prog="python -m tests.calibration.seasons")
    parser.add_argument("--seasons", type=int, default=20, help="of each basis in each world")
    parser.add_argument("--first", type=int, default=5000, help="the first seed")
    parser.add_argument("--every", type=int, default=1, help="cups are looked at, of so many days")
    options = parser.parse_args(arguments)
    for (world, basis, change), told in table(
        options.first, options.seasons, every=options.every
    ).items():
        found = score(told)
        print(
            f"{world or 'all':15} {basis:21} {change:10} inside {found.inside:5.1%},"
            f" late by {found.bias:+.1%} of the stage, {found.animals} animals"
        )


if __name__ == "__main__":
    main(sys.argv[1:])
