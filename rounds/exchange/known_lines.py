"""Which lines of another book stand nowhere in this one, and what is odd about them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import msgspec
from msgspec import Struct

from rounds import late
from rounds.bench.folding import says_the_same, stands_for
from rounds.daybook.digests import blake2b
from rounds.daybook.lines import (
    NEWER,
    Problem,
    entry_files,
    line_at,
    says_otherwise,
)
from rounds.daybook.safe_files import NOT_DECODED, open_plain
from rounds.entries import codec
from rounds.entries.base import Entry

_ID = late.pattern(rb'"id"\s*:\s*"([^"\\]+)"')  # of a line that is too broken to be decoded


class NewLine(Struct, frozen=True):
    """A line that stands nowhere here.

    ``problem`` says what is odd about it, at its place in the other book; ``is_damaged`` that it
    can be no entry, ``is_here_whole`` that what it was broken from stands here.
    """

    raw: bytes
    problem: Problem | None = None
    is_damaged: bool = False
    is_here_whole: bool = False


class _Named(Struct):
    id: str


class KnownLines:
    """The lines of a book: a digest of each, and where it stands by its id.

    Raises:
        OSError: a file cannot be read.
    """

    def __init__(self, folder: Path) -> None:
        self._digests: set[int] = set()
        self._paths: list[Path] = []
        self._places: dict[int, tuple[int, int, int]] = {}  # of an id: file, number, offset
        for path in entry_files(folder):
            for number, offset, raw in self._lines(path):
                self._remember(number, offset, raw)

    def new_in(self, path: Path) -> Iterator[NewLine]:
        """The lines of a file that stand nowhere yet; from now on they do."""
        for number, offset, raw in self._lines(path):
            line = self._seen(path.name, number, raw)
            if line is None:
                continue
            yield line
            if not line.is_damaged:
                self._remember(number, offset, raw)

    def has_broken_copy(self, path: Path) -> bool:
        """Whether a file holds a damaged line of which the whole stands here."""
        return any(
            line is not None and line.is_here_whole
            for number, _, raw in self._lines(path)
            if (line := self._seen(path.name, number, raw))
        )

    def _lines(self, path: Path) -> Iterator[tuple[int, int, bytes]]:
        """Each line of a file with its number and offset."""
        self._paths.append(path)
        offset = 0
        with open_plain(path, 1 << 18) as file:
            for number, raw in enumerate(file, 1):
                yield number, offset, raw
                offset += len(raw)

    def _remember(self, number: int, offset: int, raw: bytes) -> None:
        line = line_at("", number, raw)
        if line is None or isinstance(line, Problem) or not raw.endswith(b"\n"):
            return
        self._digests.add(_digest(line.raw))
        try:
            entry_id = msgspec.json.decode(line.raw, type=_Named).id
        except NOT_DECODED:
            return
        place = (len(self._paths) - 1, number, offset)
        self._places.setdefault(_digest(entry_id.encode("utf-8", "surrogatepass")), place)

    def _seen(self, file: str, number: int, raw: bytes) -> NewLine | None:
        """What is new on a line of a file, or None."""
        if not raw.endswith(b"\n"):
            trouble = Problem(file, 0, f"its last line has no end ({len(raw)} bytes)")
            return self._damaged(raw, trouble)
        line = line_at(file, number, raw)
        if line is None:
            return None
        if isinstance(line, Problem):
            return self._damaged(raw, line)
        if _digest(line.raw) in self._digests:
            return None
        try:
            entry = codec.read(line.raw)
        except codec.NotRead as reason:
            return self._damaged(line.raw, Problem(file, number, str(reason)))
        if entry is None:
            return NewLine(line.raw, Problem(file, number, f"{NEWER}; it is kept and not read"))
        return NewLine(line.raw, self._contradicted(file, number, entry))

    def _damaged(self, raw: bytes, problem: Problem) -> NewLine:
        named = _ID.search(raw)
        whole = named is not None and self._under(named[1]) is not None
        return NewLine(raw, problem, is_damaged=True, is_here_whole=whole)

    def _contradicted(self, file: str, number: int, entry: Entry) -> Problem | None:
        """That a line says otherwise than one that is known under its id."""
        known = self._under(entry.id.encode("utf-8", "surrogatepass"))
        if known is None or says_the_same(known[0], entry):
            return None
        other, place = known
        counts, at_once = stands_for(entry, other), entry.at == other.at
        return says_otherwise(file, number, entry.id, place, counts=counts, at_once=at_once)

    def _under(self, entry_id: bytes) -> tuple[Entry, tuple[str, int]] | None:
        """The entry that is known under an id, and in which file and line it stands."""
        place = self._places.get(_digest(entry_id))
        if place is None:
            return None
        position, number, offset = place
        path = self._paths[position]
        with open_plain(path) as file:
            file.seek(offset)
            line = line_at(path.name, number, file.readline())
        try:
            entry = codec.read(line.raw) if line and not isinstance(line, Problem) else None
        except codec.NotRead:
            return None
        return (entry, (path.name, number)) if entry else None


def _digest(raw: bytes) -> int:
    return int.from_bytes(blake2b(raw, digest_size=12).digest())
