"""Which plants are for which species, where a container holds more than one."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from rounds.bench.state import Bench, Container


def taxa_in(bench: Bench, container: Container) -> list[str]:
    """The species of the animals in a container, each once."""
    return list(dict.fromkeys(bench.taxon_of(lot.brood) for lot in container.lots))


def with_plants_for(bench: Bench, container: Container, taxon: str) -> Container:
    """A container with only those of its plants that are for a species.

    A plant is for all that are there, but where another of them has it on record and this one has
    others on record and not it: it was laid on, or stood where no other species was.
    """
    others = [one for one in taxa_in(bench, container) if one != taxon]
    if not others or not container.hosts:
        return container
    own = _on_record(bench, [taxon])
    theirs = _on_record(bench, others) - own if own else set()
    kept = [host for host in container.hosts if host.plant not in theirs]
    return replace(container, hosts=kept) if len(kept) < len(container.hosts) else container


def _on_record(bench: Bench, taxa: Iterable[str]) -> set[str]:
    """The plants on which species laid, or that stand, or stood last, where each is alone."""
    alone = {*taxa}
    plants = {plant for taxon in alone for plant in bench.laid.get(taxon, ())}
    for container in bench.standing():
        there = taxa_in(bench, container)
        if len(there) == 1 and there[0] in alone:
            last = container.last.get("host in")
            plants |= {host.plant for host in container.hosts}
            plants |= {str(getattr(last, "plant", ""))} if last is not None else set()
    return plants
