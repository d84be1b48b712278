"""A checkpoint: the bench as it stood, so that a start reads only what was said since.

It is one file of the book for each writer and may be deleted at any time. Nothing in it is believed
that cannot be proved: the version of the reckoning, a sum over its own bytes that only this machine
can make (its key lies outside the book), and of every entry file that the bytes from which the
bench was made are still the bytes there are. The bench and the newest entries stand first, for most
commands read no more; a digest of the rest stands in what the sum is made of.
"""

import contextlib
import os
import time
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import cast

import msgspec

from rounds.bench.incremental_fold import (
    PersistedFold,
    Sealed,
    Snapshot,
    bytes_of,
    entries_of,
    packed,
)
from rounds.daybook.digests import blake2b
from rounds.daybook.found_whole import FoundWhole
from rounds.daybook.lines import (
    Position,
    Problem,
    ReadMark,
    holds_pieces,
    is_untouched,
    print_before,
    stamp_of,
)
from rounds.daybook.safe_files import is_plain, open_plain
from rounds.daybook.systems import NEW, lock
from rounds.daybook.writer import Writer
from rounds.entries.base import Entry

NAME = "checkpoint-{writer}"
SEAL = 64  # signs of the sum over head, newest entries and bench, which follow it
FIRST_READ = 1 << 20  # bytes, which hold the head and mostly all that is wanted
_MAGIC = b"rounds checkpoint, may be deleted at any time\n"


class CheckpointContents(msgspec.Struct, frozen=True):
    """What a checkpoint holds beside the bench: how far each file was read, which lines are
    damaged, entries of the future, and those of sets that are not whole."""

    position: Position
    problems: tuple[Problem, ...] = ()
    ahead: tuple[Entry, ...] = ()
    partial: tuple[Entry, ...] = ()


class _Sealed(msgspec.Struct):
    before: int
    at: datetime | None
    id: str
    entries: int
    beside: int


class _Head(msgspec.Struct):
    version: str
    proofs: Position  # as it was read, each with all its pieces
    problems: tuple[Problem, ...]
    ahead: msgspec.Raw
    partial: msgspec.Raw
    sealed: list[_Sealed]
    base: _Sealed
    tail: int
    bench: int
    beside: list[int]
    last: tuple[datetime, str] | None
    rest: str
    code: str = ""


_FOLDS = ("bench", "entries", "tallies")  # where the code lies that folds


def _code() -> Iterator[os.DirEntry[str]]:
    """The files of code that fold a bench and what went by, in one order."""
    package = Path(__file__).parents[1]
    folders = [str(package / name) for name in reversed(_FOLDS)]
    while folders:
        with os.scandir(folders.pop()) as things:
            here = sorted(things, key=lambda one: one.name)
        yield from (one for one in here if one.name.endswith(".py"))
        inner = (one for one in reversed(here) if one.is_dir() and one.name != "__pycache__")
        folders += (one.path for one in inner)


@cache
def reckoning_version() -> str:
    """A fingerprint of the code that folds a bench and what went by, so that a checkpoint of
    another version is not believed."""
    code = blake2b(digest_size=12)
    for one in _code():
        with open(one.path, "rb", buffering=0) as file:
            code.update(one.name.encode() + file.read())
    return code.hexdigest()


def _code_stamp() -> str:
    """By what that code is known to be the same without reading it: the system's own times of the
    last change of its files; empty where one was changed just then."""
    stamps = blake2b(digest_size=12)
    now = time.time_ns()
    for one in _code():
        about = one.stat()
        if not is_untouched(about, stamp_of(about, now)):
            return ""
        text = f"{one.path} {about.st_ino} {about.st_size} {about.st_ctime_ns} "
        stamps.update(text.encode("utf-8", "surrogateescape"))
    return stamps.hexdigest()


class Checkpoint:
    """The checkpoint of one writer in a book.

    Args:
        beside: where this machine remembers things of the book, without an ending; None where
            nothing can be.
    """

    def __init__(self, folder: Path, writer: Writer, beside: Path | None = None) -> None:
        self.folder = folder
        self._writer = writer
        self._whole = FoundWhole(beside.with_suffix(".whole") if beside else None)
        self._packed: dict[int, tuple[Sealed, Sealed]] = {}  # by identity: as it was, and packed

    @property
    def path(self) -> Path:
        """Where it lies."""
        return self.folder / NAME.format(writer=self._writer.name)

    def load(self, *, whole: bool = True) -> tuple[PersistedFold, CheckpointContents] | None:
        """What the checkpoint holds; None where there is none that can be believed.

        Args:
            whole: else all but the bench and the newest entries is left out and not read.
        """
        try:
            found = self._read(whole=whole)
        except (OSError, ValueError, msgspec.MsgspecError, RecursionError):
            return None
        if found is None:
            return None
        head, persisted_fold = found
        holds = all(self._holds(name, proof) for name, proof in head.proofs.items())
        self._whole.keep()
        if not holds:
            return None
        return persisted_fold, CheckpointContents(
            head.proofs,
            head.problems,
            tuple(entries_of(bytes(head.ahead))),
            tuple(entries_of(bytes(head.partial))),
        )

    def _read(self, *, whole: bool) -> tuple[_Head, PersistedFold] | None:
        secret = self._writer.secret
        begin = len(_MAGIC) + SEAL + 1
        with open_plain(self.path) as file:
            data = file.read(-1 if whole else FIRST_READ)
            if not secret or not data.startswith(_MAGIC):
                return None
            if data.find(b"\n", begin) < 0:  # a head with thousands of lines that are not whole yet
                data += file.read()
            body = data.index(b"\n", begin) + 1
            head = msgspec.json.decode(data[begin : body - 1], type=_Head)
            end = body + head.tail + head.bench
            data += file.read(max(0, end - len(data)))
            size = os.fstat(file.fileno()).st_size
        view = memoryview(data)
        seal = data[len(_MAGIC) : begin - 1]
        if seal != _seal(secret, [view[begin:end]]):
            return None
        if size != end + _size_of_rest(head) or (whole and _digest_of([view[end:]]) != head.rest):
            return None
        is_same = head.code and head.code == _code_stamp()
        if not is_same and head.version != reckoning_version():
            return None
        return head, _kept(head, view[body:], whole=whole)

    def _holds(self, name: str, proof: ReadMark) -> bool:
        try:
            with open_plain(self.folder / name) as file:
                about = os.fstat(file.fileno())
                if about.st_size < proof.offset:
                    return False
                digest = _digest(proof)
                if is_untouched(about, proof.stamp) or self._whole.was(name, digest, about):
                    return print_before(file.fileno(), proof.offset) == proof.print
                end = proof.pieces[-1].end if proof.pieces else 0
                at_ns = time.time_ns()
                if end != proof.offset or not holds_pieces(file.fileno(), proof.pieces):
                    return False
                self._whole.found(name, digest, about, at_ns)
                return True
        except OSError:
            return False

    def save(self, kept: PersistedFold, taken: CheckpointContents) -> bool:
        """Write the checkpoint beside and put it in place; False where another process is at it or
        the disk refuses.

        A checkpoint only saves time: where it cannot be written nothing is lost and nobody is told.
        """
        try:
            secret = self._writer.keep_secret()
            if secret:
                self._write(_file(self._small(kept), taken, secret))
                self._forget_former()
        except OSError:
            return False
        return bool(secret)

    def _small(self, kept: PersistedFold) -> PersistedFold:
        """The same with its snapshots packed; each is packed once."""
        known = self._packed
        self._packed = {id(one): known.get(id(one)) or (one, _packed(one)) for one in kept.sealed}
        sealed = tuple(self._packed[id(one)][1] for one in kept.sealed)
        base = msgspec.structs.replace(kept.base, bench=packed(kept.base.bench))
        return msgspec.structs.replace(kept, sealed=sealed, base=base)

    def _forget_former(self) -> None:
        """Take away those of names under which it writes no longer."""
        for name in self._writer.former:
            with contextlib.suppress(OSError):
                (self.folder / NAME.format(writer=name)).unlink()

    def _write(self, parts: Sequence[bytes]) -> None:
        beside = self.path.with_name(f"{self.path.name}.part")
        descriptor = _made(beside)
        try:
            with open(descriptor, "wb", closefd=False) as file:
                file.writelines(parts)
            os.fsync(descriptor)
            if os.fstat(descriptor).st_ino != beside.lstat().st_ino:
                raise BlockingIOError  # another process took it for one that was left
            os.replace(beside, self.path)
        finally:
            os.close(descriptor)


def _made(beside: Path) -> int:
    """A new file, held as long as it is written; one that nobody holds was left by a write that was
    broken off.

    Raises:
        OSError: another process is at it, or it cannot be made.
    """
    if os.path.lexists(beside):
        if is_plain(beside):
            with open_plain(beside) as left:
                lock(left.fileno())
        beside.unlink()
    descriptor = os.open(beside, os.O_WRONLY | NEW, 0o600)
    try:
        lock(descriptor)
    except OSError:
        os.close(descriptor)
        raise
    return descriptor


def is_checkpoint(path: Path) -> bool:
    """Whether a file of a book is a checkpoint, or one half written."""
    return path.name.startswith(NAME.format(writer=""))


def _digest(proof: ReadMark) -> str:
    """One digest of all that was read of a file."""
    pieces = msgspec.json.encode(proof.pieces)
    return blake2b(pieces, digest_size=16).hexdigest()


def _seal(secret: bytes, parts: Iterable[bytes | memoryview]) -> bytes:
    result = blake2b(key=secret[: blake2b.MAX_KEY_SIZE], digest_size=SEAL // 2)
    for part in parts:
        result.update(part)
    return result.hexdigest().encode()


def _digest_of(parts: Iterable[bytes | memoryview]) -> str:
    result = blake2b(digest_size=SEAL // 2)
    for part in parts:
        result.update(part)
    return result.hexdigest()


def _file(kept: PersistedFold, taken: CheckpointContents, secret: bytes) -> list[bytes]:
    rest = [*_parts(kept), kept.base.bench, *kept.beside]
    head = _Head(
        version=reckoning_version(),
        proofs={name: _proof(mark) for name, mark in taken.position.items()},
        problems=taken.problems,
        ahead=msgspec.Raw(bytes_of(taken.ahead)),
        partial=msgspec.Raw(bytes_of(taken.partial)),
        sealed=[_described(sealed.before, len(sealed.entries)) for sealed in kept.sealed],
        base=_described(kept.base, 0),
        tail=len(kept.tail),
        bench=len(kept.bench),
        beside=[len(one) for one in kept.beside],
        last=kept.last,
        rest=_digest_of(rest),
        code=_code_stamp(),
    )
    parts = [msgspec.json.encode(head), b"\n", kept.tail, kept.bench]
    return [_MAGIC, _seal(secret, parts), b"\n", *parts, *rest]


def _size_of_rest(head: _Head) -> int:
    snapshots = [*head.sealed, head.base]
    return sum(one.before + one.entries for one in snapshots) + sum(head.beside)


def _proof(mark: ReadMark) -> ReadMark:
    return msgspec.structs.replace(mark, pieces=mark.all_pieces(), sum=None)


def _packed(sealed: Sealed) -> Sealed:
    before = msgspec.structs.replace(sealed.before, bench=packed(sealed.before.bench))
    return Sealed(before, packed(sealed.entries))


def _parts(kept: PersistedFold) -> Iterator[bytes]:
    for sealed in kept.sealed:
        yield sealed.before.bench
        yield sealed.entries


def _described(before: Snapshot, entries: int) -> _Sealed:
    return _Sealed(len(before.bench), before.at, before.id, entries, before.beside)


def _kept(head: _Head, body: memoryview, *, whole: bool) -> PersistedFold:
    place = 0

    def cut(length: int) -> bytes:
        nonlocal place
        place += length
        # Not copied, for most of it is only read when something late comes; it serves wherever
        # bytes do but for searching.
        return cast("bytes", body[place - length : place])

    def snapshot(one: _Sealed) -> Snapshot:
        return Snapshot(cut(one.before if whole else 0), one.at, one.id, one.beside)

    tail, bench = cut(head.tail), cut(head.bench)
    sealed = [Sealed(snapshot(one), cut(one.entries)) for one in head.sealed if whole]
    base = snapshot(head.base)
    beside = [cut(one) for one in head.beside if whole]
    return PersistedFold(tuple(sealed), base, tail, bench, tuple(beside), head.last, not whole)
