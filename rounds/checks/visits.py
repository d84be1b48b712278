"""What falls due while the keeper is away, by the visits of a helper: at which of them each place
wants what.

The visits are the bench's own rounds between leaving and coming back. Each check is asked for at
the first visit by which it falls due, and its hours begin again there; what is due on leaving and
not on record as done stands at the first one. A container that is not to be disturbed is only
looked at, and gets what it can get without being opened or moved. Nothing is asked that only a
keeper may decide.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from msgspec import Struct, structs

from rounds.bench.codes import counted
from rounds.bench.diapause import rests
from rounds.bench.state import Bench, Container, Host, Hunger, Lot, Shelf
from rounds.checks import drink, food, frass, host, leaf, look, room, turn
from rounds.checks.due import all_dues
from rounds.checks.due_state import Due, PlaceKind
from rounds.checks.facts import left_be_until
from rounds.checks.heat import own_limits
from rounds.checks.registry import CHECKS, HELPED, asked_elsewhere
from rounds.checks.round_clock import EARLY, Moment, utc
from rounds.checks.rule import LAYING_OR_PAIRING, Rule, is_of_the_night
from rounds.checks.stems import (
    UNKNOWN_PLANT,
    as_eaten,
    eaten_for,
    plants_for,
    portions,
    stems_by_plant,
)
from rounds.checks.stores import stored
from rounds.checks.walking_order import (
    GROUPS,
    WASH_BEFORE,
    WITHOUT_SHELF,
    Counts,
    OrderKey,
    group_of,
    order_key,
    shelf_of,
    walking_order,
)
from rounds.entries.base import ROOTED
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.moats import full_mm
from rounds.forecasts.stage_ends import Change
from rounds.forecasts.tonight import is_open_lid
from rounds.grouping import summed

DRINK, FOOD, FRASS, HOST, LOOK, ROOM, TURN = (
    module_type.CHECK.name for module_type in (drink, food, frass, host, look, room, turn)
)
SOON = timedelta(hours=1)  # a round so soon after leaving is the keeper's own; our estimate
SOON_BACK = timedelta(hours=1)  # and one so soon before coming back


class Task(Struct, frozen=True):
    """One check and the numbers of the visits, from 0, by which it falls due; of food and plants
    how many stems each time."""

    check: str
    at: tuple[int, ...]
    stems: int = 0
    # each plant with its own stems, where several are cut anew
    of: tuple[tuple[str, int], ...] = ()


class VisitPlace(Struct, frozen=True):
    """One place of the walk with what it holds and what is asked there.

    Args:
        tasks: in the order in which they are done; none where nothing falls due, or nothing may be
            done.
        around: the shelf or place of what it stands inside of.
        animals: stage and number of each kind of animals, without codes.
        fasting: how many of its adults take no food.
        drinkers: the species and number of the adults that take food, where others with them take
            none.
        seen: the sign on its card, as 'still', or that it is left be for a moult, and of how many;
            0 where that is not known.
        suspect: what was seen of a suspect cup, '' where nothing was said; None where it is none.
        closed_until: it is neither opened nor moved before.
        opens: the number of the first visit at which it may be opened; as many as there are visits
            where at none.
        plant: what is put in, as the keeper names it; '' where none is, or nobody knows which.
        rooted: potted or living, where the plant there is not cut; else empty.
        cold_c, warm_c: between what a place that is read may be; None where nothing is asked of it.
        full_mm: how deep its moat is when full, in mm, where that was read.
        label: another code that its label may say still; '' where none is known.
    """

    where: str
    place_kind: PlaceKind
    group: str
    tasks: tuple[Task, ...]
    shelf: str = ""
    inside: str = ""
    is_store: bool = False
    animals: tuple[tuple[str, int], ...] = ()
    drinkers: tuple[tuple[str, int], ...] = ()
    fasting: int = 0
    kept_stems: bool = False
    seen: tuple[str, int] = ("", 0)
    suspect: str | None = None
    stinging: bool = False
    irritant: bool = False
    cannibals: bool = False
    closed_until: datetime | None = None
    opens: int = 0
    plant: str = ""
    rooted: str = ""
    barrier: str = ""
    full_mm: float | None = None
    cold_c: float | None = None
    warm_c: float | None = None
    label: str = ""

    @property
    def wants_plant(self) -> bool:
        """Whether a helper may have to put a plant in."""
        return not self.rooted and any(HELPED[task.check].plant for task in self.tasks)


class Store(Struct, frozen=True):
    """Where a cut plant stands in store, and how many stems of it all stores hold; None where they
    were not counted."""

    code: str
    shelf: str
    stems: int | None = None


class Danger(Struct, frozen=True):
    """A check whose danger comes before the first visit that asks for it; until when nobody
    disturbs it, where that is said."""

    where: str
    check: str
    harm: datetime
    closed_until: datetime | None = None


class Visits(Struct, frozen=True):
    """When a helper comes, every place once in the order of the walk, where the plants stand, and
    what no visit can avert."""

    at: tuple[datetime, ...]
    places: tuple[VisitPlace, ...]
    stores: dict[str, Store]
    dangers: tuple[Danger, ...] = ()
    unfit: dict[str, str] = {}

    @property
    def plants(self) -> tuple[str, ...]:
        """The plants that are wanted, in the order of the walk."""
        named: list[str] = []
        for place in self.places:
            if place.wants_plant:
                named += [name for task in place.tasks for name, _ in task.of]
                named.append(place.plant)
        return tuple(dict.fromkeys(filter(None, named)))

    def stems(self, plant: str) -> int:
        """How many stems of a plant all visits together want; those for a limp plant are not
        counted."""
        return sum(
            _stems_of(plant, place, task) * len(task.at)
            for place in self.places
            for task in place.tasks
            if task.check != HOST
        )


def _stems_of(plant: str, place: VisitPlace, task: Task) -> int:
    return dict(task.of).get(plant, 0) if task.of else task.stems if place.plant == plant else 0


def visits_between(moment: Moment, leave: datetime, back: datetime) -> tuple[datetime, ...]:
    """When the rounds between leaving and coming back begin; those just after it and just before
    are the keeper's."""
    instants: list[datetime] = []
    coming = moment.next_anchor(leave + SOON)
    while coming < back - SOON_BACK:
        instants.append(coming)
        coming = moment.next_anchor(coming)
    return tuple(instants)


def visits(
    bench: Bench,
    moment: Moment,
    leave: datetime,
    back: datetime,
    dues: Iterable[Due],
    foresight: Forecasts | None = None,
) -> Visits:
    """What a helper is asked for between leaving and coming back."""
    leave, back = utc(leave), utc(back)
    at = visits_between(moment, leave, back)
    by_place: dict[tuple[PlaceKind, str], dict[str, Due]] = defaultdict(dict)
    for due in dues:
        if CHECKS[due.check].helped and not asked_elsewhere(due):
            by_place[due.place_kind, due.where].setdefault(due.check, due)
    walk = _Walk(bench, moment, leave, back, at, foresight or Forecasts(bench, moment.zone))
    stores, unfit = _stores(bench)
    shelves_of_stores = {store.shelf for store in stores.values() if store.shelf}
    placed: list[tuple[_PlaceOrder, VisitPlace]] = []
    for shelf in bench.shelves.values():
        place = walk.of_place("shelf", shelf.name, by_place["shelf", shelf.name], shelf)
        placed.append((_place_order(bench, shelf.name, shelves_of_stores), place))
    dangers: list[Danger] = []
    for container in walking_order(bench):
        checks = by_place["container", container.code]
        if checks or container.lots or container.held:
            place = walk.of_container(container, checks)
            stands_on = shelf_of(bench, container)
            placed.append((_place_order(bench, stands_on, shelves_of_stores, container), place))
            dangers += walk.dangers(container, checks, place)
    room = walk.of_place("room", "", by_place["room", ""])
    in_order = [room, *(place for _, place in sorted(placed, key=lambda pair: pair[0]))]
    told = tuple(one for one in in_order if one.tasks or one.place_kind == "container")
    return Visits(at, told, stores, tuple(dangers), unfit)


_PlaceOrder = tuple[int, bool, int, Counts, int, OrderKey | tuple[()], bool]


def _place_order(
    bench: Bench, shelf: str, shelves_of_stores: set[str], container: Container | None = None
) -> _PlaceOrder:
    """Where a helper comes to a shelf, and to a container there: place by place, the jars first, so
    that no place is walked twice; what stands inside another comes just before it.

    What may infect others comes last in any case, wherever it stands.
    """
    known = bench.shelves.get(shelf)
    group = group_of(container) if container is not None else GROUPS[0]
    is_store = container is not None and container.is_store
    around = bench.containers.get(container.inside) if container is not None else None
    return (
        GROUPS.index(group) if group in WASH_BEFORE else 0,
        shelf not in shelves_of_stores and not (is_store and not shelf),
        known.place if known else WITHOUT_SHELF,
        counted(shelf),
        0 if container is None else 1 if is_store else 2,
        order_key(bench, around or container) if container is not None else (),
        around is None,
    )


def _stores(bench: Bench) -> tuple[dict[str, Store], dict[str, str]]:
    """By plant, as it is eaten, the first store in walking order that it may be fed from; and of
    others why none of theirs is."""
    found: dict[str, Store] = {}
    unfit: dict[str, str] = {}
    for jar, stem, why in stored(bench):
        name = as_eaten(stem)
        if why:
            of_jar = f"{jar.code} is suspect"
            unfit.setdefault(name, of_jar if why == "suspect" else f"it is {why} in {jar.code}")
            continue
        first = Store(jar.code, shelf_of(bench, jar), 0)
        known = found.get(name, first)
        counted_all = known.stems is not None and stem.sprigs is not None
        stems = (known.stems or 0) + (stem.sprigs or 0) if counted_all else None
        found[name] = structs.replace(known, stems=stems)
    return found, unfit


class _Walk(Struct, frozen=True):
    """What all places of one absence share."""

    bench: Bench
    moment: Moment
    leave: datetime
    back: datetime
    at: tuple[datetime, ...]
    foresight: Forecasts

    def of_place(
        self, kind: PlaceKind, where: str, checks: dict[str, Due], shelf: Shelf | None = None
    ) -> VisitPlace:
        """The room or a shelf."""
        full, barrier = (full_mm(shelf.moat), shelf.barrier) if shelf else (None, "")
        cold, warm = own_limits(self.bench, self.moment, where)
        tasks = self._tasks(self._by_visits(checks, range(len(self.at)), None))
        return VisitPlace(
            where, kind, GROUPS[0], tasks, barrier=barrier, full_mm=full, cold_c=cold, warm_c=warm
        )

    def of_container(self, container: Container, checks: dict[str, Due]) -> VisitPlace:
        """A container with what is asked there."""
        bench = self.bench
        closed = left_be_until(container, self.leave)
        opens = self._opens(closed)
        if closed is not None:  # as it will be once it may be disturbed
            later = self._as_if(structs.replace(container, leave_be_until=None, quiet_seen=None))
            checks = {check: due for check, due in later.items() if CHECKS[check].helped} | checks
        animals = summed((lot.stage, lot.number) for lot in container.lots)
        taxa = [
            taxon for lot in container.lots if (taxon := bench.species_of(lot.brood)) is not None
        ]
        plants = self._plants(container)
        bare_names = {*plants_for(bench, container), *(stem.plant for stem in container.hosts)}
        return VisitPlace(
            container.code,
            "container",
            group_of(container),
            self._at_container(container, checks, opens),
            shelf=shelf_of(bench, container),
            inside=container.inside,
            is_store=container.is_store,
            animals=tuple(animals.items()),
            drinkers=_drinkers(bench, container),
            fasting=sum(lot.number for lot in container.lots_of("adult") if not bench.is_fed(lot)),
            label=container.said if container.code in bench.relabel else "",
            kept_stems=bool(container.held) or _has_stems_left(container),
            seen=_seen(container, closed),
            suspect=container.suspect_sign if container.suspect_since is not None else None,
            stinging=any(taxon.stinging for taxon in taxa),
            irritant=any(
                any(known.irritant for known in bench.plants.get(one, {}).values())
                for one in bare_names
            ),
            cannibals=any(taxon.cannibalistic for taxon in taxa)
            and bool(container.count("larva") or self._may_hatch(container, range(len(self.at)))),
            closed_until=closed,
            opens=opens,
            plant=plants[-1] if plants else "",
            rooted=next((one.kept for one in container.hosts[-1:] if one.kept in ROOTED), ""),
            barrier=container.barrier,
            full_mm=full_mm(container.moat),
        )

    def dangers(
        self, container: Container, checks: dict[str, Due], place: VisitPlace
    ) -> Iterator[Danger]:
        """What comes into danger before the first visit that asks for it; of what may be opened,
        only after leaving."""
        closed = left_be_until(container, self.leave)
        for due in checks.values():
            if due.danger is None or (closed is None and due.danger <= self.leave):
                continue
            answers = (due.check, *HELPED[due.check].also_by)
            asked = min((task.at[0] for task in place.tasks if task.check in answers), default=None)
            if due.danger < (self.back if asked is None else self.at[asked]):
                yield Danger(container.code, due.check, due.danger, closed)

    def _plants(self, container: Container) -> list[str]:
        """What is put in, the one cut last at the end; nothing where nobody knows which."""
        if container.held and not container.lots:
            return [container.held[0].plant]
        if not (container.lots or container.hosts):
            return []
        return [plant for plant in eaten_for(self.bench, container) if plant != UNKNOWN_PLANT]

    def _opens(self, closed: datetime | None) -> int:
        return next(
            (number for number, visit in enumerate(self.at) if closed is None or visit >= closed),
            len(self.at),
        )

    def _at_container(
        self, container: Container, checks: dict[str, Due], opens: int
    ) -> tuple[Task, ...]:
        """Each check with its visits, and what goes with them: a look at all that may hatch, pots,
        what may be done shut."""
        every, open_ = range(len(self.at)), range(opens, len(self.at))
        found: dict[str, list[int]] = {}
        for check, due in checks.items():
            if due.rule is not None and due.rule.only_forecast:
                continue  # a helper lays it in at the first sign, for which these are looked at
            if check == FRASS and (container.count("larva") or TURN in checks):
                continue  # there is frass in any case, or it was seen
            shut = HELPED[check].outside or (check == DRINK and is_open_lid(container))
            found |= self._by_visits({check: due}, every if shut else open_, container)
            # only where leaves are gone: at any visit, and the first that may open it feeds all the
            # same
            if check == FOOD:
                found[food.BESIDE] = [*range(opens)]
        if container.females_left is not None:  # none lays there: what is left is the keeper's
            found.pop(HOST, None)
            found.pop(host.NEW_PLANT, None)
            if _has_stems_left(container):
                found[FRASS] = self._once_a_day([*every])
        drinks = found.get(DRINK, [])
        found[drink.THROUGH] = [number for number in drinks if number < opens]
        found[DRINK] = [number for number in drinks if number >= opens]
        if opens:
            found[LOOK] = sorted({*range(min(opens, len(self.at))), *found.get(LOOK, ())})
        stands_on = container.lots or _has_stems_left(container)
        if any(stem.kept in ROOTED for stem in container.hosts[-1:]) and stands_on:
            for check in (HOST, host.NEW_PLANT, FOOD, food.BESIDE):
                found.pop(check, None)
            found[host.POT] = [*open_]
        if hatching := self._may_hatch(container, open_):
            found[LOOK] = sorted({*found.get(LOOK, ()), *hatching})
            found[FRASS] = [number for number in found.get(FRASS, ()) if number not in hatching]
            fed_from = min(found.get(FOOD, ()), default=len(self.at))
            unfed = [number for number in hatching if number < fed_from]
            is_dark = container.sign == "darkening"  # out at any hour from now on
            found.pop(leaf.CHECK.name, None)
            if host.POT not in found:
                found[leaf.CHECK.name if is_dark else leaf.HATCH] = unfed
        if host.POT not in found:
            found[leaf.BESIDE] = self._may_hatch(container, range(opens))
        if emerging := self._may_emerge(container, every):
            found[LOOK] = sorted({*found.get(LOOK, ()), *emerging})
        return self._tasks(found, container, checks.get(FOOD))

    def _may_hatch(self, container: Container, open_: range) -> list[int]:
        """The visits from the one before the first egg may hatch, which it does later in 95 of 100,
        and all where that is not known; none where females are with a plant, or larvae are fed with
        them."""
        bench, eggs = self.bench, [lot for lot in container.lots if lot.stage == "egg"]
        eggs = [lot for lot in eggs if not rests(bench, container, lot)]
        awake = [
            lot
            for lot in eggs
            if (taxon := bench.species_of(lot.brood)) is None or not taxon.rests_as("egg")
        ]
        with_females = container.purpose in LAYING_OR_PAIRING and container.females
        fed = container.hosts and (with_females or container.count("larva"))
        if not awake or fed:
            return []
        first = self._first_of(container, "hatch")
        if container.sign == "darkening" or not first or None in first:
            return [*open_]
        return self._from_before(first, open_)

    def _may_emerge(self, container: Container, every: range) -> list[int]:
        """The visits from the one before the first adult may emerge, which it does later in 95 of
        100; all once a pupa colours. Where no date can be told its usual looks are enough."""
        if not container.count("pupa"):
            return []
        if container.sign == "colouring":
            return [*every]
        return self._from_before(self._first_of(container, "emergence"), every)

    def _first_of(self, container: Container, change: Change) -> list[datetime | None]:
        """From when on each lot's change may come; None where no date can be told."""
        return [
            coming.not_before or coming.first
            for coming in self.foresight.coming(container)
            if coming.change == change
        ]

    def _from_before(self, first: Iterable[datetime | None], allowed: range) -> list[int]:
        """The visits from the round before the earliest of these times."""
        known = [instant for instant in first if instant is not None]
        if not known:
            return []
        begins = self.moment.previous_anchor(min(known))
        return [number for number in allowed if self.at[number] >= begins]

    def _once_a_day(self, numbers: list[int]) -> list[int]:
        result: list[int] = []
        for number in numbers:
            if not result or self.at[number] >= self.moment.next_daily(self.at[result[-1]]):
                result.append(number)
        return result

    def _by_visits(
        self, checks: dict[str, Due], allowed: range, container: Container | None
    ) -> dict[str, list[int]]:
        found: dict[str, list[int]] = {}
        for check, due in checks.items():
            after = self._rule_after(due, container)
            found[check] = self._falls_due(due, allowed, after)
            if check == HOST and due.late is not None and after is not None and after.amber_h:
                life = timedelta(hours=after.amber_h)
                found[host.NEW_PLANT] = self._grows_old(due.late, life, allowed)
        return found

    def _rule_after(self, due: Due, container: Container | None) -> Rule | None:
        """The rule that holds once it was done: of those that had no plant, that of those who have
        one in water; of those that drank for the first time, that of those who did before."""
        if container is None:
            return due.rule
        if due.check == DRINK and due.rule is not None and due.rule.when == drink.FIRST_FEED:
            return self._as_if(_all_drank(container, self.moment.now))[DRINK].rule
        if due.check not in (FOOD, HOST) or container.hosts:
            return due.rule
        now = self.moment.now
        fed = self._as_if(structs.replace(container, hosts=[Host("", "", "", "water", now, now)]))
        return fed[due.check].rule if due.check in fed else due.rule

    def _as_if(self, container: Container) -> dict[str, Due]:
        """The checks of a container if it were like this."""
        around = self.bench.containers.get(container.inside)
        alone = {one.code: one for one in (around, container) if one is not None}
        dues = all_dues(
            structs.replace(self.bench, containers=alone), self.moment, foresight=self.foresight
        )
        return {
            due.check: due
            for due in dues
            if (due.place_kind, due.where) == ("container", container.code)
        }

    def _tasks(
        self,
        found: dict[str, list[int]],
        container: Container | None = None,
        eaten: Due | None = None,
    ) -> tuple[Task, ...]:
        of = self._stems_of(container, eaten) if container is not None else {}
        tasks = []
        for check, numbers in found.items():
            stems = of.get(check, {})
            each = tuple(stems.items()) if len(stems) > 1 else ()
            if numbers:
                tasks.append(Task(check, tuple(numbers), sum(stems.values()), each))
        return tuple(sorted(tasks, key=lambda task: (task.check not in (LOOK, ROOM), task.check)))

    def _stems_of(self, container: Container, eaten: Due | None) -> dict[str, dict[str, int]]:
        """By check, how many stems of each plant it takes each time; of a leaf none are counted."""
        rule = self._rule_after(eaten, container) if eaten is not None else None
        shares = portions(self.bench, container, rule) if rule is not None else ()
        eat = summed((portion.plant, portion.stems) for portion in shares)
        lay = stems_by_plant(container) or {"": 1}
        leaves = dict.fromkeys(self._plants(container), 0)
        return {
            FOOD: eat,
            food.BESIDE: eat,
            HOST: lay,
            host.NEW_PLANT: lay,
            **dict.fromkeys((leaf.CHECK.name, leaf.HATCH, leaf.BESIDE), leaves),
        }

    def _falls_due(self, due: Due, allowed: range, after: Rule | None) -> list[int]:
        """The visits by which a check falls due; one begun early counts for its round, as it does
        for the keeper."""
        if due.rule is None or after is None:
            return []
        comes: datetime | None = max(due.due, due.put_off_until) if due.put_off_until else due.due
        by_night = is_of_the_night(after)
        numbers: list[int] = []
        for number in allowed:
            at = self.at[number]
            if by_night and self.moment.next_last_round(at - 2 * EARLY) != at:
                continue
            if comes is not None and comes <= at + EARLY:
                numbers.append(number)
                comes = self._again(due.check, after, at)
        return numbers

    def _again(self, check: str, rule: Rule, done: datetime) -> datetime | None:
        """When a check falls due once more after it was done; None where it does not."""
        if CHECKS[check].closes == "gone":
            return None
        if rule.each_round:
            return self.moment.next_unserved(done)
        if is_of_the_night(rule):
            return self.moment.next_last_round(done) or self.moment.next_daily(done)
        if rule.daily:
            return self.moment.next_daily(done)
        return done + timedelta(hours=rule.every_h) if rule.every_h else None

    def _grows_old(self, late: datetime, life: timedelta, allowed: range) -> list[int]:
        """The last visits before what was cut grows too old; each new one keeps as long again."""
        numbers: list[int] = []
        for number in allowed:
            following = self.at[number + 1] if number + 1 < len(self.at) else self.back
            if late < following:
                numbers.append(number)
                late = self.at[number] + life
        return numbers


def _has_stems_left(container: Container) -> bool:
    """Whether only stems stand there, on which the last female may have laid."""
    return bool(container.females_left and container.hosts and not container.lots)


def _all_drank(container: Container, now: datetime) -> Container:
    """A container as it were if all adults there had drunk by now."""

    def fed(lot: Lot) -> Lot:
        return structs.replace(lot, hunger=(Hunger(now, lot.number, drank=True),))

    lots = [fed(lot) if lot.stage == "adult" else lot for lot in container.lots]
    return structs.replace(container, lots=lots)


def _drinkers(bench: Bench, container: Container) -> tuple[tuple[str, int], ...]:
    """The species and number of the adults that take food; none where all of them do."""
    fed = summed(
        (bench.taxon_of(lot.brood) or lot.brood, lot.number)
        for lot in container.lots_of("adult")
        if bench.is_fed(lot)
    )
    return tuple(fed.items()) if sum(fed.values()) < container.count("adult") else ()


def _seen(container: Container, closed: datetime | None) -> tuple[str, int]:
    """The sign that stands on the card and of how many; a moult for which larvae are left be counts
    as one."""
    moults = closed is not None and "moult" in container.leave_be_why.casefold()
    if moults and container.sign == "as usual":
        return ("still", 0) if container.count("larva") else ("", 0)
    return container.sign, container.sign_left
