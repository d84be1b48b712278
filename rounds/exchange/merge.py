"""Taking another book in: what it has and this one has not, and nothing twice.

A file that is not here is copied as it is, one of entries under a name of such. Of an entry file
that is here too, the lines that stand nowhere in this book are added to this machine's own file,
byte by byte. A damaged line is told and, unless what it was broken from is here, kept in a file of
its own, so that the book is not taken for whole until it is mended. Any other file that differs is
put beside the one that is here. A file of another that came in broken, and of which every line is
here as theirs has it or broken off, is put in its place whole.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from itertools import islice
from pathlib import Path, PurePosixPath

from msgspec import Struct, field
from msgspec.structs import replace

from rounds.bench.said_apart import met_apart
from rounds.daybook import Daybook, Progress
from rounds.daybook.digests import blake2b
from rounds.daybook.files import digest_of, files_of, is_entry_file
from rounds.daybook.full_read import FullRead, history_of
from rounds.daybook.lines import holds_entries, id_of, is_named_so
from rounds.daybook.safe_files import is_plain, put_lines, read_plain
from rounds.exchange.atomic_file import ExportRefused
from rounds.exchange.bulk_copy import Copies
from rounds.exchange.known_lines import KnownLines, NewLine

AT_ONCE = 5_000  # lines that are written and flushed together
# what became of what is damaged
LEFT, COPIED, KEPT = "not taken in", "it came in with its file", "kept in a file of its own"


class MergeReport(Struct):
    """What a merge took in and what it met."""

    files: list[str] = field(default_factory=list)  # copied whole
    lines: int = 0  # added to this machine's file
    within: int = 0  # new lines in the files that were copied whole
    known: int = 0  # files that were here already
    beside: list[str] = field(default_factory=list)  # put beside a file of another content
    # what of the other book is damaged, newer than this version, no file of a book, or says
    # otherwise than a line that is here, and whether it came in
    problems: list[str] = field(default_factory=list)
    # what does not agree and was not in this book before
    conflicts: list[str] = field(default_factory=list)


def merge(book: Daybook, other: Path, progress: Progress, called: str = "") -> MergeReport:
    """Take another book's folder in.

    Args:
        called: what the keeper calls the other book; what is told of it begins with that.

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
    merged = MergeReport(problems=[f"{foreign_file}; {LEFT}" for foreign_file in left])
    before = _oddities(book.folder, progress)
    known = KnownLines(book.folder)
    with Copies(book.folder) as copies:
        for path in files:
            to = _entries_named(other, path)
            if any(_is_here(book.folder, one, other / path) for one in (path, to)):
                merged.known += 1
            elif is_entry_file(other, path) and _is_here_broken(book, to, other / path):
                new = _telling(known.new_in(other / path), merged, COPIED)
                merged.within += sum(not line.is_damaged for line in new)
                book.put_whole(str(to), read_plain(other / path))
                merged.files.append(str(to))
            elif is_entry_file(other, path) and (
                os.path.lexists(book.folder / to) or known.has_broken_copy(other / path)
            ):
                _add_lines(book, other / path, book.folder / to, known, merged)
            elif not os.path.lexists(book.folder / to):
                new = _telling(_copy(copies, path, to, other, known), merged, COPIED)
                merged.within += sum(not line.is_damaged for line in new)
                merged.files.append(str(to))
            else:
                _put_beside(copies, path, other / path, merged)
    after = _oddities(book.folder, progress)
    merged.conflicts = sorted(after - before)
    if called:
        merged.problems = [f"{called}: {problem}" for problem in merged.problems]
    return merged


def _oddities(folder: Path, progress: Progress) -> set[str]:
    bench = history_of(FullRead(folder, progress)).bench
    told = (f"{oddity.at:%Y-%m-%d %H:%M} {oddity.text}" for oddity in bench.oddities)
    return {*told, *(words for _, words in met_apart(bench))}


def _is_here(folder: Path, path: PurePosixPath, theirs: Path) -> bool:
    """Whether a file of that content is here under its name or beside it."""
    digest = digest_of(theirs)
    return any(
        is_plain(folder / pure_posix_path) and digest_of(folder / pure_posix_path) == digest
        for pure_posix_path in (path, _beside_name(path, digest))
    )


def _is_here_broken(book: Daybook, path: PurePosixPath, theirs: Path) -> bool:
    """Whether a file of another writer is here too, and broken where theirs is whole."""
    here = book.folder / path
    if path.name in book.writer.files or not is_plain(here):
        return False
    return _is_broken_from(read_plain(here), read_plain(theirs))


def _is_broken_from(data: bytes, whole: bytes) -> bool:
    """Whether each line of a file is that of another, but for some that are broken off: what they
    began with stands there whole, and nothing else is in it."""
    lines, others = data.removesuffix(b"\n").split(b"\n"), whole.split(b"\n")[:-1]
    broken = [pair for pair in zip(lines, others, strict=False) if pair[0] != pair[1]]
    begins = all(one and other.startswith(one) and id_of(other) for one, other in broken)
    return bool(broken) and begins and len(lines) <= len(others)


def _entries_named(other: Path, path: PurePosixPath) -> PurePosixPath:
    """Where a file comes in: one of entries under a name that says so, whatever it is called there,
    so that it stands in nobody's place."""
    if not is_entry_file(other, path) or is_named_so(path.name):
        return path
    return PurePosixPath(f"entries-{path.name[:40]}.{digest_of(other / path)[:8]}.jsonl")


def _copy(
    copies: Copies, path: PurePosixPath, to: PurePosixPath, other: Path, known: KnownLines
) -> Iterator[NewLine]:
    """Copy a file as it is; the lines in it that are new."""
    copies.add(other / path, to)
    if is_entry_file(other, path):
        yield from known.new_in(other / path)


def _add_lines(
    book: Daybook, theirs: Path, here: Path, known: KnownLines, merged: MergeReport
) -> None:
    """Add the lines that are new to this machine's own file, damaged ones to one of their own."""
    damaged: list[bytes] = []
    is_whole = is_plain(here) and _is_broken_from(read_plain(theirs), read_plain(here))

    def whole() -> Iterator[bytes]:
        new = known.new_in(theirs)
        if is_whole:
            new = (replace(line, is_here_whole=line.is_damaged) for line in new)
        for line in _telling(new, merged, KEPT):
            if not line.is_damaged:
                yield line.raw
            elif not line.is_here_whole:
                damaged.append(line.raw)

    lines = whole()
    while batch := list(islice(lines, AT_ONCE)):
        book.append_lines(batch)
        merged.lines += len(batch)
    if damaged:
        name = f"entries-damaged.{blake2b(b''.join(damaged), digest_size=4).hexdigest()}.jsonl"
        if not os.path.lexists(book.folder / name):
            book.refuse_another()
            *lines_kept, half = b"".join(damaged).split(b"\n")
            put_lines(book.folder / name, lines_kept, half=half)
        merged.beside.append(f"damaged lines of {theirs.name}, in {name}, until they are mended")


def _telling(lines: Iterable[NewLine], merged: MergeReport, fate: str) -> Iterator[NewLine]:
    """The same lines, with what is odd about them told.

    Args:
        fate: what becomes of damaged ones.
    """
    for line in lines:
        if line.problem:
            became = f"that line is here whole; {LEFT}" if line.is_here_whole else fate
            merged.problems.append(f"{line.problem}{f'; {became}' if line.is_damaged else ''}")
        yield line


def _put_beside(copies: Copies, path: PurePosixPath, theirs: Path, merged: MergeReport) -> None:
    name = _beside_name(path, digest_of(theirs))
    copies.add(theirs, name)
    merged.beside.append(f"{path} here is another; theirs is now {name}")


def _beside_name(path: PurePosixPath, digest: str) -> PurePosixPath:
    return path.with_name(f"{path.stem}.{digest[:8]}{path.suffix}")
