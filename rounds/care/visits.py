"""What falls due while the keeper is away, by the visits of a helper: at which of them each place wants what.

The visits are the bench's own rounds between leaving and coming back. Before leaving, the keeper does what is due by then;
each check is then asked for at the first visit by which it falls due, and its hours begin again there. Nothing is asked of a
container that is not to be disturbed, and nothing that only a keeper may decide.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from msgspec import Struct

from rounds.bench.kinds.base import ROOTED
from rounds.bench.state import Bench, Container, Moat
from rounds.care.checks import CHECKS
from rounds.care.here import left_be_until
from rounds.care.moment import EARLY, Moment, utc
from rounds.care.order import GROUPS, group_of, order_key, walking_order
from rounds.care.rules import Rule
from rounds.care.standing import Due, PlaceKind
from rounds.care.supplies import UNKNOWN_PLANT, plant_for

# What only the keeper decides or judges; a helper is not asked to.
KEEPERS = frozenset(
    {"release", "permit", "keep", "hatch late", "emerge late", "change", "balance", "quarantine", "count", "eggs",
     "solution", "lamp", "heat", "wings", "still"}
)  # fmt: skip
# Done again only when the keeper finds the reason anew.
_ONCE = frozenset({"leaf", "turn"})
NEW_PLANT = "new plant"  # what stands in the container grows too old; asked for besides the look at it
_WANTS_PLANT = frozenset({"host", NEW_PLANT, "food", "leaf", "turn"})


class Task(Struct, frozen=True):
    """One check and the numbers of the visits, from 0, by which it falls due."""

    check: str
    at: tuple[int, ...]


class Place(Struct, frozen=True):
    """One place of the walk with what it holds and what is asked there.

    Args:
        tasks: in the order in which they are done; none where nothing falls due, or nothing may be done.
        animals: stage and number of each kind of animals, without codes.
        closed_until: it is neither opened nor moved before.
        plant: what is put in, as the keeper names it; '' where none is, or nobody knows which.
        rooted: potted or living, where the plant there is not cut; else empty.
        full_mm: how deep its moat is when full, in mm, where that was read.
    """

    where: str
    place_kind: PlaceKind
    group: str
    tasks: tuple[Task, ...]
    shelf: str = ""
    inside: str = ""
    is_store: bool = False
    animals: tuple[tuple[str, int], ...] = ()
    kept_stems: bool = False
    with_plant: bool = False
    sign: str = ""
    stinging: bool = False
    closed_until: datetime | None = None
    plant: str = ""
    rooted: str = ""
    barrier: str = ""
    full_mm: float | None = None

    @property
    def wants_plant(self) -> bool:
        """Whether a helper may have to put a plant in: it is asked for, or eggs may hatch where none stands."""
        asked = any(task.check in _WANTS_PLANT for task in self.tasks)
        return (asked or (self.may_hatch and bool(self.tasks))) and not self.rooted

    @property
    def may_hatch(self) -> bool:
        """Whether caterpillars may come out where no plant stands."""
        return not self.with_plant and any(stage == "egg" for stage, _ in self.animals)


class Store(Struct, frozen=True):
    """Where a cut plant stands in store."""

    code: str
    shelf: str


class Visits(Struct, frozen=True):
    """When a helper comes, every place in walking order, and where the plants that are wanted stand, where that is on record."""

    at: tuple[datetime, ...]
    places: tuple[Place, ...]
    stores: dict[str, Store]

    @property
    def plants(self) -> tuple[str, ...]:
        """The plants that are wanted, in the order of the walk."""
        return tuple(dict.fromkeys(place.plant for place in self.places if place.wants_plant and place.plant))


def visits_between(moment: Moment, leave: datetime, back: datetime) -> tuple[datetime, ...]:
    """When the rounds between leaving and coming back begin."""
    found: list[datetime] = []
    coming = moment.next_anchor(leave)
    while coming < back:
        found.append(coming)
        coming = moment.next_anchor(coming)
    return tuple(found)


def visits(bench: Bench, moment: Moment, leave: datetime, back: datetime, dues: Iterable[Due]) -> Visits:
    """What a helper is asked for between leaving and coming back."""
    leave, back = utc(leave), utc(back)
    at = visits_between(moment, leave, back)
    by_place: dict[tuple[PlaceKind, str], dict[str, Due]] = {}
    for due in dues:
        if due.check not in KEEPERS and not (due.check == "ants" and due.place_kind == "container" and due.subject):
            by_place.setdefault((due.place_kind, due.where), {}).setdefault(due.check, due)
    walk = _Walk(bench, moment, leave, back, at)
    rooms = [walk.of_place("room", "", None, by_place.get(("room", ""), {}))]
    shelves = sorted(bench.shelves.values(), key=lambda shelf: (shelf.place, shelf.name))
    rooms += [walk.of_place("shelf", one.name, one.moat, by_place.get(("shelf", one.name), {}), one.barrier) for one in shelves]
    places = [place for place in rooms if place.tasks]
    for container in walking_order(bench):
        checks = by_place.get(("container", container.code), {})
        if checks or container.lots or container.held:
            places.append(walk.of_container(container, checks))
    return Visits(at, tuple(places), _stores(bench))


def _stores(bench: Bench) -> dict[str, Store]:
    """By plant, the first store in walking order that holds it."""
    found: dict[str, Store] = {}
    for container in walking_order(bench):
        if container.purpose == "host store":
            for host in container.hosts:
                found.setdefault(host.plant, Store(container.code, order_key(bench, container)[2]))
    return found


class _Walk:
    """What all places of one absence share."""

    def __init__(self, bench: Bench, moment: Moment, leave: datetime, back: datetime, at: tuple[datetime, ...]) -> None:
        self._bench, self._moment, self._leave, self._back, self._at = bench, moment, leave, back, at
        self._first_round = moment.next_anchor(leave)

    def of_place(self, kind: PlaceKind, where: str, moat: Moat | None, checks: dict[str, Due], barrier: str = "") -> Place:
        """The room or a shelf."""
        full = max((depth.mm for depth in moat.depths), default=None) if moat else None
        return Place(where, kind, GROUPS[0], self._tasks(checks, None), barrier=barrier, full_mm=full)

    def of_container(self, container: Container, checks: dict[str, Due]) -> Place:
        """A container with what is asked there."""
        bench = self._bench
        closed = left_be_until(container, self._leave)
        animals: dict[str, int] = {}
        for lot in container.lots:
            animals[lot.stage] = animals.get(lot.stage, 0) + lot.number
        taxa = [bench.taxa.get(bench.taxon_of(lot.brood)) for lot in container.lots]
        plant = plant_for(bench, container) if container.lots or container.hosts or container.held else UNKNOWN_PLANT
        if container.held and not container.lots:
            plant = container.held[0].plant
        return Place(
            container.code,
            "container",
            group_of(container),
            self._tasks(checks, closed),
            shelf=order_key(bench, container)[2],
            inside=container.inside,
            is_store=container.purpose == "host store",
            animals=tuple(animals.items()),
            kept_stems=bool(container.held),
            with_plant=bool(container.hosts),
            sign=container.sign,
            stinging=any(taxon is not None and taxon.stinging for taxon in taxa),
            closed_until=closed,
            plant="" if plant == UNKNOWN_PLANT else plant,
            rooted=next((one.kept for one in container.hosts[-1:] if one.kept in ROOTED), ""),
            barrier=container.barrier,
            full_mm=max((depth.mm for depth in container.moat.depths), default=None),
        )

    def _tasks(self, checks: dict[str, Due], closed: datetime | None) -> tuple[Task, ...]:
        """Each check with its visits; a clutch that may hatch is looked at at every visit from then on."""
        found: dict[str, set[int]] = {}
        for check, due in checks.items():
            found[check] = self._falls_due(due, closed)
            if check == "host" and due.amber is not None and due.rule is not None and due.rule.amber_h:
                found[NEW_PLANT] = self._grows_old(due.amber, timedelta(hours=due.rule.amber_h), closed)
        if "leaf" in checks:
            hatch = max(checks["leaf"].due, self._leave)
            found.setdefault("look", set()).update(number for number in self._open(closed) if self._at[number] >= hatch)
        told = [Task(check, tuple(sorted(numbers))) for check, numbers in found.items() if numbers]
        return tuple(sorted(told, key=lambda task: (task.check not in ("look", "room"), task.check)))

    def _open(self, closed: datetime | None) -> list[int]:
        return [number for number, visit in enumerate(self._at) if closed is None or visit >= closed]

    def _falls_due(self, due: Due, closed: datetime | None) -> set[int]:
        """The visits by which a check falls due; one begun early counts for its round, as it does for the keeper."""
        if due.rule is None:
            return set()
        comes: datetime | None = max(due.due, due.put_off_until) if due.put_off_until else due.due
        if comes is not None and comes < self._first_round:  # done by the keeper before leaving
            comes = self._again(due.check, due.rule, self._leave)
        found: set[int] = set()
        for number in self._open(closed):
            if comes is not None and comes <= self._at[number] + EARLY:
                found.add(number)
                comes = self._again(due.check, due.rule, self._at[number])
        return found

    def _again(self, check: str, rule: Rule, done: datetime) -> datetime | None:
        """When a check falls due once more after it was done; None where it does not."""
        if check in _ONCE or CHECKS[check].closes == "gone":
            return None
        if rule.each_round:
            return self._moment.next_unserved(done)
        if rule.daily:
            return self._moment.next_daily(done)
        return done + timedelta(hours=rule.every_h) if rule.every_h else None

    def _grows_old(self, late: datetime, life: timedelta, closed: datetime | None) -> set[int]:
        """The last visits before what was cut grows too old; each new one keeps as long again."""
        if late < self._first_round:
            late = self._leave + life
        found: set[int] = set()
        for number in self._open(closed):
            following = self._at[number + 1] if number + 1 < len(self._at) else self._back
            if late < following:
                found.add(number)
                late = self._at[number] + life
        return found
