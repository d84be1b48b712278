"""What the entries say of an animal and its plant, each with the grade of its evidence.

Four grades on the bench: laid on, fed on, pupated having fed on, adult reared on. None of them says
that the species does so in the wild: the keeper chose the plant. What was found on a plant in the
wild stands apart.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import Literal

from msgspec import Struct

from rounds.bench.state import Bench
from rounds.entries.plant_parts import is_off_the_plant
from rounds.entries.registry import FounderIntake, Searched, Stocked
from rounds.tallies.cohorts import Passage
from rounds.tallies.egg_finds import sprigs_of

Grade = Literal["laid on", "fed on", "pupated", "adult reared on", "egg found on", "larva found on"]


class Evidence(Struct, frozen=True, tag_field="what", tag="evidence", omit_defaults=True):
    """One grade of evidence for one plant.

    ``alone`` is false where several plants were there, so that it is not known which of them it
    was, or an adult had several before; ``field`` is true only of what was found on a plant in the
    wild.
    """

    entry: str
    at: datetime
    brood: str
    plant: str
    grade: Grade
    number: int
    alone: bool = True
    field: bool = False


def evidence_of(passages: Iterable[Passage]) -> Iterator[Evidence]:
    """What animals that passed a stage say of the plants that they had: larvae of those of the
    instar that they ended, adults of all that they had before.

    What several of a brood say in one line of the same plants is one piece of evidence.
    """
    numbers: dict[tuple[str, datetime, str, Grade, tuple[str, ...]], int] = {}
    for one in passages:
        if grade := _grade(one):
            plants = one.cohort.ate if grade == "adult reared on" else one.plants
            key = one.entry, one.at, one.cohort.brood, grade, tuple(sorted(plants))
            numbers[key] = numbers.get(key, 0) + one.cohort.number
    for (entry, at, brood, grade, plants), number in numbers.items():
        for plant in plants:
            yield Evidence(entry, at, brood, plant, grade, number, alone=len(plants) == 1)


def _grade(passage: Passage) -> Grade | None:
    if passage.cohort.stage == "egg":
        return None
    ended: dict[str, Grade] = {"pupa": "pupated", "adult": "adult reared on"}
    return ended.get(passage.to, "fed on")


def evidence_seen(bench: Bench, entry: FounderIntake | Searched | Stocked) -> Iterator[Evidence]:
    """What a line itself says: found on a plant in the wild, or laid on one here, where eggs showed
    late on kept stems too.

    Args:
        bench: as it stood before the entry.
    """
    if isinstance(entry, Stocked):
        yield from _hidden(bench, entry)
        if catch := entry.catch(""):
            yield from _found_on(catch, entry.number)
    elif isinstance(entry, Searched):
        if entry.found and entry.brood:
            yield from _laid(bench, entry)
    else:
        yield from _found_on(entry, 1)


def _found_on(catch: FounderIntake, number: int) -> Iterator[Evidence]:
    """The plant on which an egg or larva was found in the wild."""
    if catch.found_on and catch.stage in ("egg", "larva"):
        grade: Grade = "egg found on" if catch.stage == "egg" else "larva found on"
        at = min(catch.caught or catch.at, catch.at)
        yield Evidence(catch.id, at, catch.code, catch.found_on, grade, number, field=True)


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
    if container is None or is_off_the_plant(entry.where):
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
