"""Which plants are for which species, where a container holds more than one."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from rounds.bench.state import Bench, Container


def taxa_in(bench: Bench, container: Container) -> list[str]:
    """The species of the animals in a container, each once."""
    return list(dict.fromkeys(bench.taxon_of(lot.brood) for lot in container.lots))


class PlantsOnRecord:
    """Which plants a species has on record: on which it laid, and which stand, or stood last, where
    it is alone. The bench is gone through once, when first asked."""

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
        on_record: of this very bench, where more than one container is asked about.
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
    return known
