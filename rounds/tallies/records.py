"""What an entry tells of what went by: records that say all by themselves, without the bench that
they were made on."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from typing import Any, TypeAlias

import msgspec

from rounds.bench.folding import apply_as_meant
from rounds.bench.folding.codes_given_twice import as_meant
from rounds.bench.state import Bench, Event
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.tallies.batch_losses import SIGNS
from rounds.tallies.cohorts import SeenAlive
from rounds.tallies.egg_finds import EggSearch, egg_search
from rounds.tallies.host_evidence import Evidence, evidence_seen
from rounds.tallies.laying_changes import LayingChange, laying_changes, plants_there
from rounds.tallies.seen_alive import last_written_up, seen_alive
from rounds.tallies.stems_in import StemsIn, stems_in
from rounds.tallies.stood_before import StoodBefore, stood_before

Record: TypeAlias = (
    Event
    | SeenAlive
    | EggSearch
    | StemsIn
    | Evidence
    | StoodBefore
    | LayingChange
    | k.HostOut
    | k.Closed
    | k.Looked
    | k.Air
)


@cache
def reader() -> msgspec.json.Decoder[list[Record]]:
    """Reads records; made only once there is one to be read."""
    return msgspec.json.Decoder(list[Record])


def went_by(bench: Bench, entry: Entry) -> list[Record]:
    """Add an entry that counts to the bench; what went by with it."""
    said, entry = entry, as_meant(bench, entry)
    kind = type(entry)
    before, after, is_record = _BEFORE.get(kind), _AFTER.get(kind), _ITSELF.get(kind)
    seen = [*before(bench, entry)] if before else []
    seen += stood_before(bench, said, entry)
    found: list[Record] = [*apply_as_meant(bench, entry), *seen]
    if after:
        found += after(bench, entry)
    if is_record and is_record(entry):
        found.append(entry)  # type: ignore[arg-type]  # one of the kinds in Record
    return found


def _one_after_another(
    *several: Callable[[Bench, Any], Iterable[Record]],
) -> Callable[[Bench, Any], Iterable[Record]]:
    return lambda bench, entry: [record for one in several for record in one(bench, entry)]


def _once(
    seen: Callable[[Bench, Any], Iterable[Record]],
) -> Callable[[Bench, Any], Iterable[Record]]:
    """Nothing of a founder that is here: its record was written anew on two laptops."""
    return lambda bench, entry: () if entry.code in bench.founders else seen(bench, entry)


# What a line says beside what it moves, from the bench as it stood before it and after it.
_BEFORE: dict[type[Entry], Callable[[Bench, Any], Iterable[Record]]] = {
    k.FounderIntake: _once(_one_after_another(laying_changes, evidence_seen)),
    k.Moved: laying_changes,
    k.Died: laying_changes,
    k.Released: laying_changes,
    k.Light: laying_changes,
    k.Changed: laying_changes,
    k.Searched: _one_after_another(egg_search, evidence_seen),
    k.Stocked: _one_after_another(egg_search, evidence_seen),
    k.HostIn: _one_after_another(stems_in, plants_there),
    k.HostOut: plants_there,
    k.Missing: last_written_up,
}
# Lines that are records themselves.
_ITSELF: dict[type[Entry], Callable[[Any], bool]] = {
    k.HostOut: lambda line: not line.lots,  # kept stems feed nothing
    k.Looked: lambda line: line.sign in SIGNS,
    k.Closed: lambda line: True,
    k.Air: lambda line: True,
}
_AFTER: dict[type[Entry], Callable[[Bench, Any], Iterable[Record]]] = {
    k.HostIn: plants_there,
    k.HostOut: plants_there,
    **dict.fromkeys((k.Counted, k.Drank, k.FoodRefused, k.Looked), seen_alive),
}
