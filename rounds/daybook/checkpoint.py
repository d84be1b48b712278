"""A checkpoint: the bench as it stood, so that a start reads only what was said since.

It is one file of the book for each laptop and may be deleted at any time. Nothing in it is believed that cannot be
proved: the version of the reckoning, a sum over its own bytes, and of every entry file that the bytes read then
are still the bytes there are.
"""

from __future__ import annotations

import fcntl
import hashlib
import os
import zlib
from collections.abc import Iterator, Sequence
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import cast

import msgspec

from rounds.bench.history import Kept, Sealed, Snapshot
from rounds.daybook.lines import Mark, Position, print_before

NAME = "checkpoint-{laptop}"
_MAGIC = b"rounds checkpoint, may be deleted at any time\n"


class Proof(msgspec.Struct, frozen=True):
    """What shows that the part of a file that was read is unchanged."""

    mark: Mark
    size: int
    mtime_ns: int
    digest: str


class Taken(msgspec.Struct, frozen=True):
    """What a checkpoint holds beside the bench: how far each file was read, and what was found wrong in them."""

    position: Position
    newest_id: str
    problems: tuple[str, ...] = ()


class _Sealed(msgspec.Struct):
    before: int
    at: datetime | None
    id: str
    entries: int


class _Head(msgspec.Struct):
    version: str
    check: int
    proofs: dict[str, Proof]
    newest_id: str
    problems: tuple[str, ...]
    sealed: list[_Sealed]
    base: _Sealed
    tail: int
    bench: int


@cache
def reckoning_version() -> str:
    """A fingerprint of the code that folds a bench, so that a checkpoint of another version is not believed."""
    code = hashlib.blake2b(digest_size=12)
    folder = Path(__file__).parents[1] / "bench"
    for path in sorted(folder.rglob("*.py")):
        code.update(path.name.encode() + path.read_bytes())
    return code.hexdigest()


class Checkpoint:
    """The checkpoint of one laptop in a book."""

    def __init__(self, folder: Path, laptop: str) -> None:
        self.folder = folder
        self.path = folder / NAME.format(laptop=laptop)
        self._proofs: dict[str, Proof] = {}

    def load(self) -> tuple[Kept, Taken] | None:
        """What the checkpoint holds; None where there is none that can be believed."""
        try:
            found = self._parsed(self.path.read_bytes())
        except (OSError, ValueError, msgspec.MsgspecError, RecursionError):
            return None
        if found is None:
            return None
        head, kept = found
        if not all(self._holds(name, proof) for name, proof in head.proofs.items()):
            return None
        self._proofs = head.proofs
        position = {name: proof.mark for name, proof in head.proofs.items()}
        return kept, Taken(position, head.newest_id, head.problems)

    def _parsed(self, data: bytes) -> tuple[_Head, Kept] | None:
        if not data.startswith(_MAGIC):
            return None
        end = data.index(b"\n", len(_MAGIC))
        head = msgspec.json.decode(data[len(_MAGIC) : end], type=_Head)
        body = memoryview(data)[end + 1 :]
        if head.version != reckoning_version() or zlib.crc32(body) != head.check:
            return None
        return head, _kept(head, body)

    def _holds(self, name: str, proof: Proof) -> bool:
        try:
            with (self.folder / name).open("rb") as file:
                about = os.fstat(file.fileno())
                if about.st_size < proof.mark.offset:
                    return False
                if (about.st_size, about.st_mtime_ns) == (proof.size, proof.mtime_ns):
                    return print_before(file.fileno(), proof.mark.offset) == proof.mark.print
                return _digest(file.fileno(), proof.mark.offset) == proof.digest
        except OSError:
            return False

    def save(self, kept: Kept, taken: Taken) -> bool:
        """Write the checkpoint beside and put it in place; False where another process is at it or the disk refuses.

        A checkpoint only saves time: where it cannot be written nothing is lost and nobody is told.
        """
        try:
            proofs = {name: self._proof(name, mark) for name, mark in taken.position.items()}
            self._write(_file(kept, taken, proofs))
        except OSError:
            return False
        self._proofs = proofs
        return True

    def _proof(self, name: str, mark: Mark) -> Proof:
        before = self._proofs.get(name)
        with (self.folder / name).open("rb") as file:
            about = os.fstat(file.fileno())
            if before and before.mark == mark and (about.st_size, about.st_mtime_ns) == (before.size, before.mtime_ns):
                return before
            return Proof(mark, about.st_size, about.st_mtime_ns, _digest(file.fileno(), mark.offset))

    def _write(self, parts: Sequence[bytes]) -> None:
        beside = self.path.with_name(f"{self.path.name}.part")
        descriptor = os.open(beside, os.O_RDWR | os.O_CREAT, 0o600)
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
            if os.fstat(descriptor).st_ino != beside.stat().st_ino:
                raise BlockingIOError  # another process put it in place just now
            os.ftruncate(descriptor, 0)
            with open(descriptor, "wb", closefd=False) as file:
                file.writelines(parts)
            os.fsync(descriptor)
            os.replace(beside, self.path)
        finally:
            os.close(descriptor)


def is_checkpoint(path: Path) -> bool:
    """Whether a file of a book is a checkpoint, or one half written."""
    return path.name.startswith(NAME.format(laptop=""))


def _digest(descriptor: int, length: int) -> str:
    """A digest of the first so many bytes of a file."""
    found = hashlib.blake2b(digest_size=16)
    offset = 0
    while offset < length:
        data = os.pread(descriptor, min(1 << 20, length - offset), offset)
        if not data:
            break
        found.update(data)
        offset += len(data)
    return found.hexdigest()


def _file(kept: Kept, taken: Taken, proofs: dict[str, Proof]) -> list[bytes]:
    body = [*_parts(kept), kept.base.bench, kept.tail, kept.bench]
    check = 0
    for part in body:
        check = zlib.crc32(part, check)
    head = _Head(
        version=reckoning_version(),
        check=check,
        proofs=proofs,
        newest_id=taken.newest_id,
        problems=taken.problems,
        sealed=[_described(one.before, len(one.entries)) for one in kept.sealed],
        base=_described(kept.base, 0),
        tail=len(kept.tail),
        bench=len(kept.bench),
    )
    return [_MAGIC, msgspec.json.encode(head), b"\n", *body]


def _parts(kept: Kept) -> Iterator[bytes]:
    for one in kept.sealed:
        yield one.before.bench
        yield one.entries


def _described(before: Snapshot, entries: int) -> _Sealed:
    return _Sealed(len(before.bench), before.at, before.id, entries)


def _kept(head: _Head, body: memoryview) -> Kept:
    place = 0

    def cut(length: int) -> bytes:
        nonlocal place
        place += length
        # Not copied, for most of it is only read when something late comes; it serves wherever bytes do but for searching.
        return cast("bytes", body[place - length : place])

    def snapshot(one: _Sealed) -> Snapshot:
        return Snapshot(cut(one.before), one.at, one.id)

    sealed = tuple(Sealed(snapshot(one), cut(one.entries)) for one in head.sealed)
    return Kept(sealed, snapshot(head.base), cut(head.tail), cut(head.bench))
