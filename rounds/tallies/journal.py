"""What went by on a bench, record after record: what looks back adds it up and need not read the
book again.

The journal is kept beside the bench, and is cut back and written anew where a late or crossed-out
line changes what went by. What the records are made of is loaded with the first of them.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

import msgspec

if TYPE_CHECKING:
    from rounds.bench.state import Bench
    from rounds.entries.base import Entry
    from rounds.tallies.records import Record

CHUNK = 1_000  # records that are kept together as text

_encode = msgspec.json.Encoder().encode


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
        from rounds.tallies.records import went_by

        newest = self._fresh if self._open is None else self._open
        newest += went_by(bench, entry)
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
        newest = _bytes_of(self._newest())  # first, for it takes the last chunk out
        return (*self._chunks, newest)


def _bytes_of(records: list[Record]) -> bytes:
    """Records as text, which is much alike and so takes a tenth of the room."""
    return zlib.compress(_encode(records), 3)


def _records_of(chunk: bytes) -> list[Record]:
    from rounds.tallies.records import reader

    return reader().decode(zlib.decompress(chunk))
