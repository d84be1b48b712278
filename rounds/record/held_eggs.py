"""Eggs that showed on held sprigs: they were laid where the sprigs stood with females, however late they were found."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct

from rounds.bench import kinds as k
from rounds.bench.folding.tending import hidden_on, lots_searched
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench


class OnHeld(Struct, frozen=True):
    """Eggs of a species on held sprigs: how many, from which container and plant (empty where several), taken out when."""

    taxon: str
    source: str
    plant: str
    eggs: int
    taken_out: datetime


def eggs_on_held(bench: Bench, entry: Entry) -> OnHeld | None:
    """What a search of held sprigs found, or how many hatchlings told of hidden eggs; None for all else.

    Args:
        bench: as it stood before the entry.
    """
    if not isinstance(entry, k.Searched | k.Stocked):
        return None
    container = bench.at(entry.container)
    if container is None:
        return None
    if isinstance(entry, k.Searched):
        number, sprigs = entry.found, lots_searched(bench, container, entry)
    else:
        number, sprigs = entry.number, hidden_on(bench, container, entry)
    taxon = bench.taxon_of(entry.brood) or next((one.taxon for one in sprigs if one.taxon), "")
    if not sprigs or not taxon:
        return None
    sources, plants = {one.source for one in sprigs}, {one.plant for one in sprigs}
    return OnHeld(
        taxon,
        sources.pop() if len(sources) == 1 else "",
        plants.pop() if len(plants) == 1 else "",
        number,
        max(one.taken_out for one in sprigs),
    )
