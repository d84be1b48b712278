"""What this machine remembers having seen in a book, so that another version put over it is
told."""

import contextlib
import os
import time
from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from itertools import takewhile
from pathlib import Path

import msgspec

from rounds.daybook.lines import Piece, Position, Problem, ReadMark, group_of, holds_pieces, running
from rounds.daybook.own_lines import OwnLines
from rounds.daybook.safe_files import NOT_DECODED, open_plain, read_plain
from rounds.daybook.systems import NEW
from rounds.daybook.writer import Writer

# a line that stood there so long was not taken back by a disk that failed
SETTLED_NS = 2_000_000_000
WHAT_TO_DO = (
    "look for the newer copy, or take a backup in with 'rounds merge'; 'rounds check --accept'"
    " takes the book as it is"
)

OTHERWISE = (
    "lines that this machine has seen in it are not there any more or read otherwise: another"
    f" version was put over it, or lines were changed; {WHAT_TO_DO}"
)


class _File(msgspec.Struct, frozen=True):
    """How many lines an entry file and its copies had together, and digests of the file: it grows,
    so its beginning stays."""

    lines: int
    pieces: tuple[Piece, ...] = ()


class LineCounts:
    """What each file of a book held when it was looked at last; kept outside the book.

    What was written from here is known better than by looking.

    Args:
        folder: the book.
        place: where it is kept, without an ending; None where nothing can be.
        writer: who writes from here.
        own_lines: what was written from here last.
    """

    def __init__(
        self, folder: Path, place: Path | None, writer: Writer, own_lines: OwnLines
    ) -> None:
        self._folder = folder
        self._path = place.with_suffix(".seen") if place else None
        self._writer = writer
        self._own_lines = own_lines
        self._files = self._read()
        self._own = set(writer.written)
        for name, lines in writer.written.items():
            self._files[name] = _File(lines, self._seen(name).pieces)
        self._noted: Position | None = None
        self._looked = False
        self._lost: dict[str, Problem] = {}

    def _read(self) -> dict[str, _File]:
        if self._path is None:
            return {}
        try:
            # numbers alone, from before
            result = msgspec.json.decode(read_plain(self._path), type=dict[str, _File | int])
        except (OSError, *NOT_DECODED):
            return {}
        return {name: one if isinstance(one, _File) else _File(one) for name, one in result.items()}

    def _seen(self, name: str) -> _File:
        return self._files.get(name, _File(0))

    def compare(self, position: Position, changed: Collection[str] = ()) -> list[Problem]:
        """Note what was read up to there; which files hold no longer what was seen in them.

        Args:
            changed: files that were read again from their beginning.
        """
        if position == self._noted:
            return list(self._lost.values())
        first, self._looked = not self._looked, True
        self._noted = dict(position)
        now = self._counted(position)
        # it is there, and what keeps it from being read is told
        missing = self._files.keys() - position.keys()
        unread = {name for name in missing if os.path.lexists(self._folder / name)}
        fewer = [
            name
            for name, seen in self._files.items()
            if now.get(name, 0) < seen.lines and name not in unread
        ]
        has_copies = fewer and any(group_of(name) != name for name in position)
        if has_copies and _distinct(self._folder, list(position)) >= self.most(position):
            fewer = []  # a copy has them
        again = set(self._files) if first else {*changed, *self._lost} & self._files.keys()
        otherwise = [
            name for name in again - unread if name not in fewer and not self._holds(name, position)
        ]
        lost = {name: _fewer(now.get(name, 0), self._files[name].lines) for name in fewer}
        lost |= dict.fromkeys((*otherwise, *(self._own_lines.otherwise - lost.keys())), OTHERWISE)
        self._lost = {
            name: Problem(name, 0, lost[name], gap=True)
            for name in sorted(lost)
            if not self._is_made_good(name)
        }
        is_made_good = lost.keys() - self._lost.keys()
        seen = {
            name: _File(lines, self._pieces(name, position))
            for name, lines in now.items()
            if name not in self._lost
        }
        grown = {
            name: file
            for name, file in seen.items()
            if file.lines >= self._seen(name).lines and file != self._seen(name)
        }
        fresh = {
            group_of(name)
            for name, mark in position.items()
            if abs(time.time_ns() - mark.stamp.changed_ns) < SETTLED_NS
        }
        # a command may not look again; what others wrote is not taken back by this machine's disk
        if first:
            fresh &= self._own
        if grown.keys() & fresh:
            self._noted = None  # to be looked at again
        if grown.keys() - fresh or is_made_good:
            self._files.update({name: one for name, one in grown.items() if name not in fresh})
            self._write()
        return list(self._lost.values())

    def _pieces(self, name: str, position: Position) -> tuple[Piece, ...]:
        """Digests of a file as it was read; as before, where a copy alone holds what was seen in
        it."""
        seen = self._seen(name).pieces
        if name not in position or (seen and position[name].offset < seen[-1].end):
            return seen
        return position[name].all_pieces()

    def _holds(self, name: str, position: Position) -> bool:
        """Whether the file, or a copy of it under whatever name, begins with what was seen in
        it."""
        pieces = self._files[name].pieces
        return not pieces or any(
            self._begins_with(one, pieces, position[one])
            for one in sorted(position, key=lambda other: other != name)
        )

    def _begins_with(self, name: str, pieces: Sequence[Piece], mark: ReadMark) -> bool:
        """Whether a file does: digests that are among those with which it was read need no other
        look."""
        if mark.offset < pieces[-1].end:
            return False
        pairs = zip(pieces, mark.all_pieces(), strict=False)
        as_read = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], pairs))
        if as_read == len(pieces):
            return True
        try:
            begin = pieces[as_read - 1].end if as_read else 0
            with open_plain(self._folder / name) as file:
                return holds_pieces(file.fileno(), pieces[as_read:], begin)
        except OSError:
            return False

    def _is_made_good(self, name: str) -> bool:
        """Whether all that a file held is known and stands elsewhere now; then it is taken as it
        is."""
        written, seen = self._own_lines.as_written(name), self._seen(name)
        if written is None or name not in self._files:
            return False
        data, known_from = written
        end = seen.pieces[-1].end if seen.pieces else 0
        if (
            known_from > end
            or data.count(b"\n") < seen.lines
            or not _are_of(data, seen.pieces)
            or not self._writer.forget(name)
        ):
            return False
        self._own.discard(name)
        del self._files[name]
        return True

    def behind(self, position: Position) -> int:
        """By how many lines that is behind what was seen."""
        now = self._counted(position)
        return sum(max(0, seen.lines - now.get(name, 0)) for name, seen in self._files.items())

    def most(self, position: Position) -> int:
        """How many lines the book has, or had when this machine saw more of it."""
        now = self._counted(position)
        return sum(
            max(now.get(name, 0), self._seen(name).lines)
            for name in now.keys() | self._files.keys()
        )

    def accept(self, position: Position) -> None:
        """Remember the book as it is now."""
        self._files = {
            name: _File(lines, position[name].all_pieces() if name in position else ())
            for name, lines in self._counted(position).items()
        }
        self._write()

    def forget(self, name: str) -> None:
        """Remember nothing of a file, for a better one is put in its place."""
        if self._files.pop(group_of(name), None):
            self._write()

    def _counted(self, position: Position) -> dict[str, int]:
        groups: dict[str, list[str]] = defaultdict(list)
        for name in position:
            if group := group_of(name):
                groups[group].append(name)
        return {
            group: position[names[0]].number if len(names) == 1 else _distinct(self._folder, names)
            for group, names in groups.items()
        }

    def _write(self) -> None:
        """Put in place at once; where it cannot be nothing is remembered, and nothing lost."""
        if self._path is None:
            return
        beside = self._path.with_name(f".{self._path.name}.{os.urandom(4).hex()}")
        with contextlib.suppress(OSError):
            self._path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            descriptor = os.open(beside, os.O_WRONLY | NEW, 0o600)
            with os.fdopen(descriptor, "wb") as file:
                file.write(msgspec.json.encode(self._files))
            os.replace(beside, self._path)
        with contextlib.suppress(OSError):
            beside.unlink()


def _distinct(folder: Path, names: list[str]) -> int:
    """How many different lines a file and its copies hold together."""
    found: set[int] = set()
    for name in names:
        with contextlib.suppress(OSError):
            found.update(hash(line.strip()) for line in read_plain(folder / name).split(b"\n")[:-1])
    return len(found)


def _are_of(data: bytes, pieces: Iterable[Piece]) -> bool:
    """Whether bytes begin with those of which these are digests."""
    begin = 0
    for piece in pieces:
        digest = running()
        digest.update(data[begin : piece.end])
        if len(data) < piece.end or digest.hexdigest() != piece.digest:
            return False
        begin = piece.end
    return True


def _fewer(now: int, before: int) -> str:
    gone = "is gone" if not now else f"has {now:,} lines" if now > 1 else "has 1 line"
    return (
        f"{gone}, and this machine has seen {before:,} in it: an older copy was put over it, or"
        f" lines were taken out; {WHAT_TO_DO}"
    )
