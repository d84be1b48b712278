"""What lives in the simulated world, and how an hour passes for it."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import exp
from random import Random

from tests.season.numbers import STAGES, World
from tests.season.weather import Weather

FIRST, SECOND = "first plant", "second plant"
MOULTING_FROM = 0.84  # of an instar's time on, a larva sits still before its moult; assumed


@dataclass
class Animal:
    """One egg, larva or pupa; ``gone`` is how much of its stage is over, 0 to 1."""

    brood: str
    pace: float  # above 1 it takes longer
    viable: bool
    hidden: float  # the chance that a search by eye finds it
    fate: Random  # its own luck, the same whoever keeps it
    stage: int = 0
    gone: float = 0.0
    hungry_h: float = 0.0
    dry_h: float = 0.0
    entered: int = 0  # the hour at which the stage began
    found: bool = False
    plant: str = ""  # on which the egg was laid
    hatched_on: Stems | None = None  # the stems on which it hatched, if it did

    @property
    def name(self) -> str:
        """Of its stage."""
        return STAGES[self.stage]

    @property
    def moulting(self) -> bool:
        """Whether it sits still before a moult or pupation."""
        return 1 <= self.stage <= 5 and self.gone > MOULTING_FROM


@dataclass
class Female:
    """One wild female: what she takes to, how fast she lays, how long she lives."""

    code: str
    rate: float  # eggs a day, willing, warm and fed
    mated: bool
    accepts: frozenset[str]
    ready_h: float  # warm, fed hours with a plant she takes before the first egg
    life_h: float
    pace: float  # of her brood
    luck: str = ""  # what her own luck is drawn from, the same whoever keeps her
    thirst_h: float = 12.0
    lived_h: float = 0.0

    def chance(self, of: str, hour: int) -> float:
        """Her own draw of an hour, the same whoever keeps her, 0 to 1."""
        return Random(f"{self.luck} {of} {hour}").random()


@dataclass
class Stems:
    """A bunch cut at one time, and the eggs on it."""

    plant: str
    number: float
    fresh_h: float
    age_h: float = 0.0
    eggs: list[Animal] = field(default_factory=list)

    @property
    def edible(self) -> bool:
        """Whether an animal can still eat of it."""
        return self.number > 0.02 and self.age_h < self.fresh_h


@dataclass
class Cup:
    """One container: what is in it, and how it is kept."""

    code: str
    kind: str  # laying, kept, eggs, larvae, pupae
    shelf: str
    females: list[Female] = field(default_factory=list)
    stems: list[Stems] = field(default_factory=list)
    animals: list[Animal] = field(default_factory=list)
    dirt: float = 0.0
    shaded: bool = False
    frass: bool = False
    dead: int = 0  # bodies that lie in it
    adults: int = 0  # emerged and not yet taken out
    adult_h: float = 0.0
    ants: bool = False

    @property
    def food(self) -> bool:
        """Whether anything in it can be eaten."""
        return any(stems.edible for stems in self.stems)


@dataclass
class Truth:
    """All that is so, whoever knows it: cups, moats, and what was lost to what."""

    world: World
    weather: Weather
    random: Random
    cups: dict[str, Cup] = field(default_factory=dict)
    moats: dict[str, float] = field(default_factory=dict)  # mm by shelf
    ants: dict[str, bool] = field(default_factory=dict)
    lost: dict[str, int] = field(default_factory=dict)
    laid: int = 0
    hatched: int = 0
    discarded_viable: int = 0
    brought_out: int = 0
    crippled: int = 0
    changes: list[tuple[str, str, int, str]] = field(
        default_factory=list
    )  # brood, stage begun, hour, cup
    hour: int = 0

    def lose(self, cause: str, number: int = 1) -> None:
        """Count animals that died of a cause."""
        if number:
            self.lost[cause] = self.lost.get(cause, 0) + number

    def cup_c(self, cup: Cup) -> float:
        """The temperature in a cup."""
        sun = self.weather.sun_c(self.hour) if cup.shelf == "sill" else 0.0
        return self.weather.room_c(self.hour) + (0.3 * sun if cup.shaded else sun)

    def pass_hour(self) -> None:
        """Let one hour go by everywhere."""
        self._moats()
        for cup in list(self.cups.values()):
            warmth = self.cup_c(cup)
            self._stems(cup, warmth)
            self._females(cup, warmth)
            self._animals(cup, warmth)
            self._ants(cup)
        self.hour += 1

    def _moats(self) -> None:
        for shelf in self.moats:
            warm = 1.07 ** (self.weather.room_c(self.hour) - self.world.mean_c)
            self.moats[shelf] = max(0.0, self.moats[shelf] - self.world.moat_loss_mm / 24 * warm)
            if self.moats[shelf] < 1.0 and self.random.random() < self.world.ants_an_hour:
                self.ants[shelf] = True

    def _stems(self, cup: Cup, warmth: float) -> None:
        for stems in cup.stems:
            stems.age_h += 1.06 ** (warmth - 20.0)

    def _females(self, cup: Cup, warmth: float) -> None:
        world = self.world
        for female in list(cup.females):
            female.lived_h += 1
            female.thirst_h += max(0.3, 1 + 0.06 * (warmth - 20.0))
            cause = ""
            if female.lived_h > female.life_h:
                cause = "old age"
            elif (
                female.thirst_h > world.thirst_after_h
                and female.chance("thirst", self.hour) < world.thirst_hazard
            ):
                cause = "thirst"
            elif warmth > world.hottest_c and female.chance("heat", self.hour) < world.hot_hazard:
                cause = "heat"
            if cause:
                cup.females.remove(female)
                cup.dead += 1
                self.lose(f"female: {cause}")
                continue
            self._lay(cup, female, warmth)

    def _lay(self, cup: Cup, female: Female, warmth: float) -> None:
        of_day = self.hour % 24
        liked = [
            stems
            for stems in cup.stems
            if stems.plant in female.accepts and stems.age_h < stems.fresh_h
        ]
        fed = female.thirst_h < 0.8 * self.world.thirst_after_h
        if not liked or not fed or warmth < 18.0 or not 9 <= of_day <= 17:
            return
        female.ready_h -= 1
        if female.ready_h > 0:
            return
        world = self.world
        bright = 1.25 if self.weather.sunny(self.hour) else 0.6
        mean = female.rate / 9 * bright * (1 - 0.5 * female.lived_h / female.life_h) / world.cluster
        luck = Random(f"{female.luck} lays {self.hour}")
        for clutch in range(_poisson(mean, luck)):
            stems = luck.choice(liked)
            for number in range(world.cluster):
                stems.eggs.append(self._egg(female, stems.plant, f"{self.hour} {clutch} {number}"))
                self.laid += 1

    def _egg(self, female: Female, plant: str, which: str) -> Animal:
        world, fate = self.world, Random(f"{female.luck} egg {which}")
        hidden = fate.betavariate(
            world.seen_by_eye * world.seen_spread, (1 - world.seen_by_eye) * world.seen_spread
        )
        pace = female.pace * max(0.6, fate.gauss(1.0, world.between_animals))
        viable = female.mated and fate.random() < world.viable_share
        return Animal(female.code, pace, viable, hidden, fate, entered=self.hour, plant=plant)

    def _animals(self, cup: Cup, warmth: float) -> None:
        rate = speed(self.world, warmth)
        for stems in cup.stems:
            for egg in list(stems.eggs):
                self._grow(cup, egg, rate, warmth, stems)
        for animal in list(cup.animals):
            self._grow(cup, animal, rate, warmth, None)
        if cup.adults:
            cup.adult_h += 1
            spoiled = sum(
                self.random.random() < self.world.cripple_hazard for _ in range(cup.adults)
            )
            cup.adults -= spoiled
            self.crippled += spoiled
            self.lose("adult spoiled in the pupal cup", spoiled)

    def _grow(self, cup: Cup, animal: Animal, rate: float, warmth: float, on: Stems | None) -> None:
        home = on.eggs if on is not None else cup.animals
        cause = self._harm(cup, animal, warmth)
        if cause:
            home.remove(animal)
            if animal.stage > 0 and on is None:
                cup.dead += 1
            if animal.stage == 0 and not animal.viable:
                cause = "not viable"  # whatever became of it
            self.lose(
                f"{'egg' if animal.stage == 0 else 'pupa' if animal.stage == 6 else 'larva'}: {cause}"
            )
            return
        if animal.stage == 0 and not animal.viable:
            return
        eats = 1 <= animal.stage <= 5 and not animal.moulting
        if eats and not self._eat(cup, animal):
            return
        animal.gone += rate / (24 * self.world.days_at_20[animal.stage] * animal.pace)
        if animal.gone >= 1.0:
            self._pass_stage(cup, animal, home, on)

    def _eat(self, cup: Cup, animal: Animal) -> bool:
        """Whether it has had something to eat this hour."""
        edible = next((stems for stems in cup.stems if stems.edible), None)
        if edible is None:
            animal.hungry_h += 1
            return False
        eaten = self.world.eaten_a_day[animal.stage] / 24
        edible.number -= eaten
        cup.dirt = min(1.0, cup.dirt + eaten * self.world.dirt_a_stem)
        cup.frass = True
        animal.hungry_h = 0.0
        return True

    def _harm(self, cup: Cup, animal: Animal, warmth: float) -> str:
        world, chance = self.world, animal.fate.random()
        if warmth > world.hottest_c:
            if chance < world.hot_hazard:
                return "heat"
            chance = animal.fate.random()
        if animal.stage in (0, 6):
            animal.dry_h += (100 - world.humidity_percent) / 45
            return (
                "drying" if animal.dry_h > world.dry_after_h and chance < world.dry_hazard else ""
            )
        if animal.hungry_h > world.hunger_after_h[animal.stage] and chance < world.hunger_hazard:
            return "hunger"
        chance = animal.fate.random()
        if chance < world.background_hazard:
            return "not known"
        return (
            "mould" if chance < world.background_hazard + world.mould_hazard * cup.dirt**2 else ""
        )

    def _pass_stage(self, cup: Cup, animal: Animal, home: list[Animal], on: Stems | None) -> None:
        animal.stage += 1
        animal.gone = 0.0
        animal.entered = self.hour
        if animal.stage == 7:
            home.remove(animal)
            cup.adults += 1
            self.changes.append((animal.brood, "adult", self.hour, cup.code))
            return
        self.changes.append((animal.brood, animal.name, self.hour, cup.code))
        if animal.stage == 1:
            self.hatched += 1
            if on is not None:
                home.remove(animal)
                animal.hatched_on = on
                cup.animals.append(animal)

    def _ants(self, cup: Cup) -> None:
        cup.ants = self.ants.get(cup.shelf, False)
        if not cup.ants:
            return
        for home in (cup.animals, *(stems.eggs for stems in cup.stems)):
            for animal in list(home):
                if animal.stage in (0, 1, 2, 6) and animal.fate.random() < self.world.ant_kill:
                    home.remove(animal)
                    self.lose("ants")


def _poisson(mean: float, luck: Random) -> int:
    limit, product, number = exp(-mean), luck.random(), 0
    while product > limit:
        product *= luck.random()
        number += 1
    return number


def speed(world: World, warmth: float) -> float:
    """Development at a temperature, 1 at 20 C: a curve with an optimum that is no line (Briere et al. 1999, their first form)."""

    def briere(at: float) -> float:
        if not world.coldest_c < at < world.hottest_c:
            return 0.0
        return at * (at - world.coldest_c) * (world.hottest_c - at) ** 0.5

    return briere(warmth) / briere(20.0)
