"""Which plants are for which species, where a container holds more than one.

The keeper says it once of each plant (``whose`` of ``HostIn``), or it is plain: what was put in
while one species was alone there is for that one.
"""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from rounds.bench.kept_lots import ALL
from rounds.bench.state import Bench, Container


def taxa_in(bench: Bench, container: Container) -> list[str]:
    """The species of the animals in a container, each once."""
    return list(dict.fromkeys(bench.taxon_of(lot.brood) for lot in container.lots))


def plants_for(bench: Bench, container: Container | None) -> list[str]:
    """The plants that the species in a container have on record, by name."""
    return sorted(PlantsOnRecord(bench).of(taxa_in(bench, container))) if container else []


class PlantsOnRecord:
    """Which plants a species has on record: on which it laid, which stand, or stood last, where it
    is alone, and which were put in for it. The bench is gone through once, when first asked."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._known: dict[str, set[str]] | None = None

    def of(self, taxa: Iterable[str]) -> set[str]:
        """The plants of any of these species."""
        if self._known is None:
            self._known = _on_record(self._bench)
        return {plant for taxon in taxa for plant in self._known.get(taxon, ())}


def with_plants_for(
    bench: Bench, container: Container, taxon: str, on_record: PlantsOnRecord | None = None
) -> Container:
    """A container with only those of its plants that are for a species.

    A plant is for all that are there, but where another of them has it on record and this one has
    others on record and not it: it was laid on, or stood where no other species was.

    Args:
        on_record: of this very bench, where more than one container or species is asked about.
    """
    if not container.hosts:
        return container
    others = [one for one in taxa_in(bench, container) if one != taxon]
    if not others:
        return container
    on_record = on_record or PlantsOnRecord(bench)
    own = on_record.of([taxon])
    theirs = on_record.of(others) - own if own else set()
    kept = [host for host in container.hosts if host.plant not in theirs]
    return replace(container, hosts=kept) if len(kept) < len(container.hosts) else container


def _on_record(bench: Bench) -> dict[str, set[str]]:
    known = {taxon: {*plants} for taxon, plants in bench.laid.items()}
    for container in bench.standing():
        there = taxa_in(bench, container)
        if len(there) == 1:
            plants = known.setdefault(there[0], set())
            plants.update(host.plant for host in container.hosts)
            last = container.last.get("host in")
            if last is not None:
                plants.add(str(getattr(last, "plant", "")))
    for plant, taxa in bench.put_in_for.items():
        for taxon in taxa:
            known.setdefault(taxon, set()).add(plant)
    return known


def eaters_in(bench: Bench, container: Container) -> list[str]:
    """The species of the eggs and larvae in a container, each once; of one nobody named ''."""
    return list(
        dict.fromkeys(
            bench.taxon_of(lot.brood) for lot in container.lots if lot.stage in ("egg", "larva")
        )
    )


def nobody_said_whose(bench: Bench, container: Container, plant: str) -> list[str]:
    """The species there of which a plant may be one's and another's another's, and nobody said
    whose it is; empty where there is nothing to ask."""
    taxa = [taxon for taxon in eaters_in(bench, container) if taxon]
    others = {host.plant for host in container.hosts} - {plant}
    if len(taxa) < 2 or not others or plant in bench.put_in_for:
        return []
    return [] if plant in PlantsOnRecord(bench).of(taxa) else taxa


def put_in_for(bench: Bench, container: Container, plant: str, whose: str) -> None:
    """Remember for which species a plant was put in; of two species the other has what stands there
    and nobody said whose it is."""
    taxa = eaters_in(bench, container)
    species = [whose] if whose in taxa else taxa[:1] if len(taxa) == 1 and not whose else []
    for taxon in filter(None, species):  # in the order said, so that each reading gives the same
        known = (one for one in bench.put_in_for.get(plant, ()) if one)
        bench.put_in_for[plant] = tuple(dict.fromkeys((*known, taxon)))
    if whose and not species:  # that nobody knows is so of those beside it too
        beside = [] if whose == ALL else [host.plant for host in container.hosts]
        for one in (plant, *beside):
            bench.put_in_for.setdefault(one, ("",))
    rest = [taxon for taxon in taxa if taxon not in species and taxon]
    if whose in taxa and len(taxa) == 2 and rest:
        for host in container.hosts:
            if host.plant != plant and nobody_said_whose(bench, container, host.plant):
                bench.put_in_for[host.plant] = (rest[0],)


def counts_for_all(bench: Bench, container: Container) -> str:
    """That a plant counts for every species there, for whose it is is not on record; '' where it is
    or there is but one of either."""
    taxa = [taxon for taxon in eaters_in(bench, container) if taxon]
    plants = list(dict.fromkeys(host.plant for host in container.hosts))
    if len(taxa) < 2 or len(plants) < 2:
        return ""
    known = PlantsOnRecord(bench).of(taxa)
    unknown = [plant for plant in plants if plant not in known]
    said = any("" in bench.put_in_for.get(plant, ()) for plant in unknown)
    are, count = ("it is", "counts") if len(unknown) == 1 else ("they are", "count")
    why = f"nobody {'knows' if said else 'said'} whose {are}"
    return f"{' and '.join(unknown)}: {why}, {count} for all" if unknown else ""
