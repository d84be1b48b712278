"""Larvae that come to a plant which their species has not eaten on record: many would rather starve
than change, so it is asked about before they are moved."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from rounds.bench.state import Bench, Container, Lot
from rounds.entries.questions import Choice, WhichAnimals


def on_another_plant(
    bench: Bench, lots: Iterable[Lot], to: Iterable[Any], *, sure: bool
) -> WhichAnimals | None:
    """Whether larvae are to go where only plants stand that their species has not eaten on record;
    None where nothing is in doubt, or it was said to be meant."""
    targets = [one for code in to if (one := bench.at(str(code))) is not None]
    larvae = [lot for lot in lots if lot.stage == "larva"]
    if sure:
        return None
    for container in targets:
        stands = _plants(container)
        for lot in larvae:
            eaten = _eaten(bench, lot)
            if stands and eaten and not {*map(str.casefold, stands)} & {*map(str.casefold, eaten)}:
                species = bench.taxon_of(lot.brood) or lot.brood
                return WhichAnimals(
                    f"{species} ate {' and '.join(eaten)} so far; {' and '.join(stands)}"
                    f" {'stands' if len(stands) == 1 else 'stand'} in"
                    f" {container.code}; if they are to go there, add",
                    (Choice("sure", {"sure": True}),),
                )
    return None


def _plants(container: Container) -> list[str]:
    return list(dict.fromkeys(host.plant for host in container.hosts if host.plant))


def _eaten(bench: Bench, lot: Lot) -> list[str]:
    """The plants with larvae of its species: those there now, and the last that was put in."""
    species = bench.taxon_of(lot.brood)
    found: dict[str, None] = {}
    for container in bench.standing():
        if any(
            one.brood == lot.brood or (species and bench.taxon_of(one.brood) == species)
            for one in container.lots_of("larva")
        ):
            last = getattr(container.last.get("host in"), "plant", "")
            found |= dict.fromkeys(filter(None, [*_plants(container), last]))
    return list(found)
