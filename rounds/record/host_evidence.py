"""What the entries say of an animal and its plant, each with the grade of its evidence.

Four grades on the bench: laid on, fed on, pupated having fed on, adult reared on. None of them says that the species
does so in the wild: the keeper chose the plant. What was found on a plant in the wild stands apart.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import Literal

from msgspec import Struct

from rounds.bench.kinds import Emerged, FounderIntake, Merged, Moulted, Moved, Pupated, Searched, Split
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench, Container
from rounds.record.held_eggs import sprigs_of
from rounds.record.replay import replay

Grade = Literal["laid on", "fed on", "pupated", "adult reared on", "egg found on", "larva found on"]
# Where eggs may be found that were not laid on the plant.
OFF_THE_PLANT = frozenset({"gauze", "wall", "paper", "feeder", "pot", "lid", "floor", "net", "lining", "swab"})


class Evidence(Struct, frozen=True):
    """One grade of evidence for one plant.

    ``alone`` is false where several plants were there, so that it is not known which of them it was; ``field`` is true
    only of what was found on a plant in the wild.
    """

    entry: str
    at: datetime
    brood: str
    plant: str
    grade: Grade
    number: int
    alone: bool = True
    field: bool = False


def host_evidence(entries: Iterable[Entry]) -> list[Evidence]:
    """Every piece of evidence, in the order in which things happened."""
    eaten = _Eaten()
    found: list[Evidence] = []
    for bench, entry in replay(entries):
        eaten.note(bench, entry)
        found.extend(_evidence(bench, entry, eaten))
    return found


class _Eaten:
    """Which plants the larvae in each container were given, by brood; it goes with them when they move."""

    def __init__(self) -> None:
        self._plants: dict[tuple[str, str], set[str]] = {}

    def of(self, container: str, brood: str) -> list[str]:
        """The plants that a brood's animals in a container were given as larvae."""
        return sorted(self._plants.get((container, brood), ()))

    def note(self, bench: Bench, entry: Entry) -> None:
        """See what stands in the container that an entry is about, before it; carry it along where animals move."""
        for code in (getattr(entry, "container", ""), *_sources(entry)):
            container = bench.containers.get(code)
            if container is None:
                continue
            plants = {host.plant for host in container.hosts}
            for lot in container.lots:
                if lot.stage == "larva":
                    self._plants.setdefault((code, lot.brood), set()).update(plants)
        for source, target in _ways(entry):
            there = bench.containers.get(source)
            for brood in {lot.brood for lot in there.lots} if there else ():
                self._plants.setdefault((target, brood), set()).update(self._plants.get((source, brood), ()))


def _sources(entry: Entry) -> tuple[str, ...]:
    return entry.sources if isinstance(entry, Merged) else ()


def _ways(entry: Entry) -> list[tuple[str, str]]:
    """From where to where animals go."""
    if isinstance(entry, Moved):
        return [(entry.container, entry.to)]
    if isinstance(entry, Split):
        return [(entry.container, code) for code in entry.into]
    if isinstance(entry, Merged):
        return [(code, entry.container) for code in entry.sources]
    return []


def _evidence(bench: Bench, entry: Entry, eaten: _Eaten) -> Iterator[Evidence]:
    if isinstance(entry, FounderIntake) and entry.found_on and entry.stage in ("egg", "larva"):
        grade: Grade = "egg found on" if entry.stage == "egg" else "larva found on"
        yield Evidence(entry.id, entry.caught or entry.at, entry.code, entry.found_on, grade, 1, field=True)
    elif isinstance(entry, Searched) and entry.found and entry.brood:
        yield from _laid(bench, entry)
    elif isinstance(entry, Moulted):
        yield from _reared(bench, entry, eaten, "fed on", "larva")
    elif isinstance(entry, Pupated):
        yield from _reared(bench, entry, eaten, "pupated", "larva")
    elif isinstance(entry, Emerged):
        yield from _reared(bench, entry, eaten, "adult reared on", "pupa")


def _laid(bench: Bench, entry: Searched) -> Iterator[Evidence]:
    """Eggs found on the plant that was named, or on the only one there; none where they were found beside it."""
    container = bench.containers.get(entry.container)
    if container is None or entry.where.strip().casefold() in OFF_THE_PLANT:
        return
    there = {held.plant for held in sprigs_of(bench, container, entry)} or {host.plant for host in container.hosts}
    if entry.plant:
        yield Evidence(entry.id, entry.at, entry.brood, entry.plant, "laid on", entry.found)
        return
    for plant in sorted(there):
        yield Evidence(entry.id, entry.at, entry.brood, plant, "laid on", entry.found, alone=len(there) == 1)


def _reared(
    bench: Bench, entry: Moulted | Pupated | Emerged, eaten: _Eaten, grade: Grade, stage: Literal["larva", "pupa"]
) -> Iterator[Evidence]:
    container = bench.containers.get(entry.container)
    for brood in [entry.brood] if entry.brood else _broods(container, stage):
        plants = eaten.of(entry.container, brood)
        for plant in plants:
            yield Evidence(entry.id, entry.at, brood, plant, grade, entry.number, alone=len(plants) == 1)


def _broods(container: Container | None, stage: Literal["larva", "pupa"]) -> list[str]:
    return sorted({lot.brood for lot in container.lots if lot.stage == stage}) if container else []
