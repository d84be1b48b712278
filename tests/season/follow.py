"""The keeper who follows the program: asks a book what is due, does it in the simulated world, and records what was seen.

The book is opened by ``rounds.open_book`` with the world's own clock; the keeper knows of the world what the acts show, and of
what to do when what the book says, in the order in which it says it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from msgspec.structs import replace

import rounds
from rounds.checks.answers import A_DAY_LATER_H
from rounds.checks.due import all_dues
from rounds.checks.registry import CHECKS
from rounds.checks.walk import stops
from rounds.entries.arrivals import HIDDEN_ON_STEMS
from rounds.forecasts.no_eggs import why_no_eggs
from tests.season.bench import Bench, Sight
from tests.season.life import FIRST, SECOND, Animal, Stems
from tests.season.numbers import STAGES

BEGINS = datetime(2027, 5, 1, tzinfo=UTC)
PLANTS = {FIRST: "firstplant", SECOND: "secondplant"}
SHELVES = {"sill": "sill", "shelf A": "A", "shelf B": "B"}
MORE_THAN = 6  # young larvae that stand in one cup
LOW_MM = 10
AS_ON_SCREEN = timedelta(minutes=20)  # what hangs on the hour is reckoned anew after that
BRINGS_UP_MORE = frozenset(
    {"mould", "frass", "searched", "hatched", "moulted", "pupated", "emerged", "changed"}
)  # after which more may be asked at the same stop
GLANCED = frozenset(
    {"look", "food", "host", "frass", "still", "leaf"}
)  # one look, one key where all is as usual
SEEN_SO = frozenset({"moulted", "pupated", "emerged"})  # surely, whatever the program doubts


@dataclass(frozen=True)
class Policy:
    """How the program is followed."""

    name: str
    minutes: float = 0.0  # at most, a round; 0 for as long as it takes
    order: str = "worth"  # of a round with a limit: by what is saved, as walked, or by shelf
    off: tuple[str, ...] = ()  # checks that the plan does not ask
    plan: tuple[str, ...] = ()  # lines said at the beginning, as 'plan clean every_h=48'


FOLLOWS = Policy("what the program asks")
SHORT_BY_WORTH = Policy("25 minutes a round, by what saves most", minutes=25.0)
SHORT_AS_WALKED = Policy("25 minutes a round, in the order of the walk", minutes=25.0, order="walk")
SHORT_BY_SHELF = Policy("25 minutes a round, in shelf order", minutes=25.0, order="shelf")


@dataclass
class _Known:
    """What the keeper remembers of one cup."""

    kept: dict[str, Stems] = field(default_factory=dict)  # by batch
    plants: tuple[str, ...] = (FIRST,)  # that she is offered
    box: str = ""  # the cup that takes her eggs now
    box_of: int = -1  # of which two days it is


class ProgramKeeper:
    """Walks the bench as a book says."""

    def __init__(self, bench: Bench, policy: Policy, folder: Path) -> None:
        self.bench = bench
        self.policy = policy
        self.refused: list[str] = []
        self._began_s = 0.0
        self.book = rounds.open_book(folder, keeper="KM", clock=self.now, zone=UTC)
        self.book.desk.reckoning.kept_dues.lag = AS_ON_SCREEN
        self._known: dict[str, _Known] = {}
        self._sights: dict[str, Sight] = {}
        self._looked: set[str] = set()
        self._glanced: set[str] = set()
        self._listed: list[Any] = []  # what is due, as the walk began
        self._left: set[tuple[str, str]] = set()  # what a round with a limit leaves out
        self._brought_up = False  # something was recorded here that may make more be asked
        self._came_out: dict[str, list[Stems]] = {}  # in this round
        self._number = 1
        self._batches: dict[tuple[str, str], Stems] = {}  # by cup where they stood, and batch
        self.record("setting zone UTC")
        for shelf in SHELVES.values():
            self.record(f"shelf set up {shelf} moat")
        for check in policy.off:
            self.record("plan", check=check, off=True, why="trial")
        for line in policy.plan:
            self.record(line)
        self.took: dict[str, tuple[int, float]] = {}  # by check: how often it was answered, seconds

    def now(self) -> datetime:
        """The world's hour, and what of the round has passed."""
        return BEGINS + timedelta(hours=self.bench.hour, seconds=self.bench.seconds - self._began_s)

    def record(self, what: str, **fields: Any) -> bool:
        """Record; what is refused is remembered."""
        self._brought_up |= not BRINGS_UP_MORE.isdisjoint({what, fields.get("sign")})
        if what in SEEN_SO:
            fields["sure"] = True
        try:
            self.book.record(what, **fields)
        except rounds.Refused as reason:
            self.refused.append(f"{what} {fields}: {reason}")
            return False
        return True

    # a round

    def round(self) -> None:
        """One round: new females, then what is asked, twice if the first walk brought up more."""
        self._began_s = self.bench.seconds
        self._sights.clear()
        self._looked.clear()
        self._glanced.clear()
        self._came_out.clear()
        self._arrivals()
        if not self.record(
            "round started", name="morning" if self.bench.hour % 24 < 12 else "evening"
        ):
            return
        seen: set[tuple[str, str]] = set()
        for _ in range(4):
            plan = [one for one in self._plan() if one not in seen]
            if not plan:
                break
            room_first = [one for one in plan if one[1] == "room"]  # what it read may ask for more
            for where in dict.fromkeys(place for place, _ in room_first or plan):
                checks = [check for place, check in room_first or plan if place == where]
                walked = self._brought_up = False
                while checks and self._time_left():
                    for check in checks:
                        seen.add((where, check))
                        if not self._time_left() or self._is_answered(where, check):
                            continue
                        if self._has_gone(where, check):
                            continue
                        if not walked:
                            walked = True
                            # a moat is seen in passing, as by habit: no way of its own
                            on_way = where in SHELVES.values()
                            self.bench.spend(0.0 if on_way else self.bench.world.s_walk)
                        self._timed(where, check)
                    checks = [check for check in self._came_up(where) if (where, check) not in seen]
        self.record("round finished")
        self._began_s = self.bench.seconds

    def _timed(self, where: str, check: str) -> None:
        before = self.bench.seconds
        self._do(where, check)
        times, seconds = self.took.get(check, (0, 0.0))
        self.took[check] = times + 1, seconds + self.bench.seconds - before

    def _came_up(self, where: str) -> list[str]:
        """What is asked at a stop by what was answered there: a stop that was begun is finished."""
        if not self._brought_up:
            return []
        self._brought_up, desk = False, self.book.desk
        bench, moment = desk.bench, desk.moment()
        if (stands := bench.at(where)) is None:
            return []
        here = all_dues(replace(bench, containers={where: stands}), moment, desk.foresight)
        asked = stops(bench, moment, bench.rounds[-1], here)
        return [
            due.check
            for stop in asked
            if stop.where == where
            for due in stop.open_checks
            if (where, due.check) not in self._left
        ]

    def _plan(self) -> list[tuple[str, str]]:
        limit = self.policy.minutes
        used = (self.bench.seconds - self._began_s) / 60
        if limit and used >= limit:
            return []
        self._listed = self.book.due()
        by_worth = limit and self.policy.order == "worth"
        plan = self.book.round_plan(max(1.0, limit - used) if by_worth else 0)
        checks = [(one.where, one.check) for one in plan.taken]
        self._left = {(one.where, one.check) for one in plan.left}
        if self.policy.order == "shelf":
            shelves = {one.code: (one.shelf, one.place) for one in self.book.containers()}
            checks.sort(key=lambda one: shelves.get(one[0], ("", 0)))
        return checks

    def _is_answered(self, where: str, check: str) -> bool:
        """Whether what was said at this stop answers it already, so that the round asks it no more."""
        asked, walk = CHECKS[check], self.book.desk.bench.rounds[-1]
        said = {kind for place, kind in walk.done if place == where}
        return (
            check != "look" and asked.closes == "answered" and bool(said & set(asked.answered_by))
        )

    def _has_gone(self, where: str, check: str) -> bool:
        """Whether it is about a stage that none is in any more, as food of larvae all of whom have pupated."""
        stands, stages = (
            self.book.desk.bench.at(where),
            [rule.stage for rule in CHECKS[check].rules],
        )
        return stands is not None and all(stages) and not any(map(stands.count, stages))

    def _time_left(self) -> bool:
        return (
            not self.policy.minutes or self.bench.seconds - self._began_s < self.policy.minutes * 60
        )

    def _arrivals(self) -> None:
        while self.bench.arrivals and self.bench.arrivals[0][0] * 24 <= self.bench.hour:
            _, female = self.bench.arrivals.pop(0)
            code = self._new("K", "laying", "sill", "laying")
            self.bench.cup(code).females.append(female)
            self.record(f"{code} founder {female.code}, Boloria ficta female")
            self._put_in(code, self.bench.cut(FIRST), FIRST)
            self.bench.spend(180.0)

    def _new(self, letter: str, kind: str, shelf: str, purpose: str) -> str:
        self._number += 1
        code = f"{letter}{self._number}"
        self.bench.add(code, kind, shelf)
        self._known[code] = _Known()
        self.record(f"{code} set up {purpose} shelf={SHELVES[shelf]} place={self._number}")
        return code

    def _put_in(self, code: str, stems: Stems, plant: str) -> None:
        cup = self.bench.cup(code)
        if stems not in cup.stems:
            cup.stems.append(stems)
        if self.record(
            "host in",
            container=code,
            plant=PLANTS[plant],
            kept="water",
            sprigs=max(1, round(stems.number)),
        ):
            stands = self.book.desk.bench.at(code)
            if stands is not None and stands.hosts:
                self._batches[code, stands.hosts[-1].batch] = stems

    def _do(self, where: str, check: str) -> None:
        """Answer one check."""
        before = self.bench.seconds
        self._answer(where, check)
        seen_at_once = check in GLANCED and where in self._glanced and self.bench.seconds == before
        self._glanced.add(where)
        self.bench.spend(0.0 if seen_at_once else self.bench.world.s_key)

    def _answer(self, where: str, check: str) -> None:
        if check == "room":
            self.record(
                "air",
                temperature_c=self.bench.room_c(),
                humidity_percent=self.bench.world.humidity_percent,
            )
        elif check == "ants":
            self._moat(where)
        elif where in self.bench.truth.cups:
            act = getattr(self, as_act(check), None)
            if act is not None:
                act(where)
            else:
                self._put_off(where, check)

    def _put_off(self, where: str, check: str, hours: float = A_DAY_LATER_H) -> None:
        until = self.now() + timedelta(hours=hours)
        self.record("put off", container=where, check=check, until=until, why="nothing to do")

    def _moat(self, where: str) -> None:
        shelf = next((name for name, short in SHELVES.items() if short == where), "")
        if not shelf:
            return
        depth = self.bench.moat_mm(shelf)
        if depth < LOW_MM or self.bench.truth.ants.get(shelf):
            self.bench.top_up(shelf)
            self.record("topped up", shelf=where, depth_mm=20.0)
        else:
            self.record("barrier", shelf=where, state="full", depth_mm=float(depth))

    # looks

    def _sight(self, code: str) -> Sight:
        if code not in self._sights:
            self._sights[code] = self.bench.look(code)
        return self._sights[code]

    def _look(self, code: str) -> None:
        bench, cup = self.bench, self.bench.cup(code)
        if code in self._looked:
            self._sights.pop(code, None)
        self._looked.add(code)
        sight = self._sight(code)
        self._out_of_heat(code)
        if sight.ants:
            bench.top_up(cup.shelf)
            self.record("barrier", shelf=SHELVES[cup.shelf], state="breached", ants_above=1)
            self.record("topped up", shelf=SHELVES[cup.shelf], depth_mm=20.0)
        self._females_there(code, sight)
        changed = self._reconcile(code, sight)
        if sight.dead:
            bench.take_out_dead(code)
        if sight.still:
            self.record("looked", container=code, sign="still", number=sight.still)
        elif sight.dark_eggs:
            self.record("looked", container=code, sign="darkening", number=sight.dark_eggs)
        elif sight.coloured:
            self.record("looked", container=code, sign="colouring", number=sight.coloured)
        elif not changed:
            self.record("looked", container=code, sign="as usual")
        if sight.wet:
            self.record("looked", container=code, sign="mould")
        self._tidy(code, sight)

    def _out_of_heat(self, code: str) -> None:
        """Who looks into a cup, or feeds there, feels the heat."""
        if self.bench.is_hot(code) and not self.bench.cup(code).shaded:
            self.bench.shade(code)
            self.record("light", container=code, to="shade")

    def _females_there(self, code: str, sight: Sight) -> None:
        stands = self.book.desk.bench.at(code)
        gone = (stands.females if stands and stands.purpose == "laying" else 0) - sight.females
        if gone > 0:
            self.record("died", container=code, number=gone, stage="adult")

    def _on_record(self, code: str) -> list[tuple[int, int, str, str]]:
        """Animals on record, one each: stage number, instar, stage, brood; the furthest first."""
        stands = self.book.desk.bench.at(code)
        lots = [lot for lot in stands.lots if lot.stage != "adult"] if stands else []
        found = []
        for lot in lots:
            number = {"egg": 0, "larva": max(1, min(5, lot.instar)), "pupa": 6}[lot.stage]
            found += [(number, lot.instar, str(lot.stage), lot.brood)] * lot.number
        return sorted(found, reverse=True)

    def _reconcile(self, code: str, sight: Sight) -> bool:
        """Record what became of those on record: deaths first, then each stage that was reached."""
        cup = self.bench.cup(code)
        there = sorted(
            [*(animal.stage for animal in cup.animals), *([7] * cup.adults)], reverse=True
        )
        record = self._on_record(code)
        pairs: list[tuple[tuple[int, int, str, str], int]] = []
        dead: list[tuple[int, int, str, str]] = []
        place = 0
        for stage in there:
            while place < len(record) and record[place][0] > stage:
                dead.append(record[place])
                place += 1
            if place < len(record):
                pairs.append((record[place], stage))
                place += 1
        dead += record[place:]
        for _, instar, stage_name, brood in dead:
            more = {"instar": instar} if stage_name == "larva" and instar else {}
            self.record("died", container=code, number=1, stage=stage_name, brood=brood, **more)
        changed = bool(dead)
        for step in range(1, 8):
            of: dict[str, int] = {}
            for (was, _, _, brood), now in pairs:
                if was < step <= now:
                    of[brood] = of.get(brood, 0) + 1
            for brood, number in of.items():
                changed = True
                kind, more = self._step(step)
                self.record(kind, container=code, number=number, brood=brood, **more)
        if cup.adults:
            out = self.bench.take_out_adults(code)
            self.record("released", container=code, number=out, stage="adult")
        return changed

    def _step(self, step: int) -> tuple[str, dict[str, Any]]:
        if step == 1:
            return "hatched", {}
        if step == 6:
            return "pupated", {}
        return ("emerged", {}) if step == 7 else ("moulted", {"instar": step})

    def _tidy(self, code: str, sight: Sight) -> None:
        """Larvae out of egg cups into cups of their own; pupae get their purpose; what is empty is washed."""
        cup = self.bench.cup(code)
        if cup.kind == "eggs":
            for stage in STAGES[1:6]:
                if number := sum(animal.name == stage for animal in cup.animals):
                    self._to_larvae(code, stage, number)
            if not cup.animals:
                self._close(code)
        elif cup.kind in ("laying", "kept"):
            self._strays(code)
            if cup.kind == "laying" and not cup.females:
                self._keep(code, cup.stems)
                cup.stems = []
                self._close(code)
        elif cup.kind == "larvae":
            if not cup.animals:
                self._close(code)
            elif all(animal.stage == 6 for animal in cup.animals):
                cup.kind = "pupae"
                self.record("changed", container=code, purpose="pupation")
        elif cup.kind == "pupae" and not cup.animals:
            self._close(code)

    def _close(self, code: str) -> None:
        cup = self.bench.cup(code)
        if cup.females or cup.animals or cup.adults:
            return
        for _, instar, stage_name, brood in self._on_record(code):
            more = {"instar": instar} if stage_name == "larva" and instar else {}
            self.record("died", container=code, number=1, stage=stage_name, brood=brood, **more)
        stands = self.book.desk.bench.at(code)
        if stands is not None and stands.hosts:
            self.record("host out", container=code, fate="binned")
        self.record("closed", container=code)
        self.bench.remove(code)

    def _strays(self, code: str) -> None:
        """Young larvae of eggs that nobody found: into a cup of their own, as a brood of their mothers; the stems stay."""
        cup = self.bench.cup(code)
        larvae = [animal for animal in cup.animals if animal.stage >= 1]
        if not larvae:
            return
        brood = f"{larvae[0].brood}/H"
        if brood not in self.book.desk.bench.broods:
            self.record("brood", code=brood, mothers=[larvae[0].brood])
        on_record = self._hatched_on_kept(code, larvae, brood) if cup.kind == "kept" else 0
        target = self._room_for(len(larvae))
        for stage in {animal.name for animal in larvae}:
            instar = STAGES.index(stage)
            moved = self.bench.move(code, target, stage, sum(one.name == stage for one in larvae))
            same: dict[str, Any] = {"brood": brood, "stage": "larva"}
            known = min(moved, on_record)
            on_record -= known
            if known:
                self.record("moved", container=code, to=target, number=known, **same)
            if moved > known:
                self.record(
                    "stocked", container=target, instar=instar, number=moved - known, **same
                )

    def _hatched_on_kept(self, code: str, larvae: list[Animal], brood: str) -> int:
        """Frass shows under which lot they hatched: every search of it had missed them."""
        stands, told = self.book.desk.bench.at(code), 0
        for held in [*stands.held] if stands else ():
            stems = self._batches.get((held.source, held.batch))
            number = sum(stems is not None and one.hatched_on is stems for one in larvae)
            if number:
                self.record("frass", container=code, level="trace", lots=[held.lot])
                self.record(
                    "stocked",
                    container=code,
                    brood=brood,
                    stage="egg",
                    number=number,
                    origin=HIDDEN_ON_STEMS,
                )
                self.record("hatched", container=code, number=number, brood=brood)
                told += number
        return told

    def _room_for(self, number: int) -> str:
        cups = self.bench.truth.cups
        room = [
            code
            for code, cup in cups.items()
            if cup.kind == "larvae" and len(cup.animals) + number <= MORE_THAN
        ]
        young = [code for code in room if all(animal.stage <= 2 for animal in cups[code].animals)]
        if young:
            return young[0]
        code = self._new("R", "larvae", "shelf B", "rearing")
        self._add_food(code, 2.0)
        return code

    def _to_larvae(self, source: str, stage: str, number: int) -> None:
        target = self._room_for(number)
        moved = self.bench.move(source, target, stage, number)
        instar = STAGES.index(stage)
        on_record = [brood for at, _, _, brood in self._on_record(source) if at == instar]
        for brood in dict.fromkeys(on_record):
            arrived = min(moved, on_record.count(brood))
            moved -= arrived
            same: dict[str, Any] = {"stage": "larva", "instar": instar, "brood": brood}
            if arrived:
                self.record("moved", container=source, to=target, number=arrived, **same)
            if died := on_record.count(brood) - arrived:
                self.record("died", container=source, number=died, **same)

    # females

    def _drink(self, code: str) -> None:
        there = len(self.bench.cup(code).females)
        stands = self.book.desk.bench.at(code)
        if stands is not None and stands.females > there:
            self._look(code)
        if not there:
            return
        self._out_of_heat(code)
        drank = self.bench.feed(code)
        if drank:
            self.record("drank", container=code, **({} if drank == there else {"number": drank}))
        else:
            self.record("offered", container=code)

    def _host(self, code: str) -> None:
        sight, known = self._sight(code), self._known[code]
        due = next((one for one in self._listed if (one.where, one.check) == (code, "host")), None)
        soon = self.now() + timedelta(hours=11)  # cut anew in the last round before it is late
        old = due is not None and due.late is not None and due.late < soon
        if sight.limp or not self.bench.cup(code).stems or old:
            self._renew(code, known.plants)
        else:
            self.record("host seen", container=code, state="fresh")

    def _renew(self, code: str, plants: tuple[str, ...]) -> None:
        """Fresh stems of each plant in, the old ones out and kept."""
        old = self.bench.renew(code, plants[0])
        for plant in plants[1:]:
            self.bench.add_beside(code, plant)
        self._keep(code, old)
        self._came_out[code] = old
        for stems in self.bench.cup(code).stems:
            self._put_in(code, stems, stems.plant)

    def _keep(self, code: str, old: list[Stems]) -> None:
        if not old:
            return
        store = f"S{code[1:]}"
        if store not in self.bench.truth.cups:
            self.bench.add(store, "kept", "shelf A")
            self._known[store] = _Known()
            self.record(f"{store} set up eggs shelf=A place={self._number + 1}")
        self.bench.cup(store).stems.extend(old)
        self.record("host out", container=code, fate="held", held_in=store)

    def _eggs(self, code: str) -> None:
        """Search what stands there, or what came out of there in this round, as the program takes it to be meant."""
        cup = self.bench.cup(code)
        found = self.bench.search(code, self._came_out.get(code))
        if cup.kind == "kept":
            stands = self.book.desk.bench.at(code)
            lots = [held.lot for held in stands.held] if stands else []
            self.record(
                "searched", container=code, found=len(found), lots=lots[:1] if found else lots
            )
        else:
            self._searched(code, found)
        if not found:
            return
        box = self._egg_cup(code)
        self.bench.cup(box).animals.extend(found)
        self.bench.spend(10.0 + 2.0 * len(found))
        for source in dict.fromkeys((code, f"S{code[1:]}")):
            eggs = [brood for at, _, _, brood in self._on_record(source) if at == 0]
            for brood in dict.fromkeys(eggs):
                self.record(
                    "moved",
                    container=source,
                    to=box,
                    number=eggs.count(brood),
                    stage="egg",
                    brood=brood,
                )

    def _searched(self, code: str, found: list[Animal]) -> None:
        """Eggs are on record by the plant on which they sat; once she has laid on one she is offered that one."""
        known = self._known[code]
        stood = self._came_out.get(code) or self.bench.cup(code).stems
        plants = {stems.plant for stems in stood}
        if len(plants) < 2:
            self.record("searched", container=code, found=len(found))
            return
        for plant in sorted(plants):
            number = sum(egg.plant == plant for egg in found)
            self.record("searched", container=code, found=number, plant=PLANTS[plant])
        taken = tuple(plant for plant in known.plants if any(egg.plant == plant for egg in found))
        known.plants = taken or known.plants

    def _egg_cup(self, source: str) -> str:
        known, of = self._known[source], self.bench.hour // 48
        if known.box not in self.bench.truth.cups or known.box_of != of:
            known.box, known.box_of = self._new("E", "eggs", "shelf A", "eggs"), of
        return known.box

    def _change(self, code: str) -> None:
        """What the program favours, which is its usual answer."""
        known, stands = self._known[code], self.book.desk.bench.at(code)
        why = why_no_eggs(self.book.desk.bench, stands, self.now()) if stands else None
        favoured = why.favoured if why else "wait"
        if favoured == "second plant":
            known.plants = (FIRST, SECOND)
            stems = self.bench.add_beside(code, SECOND if known.plants[0] == FIRST else FIRST)
            self._put_in(code, stems, stems.plant)
        elif favoured == "another plant" and why is not None and why.best is not None:
            known.plants = tuple(plant for plant in PLANTS if PLANTS[plant] == why.best.plant)
            self._renew(code, known.plants)
        else:
            self._put_off(code, "change")

    # eggs and kept stems

    def _leaf(self, code: str) -> None:
        sight = self._sight(code)
        if not sight.dark_eggs:
            self.record(
                "put off",
                container=code,
                check="leaf",
                until=self.now() + timedelta(hours=6),
                why="eggs not dark yet",
            )
            return
        self.bench.leaf_in(code, FIRST)
        self.record(
            "host in",
            container=code,
            plant=PLANTS[FIRST],
            part="tender leaf",
            kept="damp paper",
            sprigs=1,
        )

    def _frass(self, code: str) -> None:
        """Where frass shows the young larvae are looked for at once and taken out; the stems stay on clean paper.

        One look answers this too, as the screen asks it, where it saw no larva.
        """
        seen = self._sights.get(code)
        if seen is not None and not seen.stages:
            self.record("frass", container=code, level="none")
        elif self.bench.frass(code):
            self.bench.spend(self.bench.world.s_search / 2)
            self._strays(code)
            self.bench.cup(code).frass = False
        else:
            self.record("frass", container=code, level="none")

    def _keep_(self, code: str) -> None:
        stands, cup = self.book.desk.bench.at(code), self.bench.cup(code)
        if stands is None:
            return
        desk = self.book.desk
        may = [
            held for held in stands.held if desk.foresight.chance(stands, held, self.now()).may_go
        ]
        gone = [
            stems
            for held in may
            if (stems := self._batches.get((held.source, held.batch))) is not None
            and stems in cup.stems
        ]
        if may and self.record(
            "host out", container=code, fate="binned", lots=[held.lot for held in may]
        ):
            self.bench.discard(gone)
            cup.stems = [stems for stems in cup.stems if stems not in gone]
            self.bench.spend(15.0)
        else:
            self._put_off(code, "keep")
        if not cup.stems and not cup.animals:
            self._close(code)

    # larvae and pupae

    def _add_food(self, code: str, number: float) -> None:
        self.bench.add_food(code, FIRST, number)
        self._put_in(code, self.bench.cup(code).stems[-1], FIRST)

    def _food(self, code: str) -> None:
        sight, cup, world = self._sight(code), self.bench.cup(code), self.bench.world
        counted = [animal for animal in cup.animals if 1 <= animal.stage <= 5]
        wants = max(1.0, 0.6 * len(counted) + 1.2 * sum(animal.stage >= 4 for animal in counted))
        left = sum(stems.number for stems in cup.stems if stems.edible)
        a_day = sum(world.eaten_a_day[animal.stage] for animal in counted)
        if not sight.food or sight.limp or left < 1.2 * a_day:
            self._add_food(code, wants)
        else:
            self.record("host seen", container=code, state="fresh", left="plenty")

    def _clean(self, code: str) -> None:
        if code not in self._sights:
            self._look(code)
        if code not in self.bench.truth.cups:
            return
        before, still = len(self.bench.cup(code).animals), self._sight(code).still
        if still and still == sum(self._sight(code).stages.get(name, 0) for name in STAGES[1:6]):
            self._put_off(code, "clean", 10)
            return
        if still:
            self.bench.clean_around(code)
        else:
            self.bench.clean(code)
        self.record("cleaned", container=code)
        if len(self.bench.cup(code).animals) < before:
            self._sights.pop(code, None)
            self._look(code)
        if code in self.bench.truth.cups:
            self._counted(code)

    def _counted(self, code: str) -> None:
        """Larvae counted, brood by brood."""
        larvae = [brood for _, _, stage, brood in self._on_record(code) if stage == "larva"]
        for brood in dict.fromkeys(larvae):
            self.record(
                "counted", container=code, number=larvae.count(brood), stage="larva", brood=brood
            )

    def _mist(self, code: str) -> None:
        self.bench.mist(code)
        self.record("misted", container=code)

    def _feeder(self, code: str) -> None:
        """None stands there: each female is fed by hand."""
        self.record("plan", check="feeder", off=True, why="all are fed by hand")

    def _air(self, code: str) -> None:
        self.bench.spend(5.0)
        self.record("lid opened", container=code)

    def _still(self, code: str) -> None:
        """What the look of this round showed is the answer."""
        if code in self._sights:
            self.record(
                "looked", container=code, sign="still" if self._sights[code].still else "as usual"
            )
        else:
            self._look(code)

    def _wings(self, code: str) -> None:
        self._look(code)

    def _hatch_late(self, code: str) -> None:
        """Eggs that have collapsed are discarded, all of them once the program calls them urgent; else they wait."""
        cup = self.bench.cup(code)
        urgent = any(
            (one.where, one.check) == (code, "hatch late") and one.state == "urgent"
            for one in self._listed
        )
        collapsed = [
            egg
            for egg in cup.animals
            if egg.stage == 0 and (urgent or self.bench.is_collapsed(egg))
        ]
        if not collapsed:
            self._put_off(code, "hatch late")
            return
        self.bench.spend(10.0)
        for egg in collapsed:
            cup.animals.remove(egg)
        self.bench.throw_away(collapsed)
        eggs = [brood for at, _, _, brood in self._on_record(code) if at == 0]
        for brood in dict.fromkeys(eggs):
            number = min(eggs.count(brood), len(collapsed))
            collapsed = collapsed[number:]
            if number:
                self.record(
                    "died",
                    container=code,
                    number=number,
                    stage="egg",
                    brood=brood,
                    cause="collapsed",
                )
        if not cup.animals:
            self._close(code)

    def _count(self, code: str) -> None:
        """Who has looked at them in this round has counted them; see ``_clean``."""
        if code not in self._sights:
            self._look(code)
        if code in self.bench.truth.cups:
            self._counted(code)

    def _heat(self, code: str) -> None:
        cup = self.bench.cup(code)
        if not cup.shaded:
            self.bench.shade(code)
        self.record("light", container=code, to="shade")


def as_act(check: str) -> str:
    """The name of the method that answers a check."""
    return "_keep_" if check == "keep" else f"_{check.replace(' ', '_')}"
