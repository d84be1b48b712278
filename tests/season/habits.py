"""Keepers who go by habit and a notebook: what they do at each round, without the program."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from tests.season.bench import Bench, Sight
from tests.season.life import FIRST, SECOND, Stems
from tests.season.numbers import STAGES

MORE_THAN = 6  # young larvae that stand in one cup


@dataclass(frozen=True)
class Habits:
    """How often a keeper does what; hours, or 0 for every round."""

    name: str
    renew_h: int = 48
    search_h: int = 24
    lens: bool = False
    keep_days: float = 10.0
    frass_h: int = 24
    clean_h: int = 48
    moat_h: int = 24
    mist_h: int = 24
    food_h: int = 24
    other_host_h: int = 72
    around: bool = False  # a wet cup in which some do not move is cleaned round those
    minutes: float = 0.0  # at most, a round; 0 for as long as it takes


GOOD = Habits("good notebook habits")
SHORT_KEPT = Habits("the same, stems discarded after three days", keep_days=3.0)
EVERYTHING = Habits("does everything at every round", 24, 0, True, 14.0, 0, 0, 0, 0, 0, 72)
AROUND = Habits("the same, wet cups cleaned round those that do not move", around=True)
HURRIED = Habits("good habits, 25 minutes a round", minutes=25.0)


@dataclass
class Notebook:
    """What the keeper knows of one cup: when each thing was done last."""

    done: dict[str, int] = field(default_factory=dict)
    kept_since: dict[int, int] = field(default_factory=dict)  # by bunch: since which hour
    last_egg: int = 0
    plant: str = FIRST

    def due(self, what: str, hours: int, now: int) -> bool:
        """Whether so many hours have passed, nearly."""
        return now - self.done.get(what, -999) >= hours - 3


class HabitKeeper:
    """Walks the bench in shelf order and does what habit asks."""

    def __init__(self, bench: Bench, habits: Habits) -> None:
        self.bench = bench
        self.habits = habits
        self.notes: dict[str, Notebook] = {}
        self._numbers = 1
        self._began_s = 0.0

    def round(self) -> None:
        """One round: new females, then moats, then every cup."""
        self._began_s = self.bench.seconds
        self._arrivals()
        for shelf in self.bench.truth.moats:
            if not self._time_left():
                return
            self._moat(shelf)
        for code in list(self._in_order()):
            if not self._time_left():
                return
            if code in self.bench.truth.cups:
                self.bench.spend(self.bench.world.s_walk)
                self._cup(code)

    def _in_order(self) -> Iterator[str]:
        kinds = ("laying", "eggs", "kept", "larvae", "pupae")
        cups = self.bench.truth.cups
        return (code for kind in kinds for code in sorted(cups) if cups[code].kind == kind)

    def _time_left(self) -> bool:
        limit = self.habits.minutes * 60
        return not limit or self.bench.seconds - self._began_s < limit

    def _note(self, code: str) -> Notebook:
        return self.notes.setdefault(code, Notebook())

    def _do(self, code: str, what: str, hours: int) -> bool:
        note = self._note(code)
        if not note.due(what, hours, self.bench.hour):
            return False
        note.done[what] = self.bench.hour
        return True

    def _new(self, letter: str, kind: str, shelf: str) -> str:
        self._numbers += 1
        code = f"{letter}{self._numbers}"
        self.bench.add(code, kind, shelf)
        self._note(code)
        return code

    def _arrivals(self) -> None:
        while self.bench.arrivals and self.bench.arrivals[0][0] * 24 <= self.bench.hour:
            _, female = self.bench.arrivals.pop(0)
            code = self._new("K", "laying", "sill")
            cup = self.bench.cup(code)
            cup.females.append(female)
            cup.stems.append(self.bench.cut(FIRST))
            note = self._note(code)
            note.done["renew"] = note.last_egg = self.bench.hour
            self.bench.spend(180.0)

    def _moat(self, shelf: str) -> None:
        if self._do(shelf, "moat", self.habits.moat_h) and self.bench.moat_mm(shelf) < 10:
            self.bench.top_up(shelf)

    def _cup(self, code: str) -> None:
        bench = self.bench
        cup, sight = bench.cup(code), bench.look(code)
        if sight.hot and not cup.shaded:
            bench.shade(code)
        if sight.ants:
            bench.top_up(cup.shelf)
        if sight.dead:
            bench.take_out_dead(code)
        if sight.adults:
            bench.take_out_adults(code)
        getattr(self, f"_{cup.kind}")(code, sight)

    # a laying cup

    def _laying(self, code: str, sight: Sight) -> None:
        bench, note, cup = self.bench, self._note(code), self.bench.cup(code)
        for stage, number in sight.stages.items():
            self._to_larvae(code, stage, number)
        if not cup.females:
            self._keep(code, cup.stems)
            cup.stems = []
            bench.remove(code)
            return
        bench.feed(code)
        if self._do(code, "search", self.habits.search_h):
            self._search(code)
        if bench.hour - note.last_egg >= self.habits.other_host_h and note.due(
            "other", self.habits.other_host_h, bench.hour
        ):
            note.plant = SECOND if note.plant == FIRST else FIRST
            note.done["other"] = bench.hour
            note.done["renew"] = -999
        if sight.limp or self._do(code, "renew", self.habits.renew_h):
            note.done["renew"] = bench.hour
            self._keep(code, bench.renew(code, note.plant))

    def _search(self, code: str) -> None:
        found = self.bench.search(code, lens=self.habits.lens)
        if not found:
            return
        self._note(code).last_egg = self.bench.hour
        box = self._egg_cup(code)
        self.bench.cup(box).animals.extend(found)
        self.bench.spend(10.0 + 2.0 * len(found))

    def _egg_cup(self, source: str) -> str:
        note = self._note(source)
        code = f"E{source[1:]}-{self.bench.hour // 48}"
        if code not in self.bench.truth.cups:
            self.bench.add(code, "eggs", "shelf A")
            note.done["egg cup"] = self.bench.hour
        return code

    def _keep(self, source: str, stems: list[Stems]) -> None:
        if not stems:
            return
        code = f"S{source[1:]}"
        if code not in self.bench.truth.cups:
            self.bench.add(code, "kept", "shelf A")
        cup, note = self.bench.cup(code), self._note(code)
        cup.stems.extend(stems)
        for bunch in stems:
            note.kept_since[id(bunch)] = self.bench.hour

    # kept stems

    def _kept(self, code: str, sight: Sight) -> None:
        bench, note, cup = self.bench, self._note(code), self.bench.cup(code)
        if sight.stages or (self._do(code, "frass", self.habits.frass_h) and bench.frass(code)):
            for stage in [name for name in sight.stages if name != "egg"]:
                self._to_larvae(code, stage, sight.stages[stage])
        old = [
            one
            for one in cup.stems
            if bench.hour - note.kept_since.get(id(one), bench.hour) > 24 * self.habits.keep_days
        ]
        if old:
            bench.discard(old)
            cup.stems = [one for one in cup.stems if one not in old]
            bench.spend(15.0)
        if not cup.stems and not cup.animals:
            bench.remove(code)
        elif self._do(code, "mist", self.habits.mist_h):
            bench.mist(code)

    # eggs

    def _eggs(self, code: str, sight: Sight) -> None:
        bench = self.bench
        if sight.dark_eggs and not sight.food:
            bench.leaf_in(code, FIRST)
        for stage in STAGES[1:6]:
            if sight.stages.get(stage):
                self._to_larvae(code, stage, sight.stages[stage])
        if set(sight.stages) <= {"egg"} and all(
            bench.is_collapsed(egg) for egg in bench.cup(code).animals
        ):
            bench.truth.lose("egg: not viable", len(bench.cup(code).animals))
            bench.remove(code)
        elif self._do(code, "mist", self.habits.mist_h):
            bench.mist(code)

    def _to_larvae(self, source: str, stage: str, number: int) -> None:
        bench, cups = self.bench, self.bench.truth.cups
        room = [
            code
            for code, cup in cups.items()
            if cup.kind == "larvae" and len(cup.animals) + number <= MORE_THAN
        ]
        young = [code for code in room if all(animal.stage <= 2 for animal in cups[code].animals)]
        code = young[0] if young else self._new("R", "larvae", "shelf B")
        if not cups[code].stems:
            bench.add_food(code, FIRST, 2.0)
        bench.move(source, code, stage, number)

    # larvae and pupae

    def _larvae(self, code: str, sight: Sight) -> None:
        bench, cup = self.bench, self.bench.cup(code)
        big = sight.stages.get("L4", 0) + sight.stages.get("L5", 0)
        wants = max(1.0, 0.6 * sum(sight.stages.values()) + 0.8 * big)
        feeds = any(name in sight.stages for name in STAGES[1:6])
        if feeds and (
            not sight.food or sight.limp or (big and self._do(code, "food", self.habits.food_h))
        ):
            bench.add_food(code, FIRST, wants)
        if sight.wet or (
            not sight.still and feeds and self._do(code, "clean", self.habits.clean_h)
        ):
            if sight.still and self.habits.around:
                bench.clean_around(code)
            else:
                bench.clean(code)
        if sight.stages and not feeds:
            cup.kind = "pupae"
        if not sight.stages and not cup.adults:
            bench.remove(code)

    def _pupae(self, code: str, sight: Sight) -> None:
        bench = self.bench
        if not sight.stages and not bench.cup(code).adults:
            bench.remove(code)
        elif self._do(code, "mist", self.habits.mist_h):
            bench.mist(code)
