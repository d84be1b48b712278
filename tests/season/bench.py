"""What a keeper can see and do in the simulated world; each act costs seconds, and nobody sees more than is to be seen."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from tests.season.life import FIRST, SECOND, Animal, Cup, Female, Stems, Truth
from tests.season.numbers import World
from tests.season.weather import Weather

SHELVES = ("sill", "shelf A", "shelf B")
FULL_MM = 20.0
COLLAPSED_H = 480  # assumed


@dataclass(frozen=True)
class Sight:
    """What a look shows: animals by stage, who sits still, bodies, adults that are out, whether food is left."""

    stages: dict[str, int]
    still: int
    dead: int
    adults: int
    females: int
    food: bool
    limp: bool
    wet: bool
    dark_eggs: int
    coloured: int
    ants: bool
    hot: bool


class Bench:
    """One keeper's bench in one world.

    Args:
        seed: the same seed gives the same weather, the same females and the same fates as far as acts are the same.
    """

    def __init__(self, world: World, seed: int, days: int = 68) -> None:
        self.world = world
        self.days = days
        weather = Weather(world, days, Random(f"weather {seed}"))
        self.truth = Truth(world, weather, Random(f"fate {seed}"))
        self.seconds = 0.0
        self.today_s = 0.0
        self._plants = Random(f"plants {seed}")
        females = Random(f"females {seed}")
        arrivals = [
            (females.randint(0, 9), self._female(females, place, seed))
            for place in range(females.randint(4, 7))
        ]
        self.arrivals = sorted(arrivals, key=lambda arrival: arrival[0])  # day, female
        for shelf in SHELVES:
            self.truth.moats[shelf] = FULL_MM

    def _female(self, random: Random, place: int, seed: int) -> Female:
        world = self.world
        shape = 1 / world.between_females**2
        likes = {FIRST: world.accepts_first, SECOND: world.accepts_second}
        accepts = frozenset(plant for plant, share in likes.items() if random.random() < share)
        return Female(
            code=f"W{place + 2}",
            rate=random.gammavariate(shape, world.eggs_a_day / shape),
            mated=random.random() > world.unmated_share,
            accepts=accepts or frozenset({SECOND}),
            ready_h=9 * random.expovariate(1 / world.settle_days),
            life_h=24 * max(3.0, random.gammavariate(6, world.lifespan_days / 6)),
            pace=max(0.8, random.gauss(1.0, world.between_broods)),
            luck=f"female {seed} {place}",
        )

    @property
    def hour(self) -> int:
        """Hours since the first midnight."""
        return self.truth.hour

    def spend(self, seconds: float) -> None:
        """Let an act take its time."""
        self.seconds += seconds

    def cup(self, code: str) -> Cup:
        """A cup by its code."""
        return self.truth.cups[code]

    def add(self, code: str, kind: str, shelf: str) -> Cup:
        """Set up a cup."""
        self.truth.cups[code] = Cup(code, kind, shelf)
        return self.truth.cups[code]

    def remove(self, code: str) -> None:
        """Wash an empty cup."""
        del self.truth.cups[code]

    def cut(self, plant: str, number: float = 4.0) -> Stems:
        """Cut a bunch in the evening's cool or the morning's."""
        world = self.world
        fresh = max(20.0, self._plants.gauss(world.fresh_h, world.fresh_cv * world.fresh_h))
        return Stems(plant, number, fresh)

    # what is seen

    def look(self, code: str) -> Sight:
        """Look through the lid."""
        self.spend(self.world.s_look)
        cup = self.cup(code)
        stages: dict[str, int] = {}
        for animal in cup.animals:
            stages[animal.name] = stages.get(animal.name, 0) + 1
        return Sight(
            stages=stages,
            still=sum(animal.moulting for animal in cup.animals),
            dead=cup.dead,
            adults=cup.adults,
            females=len(cup.females),
            food=cup.food,
            limp=bool(cup.stems) and all(stems.age_h > 0.85 * stems.fresh_h for stems in cup.stems),
            wet=cup.dirt > 0.75,
            dark_eggs=sum(
                animal.stage == 0 and animal.viable and animal.gone > 0.88 for animal in cup.animals
            ),
            coloured=sum(animal.stage == 6 and animal.gone > 0.9 for animal in cup.animals),
            ants=cup.ants,
            hot=self.is_hot(code),
        )

    def room_c(self) -> float:
        """Read the thermometer."""
        self.spend(self.world.s_room)
        return round(self.truth.weather.room_c(self.hour), 1)

    def is_hot(self, code: str) -> bool:
        """Whether whoever opens a cup feels that it stands too hot."""
        return self.truth.cup_c(self.cup(code)) > 30.0

    def moat_mm(self, shelf: str) -> int:
        """Read a moat, to the millimetre."""
        self.spend(self.world.s_moat)
        return round(self.truth.moats[shelf])

    def search(
        self, code: str, came_out: list[Stems] | None = None, *, lens: bool = False
    ) -> list[Animal]:
        """Search every stem in a cup for eggs, or those that came out of it; those found are cut out and come back."""
        self.spend(self.world.s_lens if lens else self.world.s_search)
        better = (self.world.seen_by_lens / self.world.seen_by_eye) if lens else 1.0
        found = []
        for stems in came_out or self.cup(code).stems:
            for egg in list(stems.eggs):
                if egg.fate.random() < min(0.98, egg.hidden * better):
                    stems.eggs.remove(egg)
                    egg.found = True
                    found.append(egg)
        return found

    def frass(self, code: str) -> bool:
        """Look for frass under kept stems."""
        self.spend(self.world.s_frass)
        cup = self.cup(code)
        return cup.frass and bool(cup.animals) and self.truth.random.random() < 0.85

    # what is done

    def feed(self, code: str) -> int:
        """Feed every female of a cup; how many drank."""
        drank = 0
        for female in self.cup(code).females:
            self.spend(self.world.s_feed)
            if female.chance("drink", self.hour) < 0.93:
                female.thirst_h = 0.0
                drank += 1
        return drank

    def renew(self, code: str, plant: str, number: float = 4.0) -> list[Stems]:
        """Put fresh stems in and take the old ones out; they come back with whatever is on them."""
        self.spend(self.world.s_host)
        cup = self.cup(code)
        old, cup.stems = cup.stems, [self.cut(plant, number)]
        return old

    def add_beside(self, code: str, plant: str, number: float = 4.0) -> Stems:
        """Put stems of another plant beside those that stand there; they come back."""
        self.spend(self.world.s_food)
        self.cup(code).stems.append(self.cut(plant, number))
        return self.cup(code).stems[-1]

    def is_collapsed(self, egg: Animal) -> bool:
        """Whether an egg has visibly collapsed: one that is not viable, after twenty days."""
        return egg.stage == 0 and not egg.viable and self.hour - egg.entered >= COLLAPSED_H

    def add_food(self, code: str, plant: str, number: float) -> None:
        """Lay fresh stems beside the old; nobody is handled."""
        self.spend(self.world.s_food)
        cup = self.cup(code)
        cup.stems = [stems for stems in cup.stems if stems.edible or stems.eggs]
        cup.stems.append(self.cut(plant, number))

    def clean(self, code: str) -> int:
        """Clean a cup: every animal in it is handled; how many in moult died of it."""
        self.spend(self.world.s_clean)
        cup = self.cup(code)
        cup.dirt, cup.frass, cup.dead = 0.0, False, 0
        return self._handle(cup)

    def clean_around(self, code: str) -> None:
        """Brush frass out round those that do not move, who are not touched (trade advice); some stays."""
        self.spend(self.world.s_clean)
        cup = self.cup(code)
        cup.dirt, cup.frass, cup.dead = cup.dirt * self.world.frass_left, False, 0

    def _handle(self, cup: Cup) -> int:
        hurt = 0
        for animal in list(cup.animals):
            if animal.moulting and animal.fate.random() < self.world.disturbed_moult:
                cup.animals.remove(animal)
                self.truth.lose("larva: disturbed moult")
                hurt += 1
        return hurt

    def top_up(self, shelf: str) -> None:
        """Fill a moat and wipe what walked over."""
        self.spend(self.world.s_top_up)
        self.truth.moats[shelf] = FULL_MM
        self.truth.ants[shelf] = False

    def mist(self, code: str) -> None:
        """Mist a cup."""
        self.spend(self.world.s_mist)
        cup = self.cup(code)
        for animal in (*cup.animals, *(egg for stems in cup.stems for egg in stems.eggs)):
            animal.dry_h = 0.0

    def shade(self, code: str) -> None:
        """Move a cup into shade."""
        self.spend(10.0)
        self.cup(code).shaded = True

    def leaf_in(self, code: str, plant: str) -> None:
        """A tender leaf for those that will hatch."""
        self.spend(self.world.s_leaf)
        self.cup(code).stems.append(self.cut(plant, 0.5))

    def take_out_dead(self, code: str) -> int:
        """Take bodies out; how many there were."""
        cup = self.cup(code)
        dead, cup.dead = cup.dead, 0
        return dead

    def take_out_adults(self, code: str) -> int:
        """Take adults out whose wings are hard: they were brought through."""
        cup = self.cup(code)
        number, cup.adults = cup.adults, 0
        self.spend(self.world.s_move * number)
        self.truth.brought_out += number
        return number

    def move(self, source: str, to: str, stage: str, number: int) -> int:
        """Move animals of a stage by brush; those in moult may die of it; how many arrived alive."""
        cup, target = self.cup(source), self.cup(to)
        moved = [animal for animal in cup.animals if animal.name == stage][:number]
        arrived = 0
        for animal in moved:
            self.spend(self.world.s_move)
            cup.animals.remove(animal)
            if animal.moulting and animal.fate.random() < self.world.disturbed_moult:
                self.truth.lose("larva: disturbed moult")
                continue
            target.animals.append(animal)
            arrived += 1
        return arrived

    def discard(self, stems: list[Stems]) -> int:
        """Throw stems away; how many viable eggs went with them."""
        return self.throw_away([egg for bunch in stems for egg in bunch.eggs])

    def throw_away(self, eggs: list[Animal]) -> int:
        """Throw eggs away; how many of them were viable."""
        viable = sum(egg.viable for egg in eggs)
        self.truth.lose("egg: not viable", len(eggs) - viable)
        self.truth.discarded_viable += viable
        self.truth.lose("egg: discarded", viable)
        return viable
