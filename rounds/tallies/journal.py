"""What went by on a bench, record after record: what looks back adds it up and need not read the
book again.

A record says all by itself, without the bench that it was made on. The journal is kept beside the
bench, and is cut back and written anew where a late or crossed-out line changes what went by.
"""

from __future__ import annotations

import zlib
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from typing import Any, TypeAlias

import msgspec

from rounds.bench.folding import apply_as_meant
from rounds.bench.folding.codes_given_twice import as_meant
from rounds.bench.movements import Event
from rounds.bench.state import Bench
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.tallies.batch_losses import SIGNS
from rounds.tallies.cohorts import SeenAlive
from rounds.tallies.egg_finds import EggSearch, egg_search
from rounds.tallies.host_evidence import Evidence, evidence_seen
from rounds.tallies.laying_changes import LayingChange, laying_changes, plants_there
from rounds.tallies.seen_alive import last_written_up, seen_alive
from rounds.tallies.stems_in import StemsIn, stems_in

Record: TypeAlias = (
    Event
    | SeenAlive
    | EggSearch
    | StemsIn
    | Evidence
    | LayingChange
    | k.HostOut
    | k.Closed
    | k.Looked
    | k.Air
)
CHUNK = 1_000  # records that are kept together as text

_encode = msgspec.json.Encoder().encode


@cache
def _reader() -> msgspec.json.Decoder[list[Record]]:
    """Reads records; made only once there is one to be read."""
    return msgspec.json.Decoder(list[Record])


class Journal:
    """Records in order, most of them as text.

    Args:
        kept: chunks as ``kept`` gave them.
    """

    def __init__(self, kept: Iterable[bytes] = ()) -> None:
        self._chunks = list(kept)  # each of so many records, but for the last until it is read
        # None until the last chunk is read, which waits until it is asked for
        self._open: list[Record] | None = None if self._chunks else []
        self._fresh: list[Record] = []  # what came meanwhile
        self.cuts = 0  # how often it was cut back

    def _newest(self) -> list[Record]:
        """The records that are not put together yet."""
        if self._open is None:
            self._open = [*_records_of(self._chunks.pop()), *self._fresh]
            self._fresh = []
        return self._open

    def __len__(self) -> int:
        newest = self._newest()
        return CHUNK * len(self._chunks) + len(newest)

    def add(self, bench: Bench, entry: Entry) -> None:
        """Add an entry that counts to the bench, and here what went by with it."""
        entry = as_meant(bench, entry)
        kind = type(entry)
        before, after, is_record = _BEFORE.get(kind), _AFTER.get(kind), _ITSELF.get(kind)
        newest = self._fresh if self._open is None else self._open
        seen = list(before(bench, entry)) if before else None
        newest += apply_as_meant(bench, entry)
        if seen:
            newest += seen
        if after:
            newest += after(bench, entry)
        if is_record and is_record(entry):
            newest.append(entry)  # type: ignore[arg-type]  # one of the kinds in Record
        if len(newest) >= CHUNK:
            self._put_together()

    def _put_together(self) -> None:
        """Keep as text what is enough for a chunk, another being left open."""
        newest = self._newest()
        while len(newest) >= 2 * CHUNK:
            self._chunks.append(_bytes_of(newest[:CHUNK]))
            del newest[:CHUNK]

    def cut(self, length: int) -> None:
        """Forget what came after the first so many records."""
        newest = self._newest()
        if length < len(self):
            self.cuts += 1
        while length < CHUNK * len(self._chunks):
            newest[:0] = _records_of(self._chunks.pop())
        del newest[length - CHUNK * len(self._chunks) :]

    def empty(self) -> Journal:
        """Another one, with nothing in it."""
        return Journal()

    def since(self, length: int) -> Iterator[Record]:
        """The records after the first so many."""
        newest = self._newest()
        first, skip = divmod(length, CHUNK)
        for chunk in self._chunks[first:]:
            yield from _records_of(chunk)[skip:]
            skip = 0
        yield from newest[max(0, length - CHUNK * len(self._chunks)) :]

    def kept(self) -> tuple[bytes, ...]:
        """All of it, to be written down and taken up again."""
        return (*self._chunks, _bytes_of(self._newest()))


def _bytes_of(records: list[Record]) -> bytes:
    """Records as text, which is much alike and so takes a tenth of the room."""
    return zlib.compress(_encode(records), 3)


def _records_of(chunk: bytes) -> list[Record]:
    return _reader().decode(zlib.decompress(chunk))


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
