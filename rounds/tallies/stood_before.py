"""What a line leaves to the bench that it was made on: by what codes that knew its animals, since
when a change may have been, on which stems hidden eggs were laid.

What leaves the bench line by line tells these, and asks for no earlier bench.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import datetime
from typing import Any

from msgspec import Struct

from rounds.bench.folding.unsure import meant
from rounds.bench.state import Bench, Container
from rounds.bench.whose_eggs import laid_between
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.tallies.egg_finds import sprigs_of

_LOOKS = ("looked", "counted", "searched", "hatched", "moulted", "pupated", "emerged", "cleaned")


class StoodBefore(Struct, frozen=True, tag_field="what", tag="stood before", omit_defaults=True):
    """What the bench says of one line.

    Attributes:
        line: its id.
        meant: the fields that hold other codes than the line itself.
        broods: those that it can be about, where it names none.
        since, until: between when eggs were laid, or since when a change may have been.
        stems: the kept stems on which they were hidden: plant and source of each.
    """

    line: str
    meant: dict[str, str | tuple[str, ...]] = {}
    broods: tuple[str, ...] = ()
    since: datetime | None = None
    until: datetime | None = None
    stems: tuple[tuple[str, str], ...] = ()


def stood_before(bench: Bench, said: Entry, entry: Entry) -> Iterator[StoodBefore]:
    """What the bench says of a line that leaves as a record; nothing where it adds nothing.

    Args:
        bench: as it stood before the line.
        said: the line as it was written; ``entry`` is as the bench means it.
    """
    if type(entry) not in _OF_KIND:
        return
    found: dict[str, Any] = {}
    container = bench.containers.get(getattr(entry, "container", ""))
    ask = _OF_KIND[type(entry)]
    if container and ask:
        found = ask(bench, container, entry)
    if entry is not said:
        found["meant"] = {
            name: getattr(entry, name)
            for name in entry.__struct_fields__
            if getattr(entry, name) != getattr(said, name)
        }
    if any(found.values()):
        yield StoodBefore(entry.id, **found)


def broods_meant(container: Container, entry: k.Released) -> tuple[str, ...]:
    """The broods that those which are let go can be of."""
    return tuple(lot.brood for lot in meant(container, entry))


def _released(bench: Bench, container: Container, entry: k.Released) -> dict[str, Any]:
    return {"broods": broods_meant(container, entry)} if entry.place and not entry.brood else {}


def _eggs(bench: Bench, container: Container, entry: k.Searched) -> dict[str, Any]:
    if not (entry.found and entry.brood):
        return {}
    since, until = laid_between(bench, container, entry)
    return {"since": since, "until": until}


def _stocked(bench: Bench, container: Container, entry: k.Stocked) -> dict[str, Any]:
    """When eggs on kept stems were laid: while these stood with females; searches made meanwhile
    missed them."""
    sprigs = sprigs_of(bench, container, entry)
    if not sprigs:
        return {}
    return {
        "since": min(lot.offered for lot in sprigs),
        "until": max(lot.laid_to for lot in sprigs),
        "stems": tuple(dict.fromkeys((lot.plant, lot.source) for lot in sprigs)),
    }


def _grown(bench: Bench, container: Container, entry: Any) -> dict[str, Any]:
    """A change that was inferred came since the last look."""
    last = container.last
    looks = [last[kind].at for kind in _LOOKS if kind in last]
    return {
        "since": max([container.since, *looks]) if entry.evidence != "seen" else None,
        "broods": tuple(lot.brood for lot in container.lots_of(entry.grows_from))[:1],
    }


_OF_KIND: Mapping[type[Entry], Callable[[Bench, Container, Any], dict[str, Any]] | None] = {
    k.Released: _released,
    k.Searched: _eggs,
    k.Stocked: _stocked,
    **dict.fromkeys((k.Hatched, k.Moulted, k.Pupated, k.Emerged), _grown),
    **dict.fromkeys((k.FounderIntake, k.Preserved, k.Parasitoid)),
}
