"""What the entries say of an animal and its plant, each with the grade of its evidence.

Four grades on the bench: laid on, fed on, pupated having fed on, adult reared on. None of them says
that the species does so in the wild: the keeper chose the plant. What was found on a plant in the
wild stands apart.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Literal

from msgspec import Struct

from rounds.bench.movements import EMERGED, MOULTED, PUPATED, Movement
from rounds.bench.state import Bench
from rounds.entries.registry import FounderIntake, Searched, Stocked
from rounds.tallies.batch_losses import StemsIn
from rounds.tallies.egg_finds import sprigs_of

Grade = Literal["laid on", "fed on", "pupated", "adult reared on", "egg found on", "larva found on"]
_GRADES: dict[str, Grade] = {MOULTED: "fed on", PUPATED: "pupated", EMERGED: "adult reared on"}
# Where eggs may be found that were not laid on the plant.
OFF_THE_PLANT = frozenset(
    {"gauze", "wall", "paper", "feeder", "pot", "lid", "floor", "net", "lining", "swab"}
)


class Evidence(Struct, frozen=True, tag_field="what", tag="evidence", omit_defaults=True):
    """One grade of evidence for one plant.

    ``alone`` is false where several plants were there, so that it is not known which of them it
    was; ``field`` is true only of what was found on a plant in the wild.
    """

    entry: str
    at: datetime
    brood: str
    plant: str
    grade: Grade
    number: int
    alone: bool = True
    field: bool = False


class HostEvidence:
    """Which plants the larvae in each container were given, by brood, and what became of them on
    these."""

    def __init__(self) -> None:
        self.found: list[Evidence] = []  # in the order in which things happened
        self._eaten: dict[tuple[str, str], set[str]] = {}  # by container and brood

    def take(self, one: Movement | StemsIn | Evidence) -> None:
        """Add what was seen, stems that are put in, or animals that move or pass a stage."""
        if isinstance(one, Evidence):
            self.found.append(one)
        elif isinstance(one, StemsIn):
            for brood in one.larvae:
                self._eaten.setdefault((one.container, brood), set()).add(one.plant)
        else:
            self._moved(one)

    def _moved(self, movement: Movement) -> None:
        before, after = movement.before, movement.after
        if before and movement.how in _GRADES:
            self._passed(movement, sorted(self._eaten.get((before.container, before.brood), ())))
        if after is None:
            return
        eaten: set[str] = set()
        if before and (before.container, before.brood) != (after.container, after.brood):
            eaten |= self._eaten.get((before.container, before.brood), set())
        if after.stage == "larva":
            eaten |= set(movement.plants)
        if eaten:
            self._eaten.setdefault((after.container, after.brood), set()).update(eaten)

    def _passed(self, movement: Movement, plants: list[str]) -> None:
        """What several lots of a brood say in one line is one piece of evidence."""
        assert movement.before is not None
        grade, brood = _GRADES[movement.how], movement.before.brood
        for plant in plants:
            number = movement.number
            for known in self.found[-len(plants) :]:
                if (known.entry, known.brood, known.plant, known.grade) == (
                    movement.entry,
                    brood,
                    plant,
                    grade,
                ):
                    number += known.number
                    self.found.remove(known)
            self.found.append(
                Evidence(
                    movement.entry, movement.at, brood, plant, grade, number, alone=len(plants) == 1
                )
            )


def evidence_seen(bench: Bench, entry: FounderIntake | Searched | Stocked) -> Iterator[Evidence]:
    """What a line itself says: found on a plant in the wild, or laid on one here, where eggs showed
    late on kept stems too.

    Args:
        bench: as it stood before the entry.
    """
    if isinstance(entry, Stocked):
        yield from _hidden(bench, entry)
    elif isinstance(entry, Searched):
        if entry.found and entry.brood:
            yield from _laid(bench, entry)
    elif entry.found_on and entry.stage in ("egg", "larva"):
        grade: Grade = "egg found on" if entry.stage == "egg" else "larva found on"
        yield Evidence(
            entry.id, entry.caught or entry.at, entry.code, entry.found_on, grade, 1, field=True
        )


def _hidden(bench: Bench, entry: Stocked) -> Iterator[Evidence]:
    """Eggs that hatched on kept stems before anybody found them."""
    container = bench.containers.get(entry.container)
    there = {held.plant for held in sprigs_of(bench, container, entry)} if container else set()
    for plant in sorted(there):
        yield Evidence(
            entry.id, entry.at, entry.brood, plant, "laid on", entry.number, alone=len(there) == 1
        )


def _laid(bench: Bench, entry: Searched) -> Iterator[Evidence]:
    """Eggs found on the plant that was named, or on the only one there; none where they were found
    beside it."""
    container = bench.containers.get(entry.container)
    if container is None or entry.where.strip().casefold() in OFF_THE_PLANT:
        return
    there = {held.plant for held in sprigs_of(bench, container, entry)} or {
        host.plant for host in container.hosts
    }
    if entry.plant:
        yield Evidence(entry.id, entry.at, entry.brood, entry.plant, "laid on", entry.found)
        return
    for plant in sorted(there):
        yield Evidence(
            entry.id, entry.at, entry.brood, plant, "laid on", entry.found, alone=len(there) == 1
        )
