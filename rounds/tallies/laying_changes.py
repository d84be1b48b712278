"""What a line changes for laying females: plants in and out, light, who came and went."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from msgspec import Struct

from rounds.bench.folding.female_days import LAYS_IN
from rounds.bench.state import Bench
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.tallies.egg_finds import females_of


class LayingChange(Struct, frozen=True, tag_field="what", tag="laying change", omit_defaults=True):
    """Something was changed for the laying females of a species: in words, or (``plants``) what
    stood there then."""

    at: datetime
    taxon: str
    container: str
    words: str = ""
    plants: tuple[str, ...] | None = None


def plants_there(bench: Bench, entry: k.HostIn | k.HostOut) -> Iterator[LayingChange]:
    """The plants that stand with laying females, for one that is put in or taken out."""
    container = bench.at(entry.container)
    if container is not None and container.purpose in LAYS_IN:
        plants = tuple(dict.fromkeys(host.plant for host in container.hosts))
        for taxon in females_of(bench, container):
            yield LayingChange(entry.at, taxon, container.code, plants=plants)


def laying_changes(bench: Bench, entry: Entry) -> Iterator[LayingChange]:
    """What a line changes besides plants.

    Args:
        bench: as it stood before the entry.
    """
    container = bench.at(getattr(entry, "container", ""))
    if container is None:
        return
    if isinstance(entry, k.FounderIntake):
        if container.purpose in LAYS_IN and entry.sex == "female":
            yield LayingChange(
                entry.at, entry.taxon, container.code, f"{entry.code} in {container.code}"
            )
        return
    if isinstance(entry, k.Moved) and entry.stage in (None, "adult"):
        target = bench.at(entry.to)
        if target is not None and target.purpose in LAYS_IN:
            for taxon in females_of(bench, container):
                yield LayingChange(
                    entry.at, taxon, target.code, f"{entry.number} into {target.code}"
                )
    words = _words(entry) if container.purpose in LAYS_IN else ""
    for taxon in females_of(bench, container) if words else ():
        yield LayingChange(entry.at, taxon, container.code, f"{container.code} {words}")


def _words(entry: Entry) -> str:
    """What was changed besides host, in a few words."""
    match entry:
        case k.Light():
            return entry.to
        case k.Died(stage=None | "adult"):
            return f"{entry.number} died"
        case k.Released():
            return f"{entry.number} released"
        case k.Moved(stage=None | "adult"):
            return f"{entry.number} out to {entry.to}"
        case k.Changed():
            return f"now {entry.purpose}" if entry.purpose else ""
    return ""
