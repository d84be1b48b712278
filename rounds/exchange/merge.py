"""Taking another book in: what it has and this one has not, and nothing twice.

A file that is not here is copied as it is. Of an entry file that is here too, the lines that stand
nowhere in this book are added to this machine's own file, byte by byte. Any other file that differs
is put beside the one that is here.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from msgspec import Struct, field

from rounds.bench.said_apart import met_apart
from rounds.daybook import Daybook, Progress
from rounds.daybook.files import digest_of, files_of, is_entry_file
from rounds.daybook.full_read import FullRead, history_of
from rounds.daybook.lines import Problem, ReadMark, entry_files, holds_entries, lines_of
from rounds.daybook.safe_files import is_plain
from rounds.exchange.atomic_file import ExportRefused
from rounds.exchange.bulk_copy import Copies

AT_ONCE = 5_000  # lines that are written and flushed together


class MergeReport(Struct):
    """What a merge took in and what it met."""

    files: list[str] = field(default_factory=list)  # copied whole
    lines: int = 0  # added to this machine's file
    within: int = 0  # new lines in the files that were copied whole
    known: int = 0  # files that were here already
    beside: list[str] = field(default_factory=list)  # put beside a file of another content
    problems: list[str] = field(default_factory=list)  # lines that could not be taken in, links
    # what does not agree and was not in this book before
    conflicts: list[str] = field(default_factory=list)


def merge(book: Daybook, other: Path, progress: Progress, called: str = "") -> MergeReport:
    """Take another book's folder in.

    Args:
        called: what the keeper calls the other book, where that is not its folder: a zip file.

    Raises:
        Refused: it is no book, or it is this one.
        OSError: something cannot be read or written; what was taken in until then stays, and doing
            it again
            takes in the rest.
    """
    here, there = book.folder.resolve(), other.resolve()
    if there == here:
        raise ExportRefused("that is this book itself")
    if here.is_relative_to(there):
        raise ExportRefused(
            f"{other} holds this book itself, in {here.relative_to(there)}; give the other book's"
            " own folder"
        )
    # before all below it is looked through
    if not any(is_plain(path) and holds_entries(path) for path in other.iterdir()):
        raise ExportRefused(
            f"there is no book in {called or other}: no file in it has lines that are entries; give"
            " the book's own folder"
        )
    files, left = files_of(other)
    merged = MergeReport(problems=[str(foreign_file) for foreign_file in left])
    before = _oddities(book.folder, progress)
    known = _Known(book.folder)
    with Copies(book.folder) as copies:
        for path in files:
            if _is_here(book.folder, path, other / path):
                merged.known += 1
            elif not os.path.lexists(book.folder / path):
                copies.add(other / path, path)
                merged.files.append(str(path))
                if len(path.parts) == 1:
                    merged.within += known.add(other / path)
            elif is_entry_file(other, path):
                _add_lines(book, other / path, known, merged)
            else:
                _put_beside(copies, path, other / path, merged)
    after = _oddities(book.folder, progress)
    merged.conflicts = sorted(after - before)
    return merged


def _oddities(folder: Path, progress: Progress) -> set[str]:
    bench = history_of(FullRead(folder, progress)).bench
    told = (f"{oddity.at:%Y-%m-%d %H:%M} {oddity.text}" for oddity in bench.oddities)
    return {*told, *(words for _, words in met_apart(bench))}


class _Known:
    """The lines that stand in this book, by a digest of each."""

    def __init__(self, folder: Path) -> None:
        self._digests: set[int] = set()
        for path in entry_files(folder):
            self.add(path)

    def add(self, path: Path) -> int:
        """The lines of a file, where it holds any; how many of them stood nowhere yet."""
        before = len(self._digests)
        if is_entry_file(path.parent, PurePosixPath(path.name)):
            for result, _ in lines_of(path, ReadMark()):
                if result is not None and not isinstance(result, Problem):
                    self._digests.add(_digest(result.raw))
        return len(self._digests) - before

    def is_new(self, raw: bytes) -> bool:
        """Whether that line stands nowhere yet; from now on it does."""
        digest = _digest(raw)
        if digest in self._digests:
            return False
        self._digests.add(digest)
        return True


def _digest(raw: bytes) -> int:
    return int.from_bytes(hashlib.blake2b(raw, digest_size=12).digest())


def _is_here(folder: Path, path: PurePosixPath, theirs: Path) -> bool:
    """Whether a file of that content is here under its name or beside it."""
    digest = digest_of(theirs)
    return any(
        is_plain(folder / pure_posix_path) and digest_of(folder / pure_posix_path) == digest
        for pure_posix_path in (path, _beside_name(path, digest))
    )


def _add_lines(book: Daybook, theirs: Path, known: _Known, merged: MergeReport) -> None:
    for lines in _in_batches(theirs, known, merged):
        book.append_lines(lines)
        merged.lines += len(lines)
    torn = theirs.stat().st_size - max(
        (mark.offset for _, mark in lines_of(theirs, ReadMark())), default=0
    )
    if torn:
        merged.problems.append(
            f"{theirs.name}: its last line has no end ({torn} bytes) and was not taken in"
        )


def _in_batches(theirs: Path, known: _Known, merged: MergeReport) -> Iterator[list[bytes]]:
    batch: list[bytes] = []
    for result, _ in lines_of(theirs, ReadMark()):
        if isinstance(result, Problem):
            merged.problems.append(str(result))
        elif result is not None and known.is_new(result.raw):
            batch.append(result.raw)
        if len(batch) == AT_ONCE:
            yield batch
            batch = []
    if batch:
        yield batch


def _put_beside(copies: Copies, path: PurePosixPath, theirs: Path, merged: MergeReport) -> None:
    name = _beside_name(path, digest_of(theirs))
    copies.add(theirs, name)
    merged.beside.append(f"{path} here is another; theirs is now {name}")


def _beside_name(path: PurePosixPath, digest: str) -> PurePosixPath:
    return path.with_name(f"{path.stem}.{digest[:8]}{path.suffix}")
