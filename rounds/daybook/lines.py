"""Reading a book's files: complete lines from where one stopped, and what is wrong with the rest."""

from __future__ import annotations

import contextlib
import hashlib
import os
import re
from collections.abc import Iterator
from pathlib import Path

import msgspec
from msgspec import Struct, field

ENTRY_FILES = "entries-*.jsonl"
_NAMED = re.compile(r"entries-(?P<laptop>[a-z0-9]+)-(?P<month>\d{4}-\d{2})")
_CANONICAL = re.compile(r"^entries-(?P<laptop>[a-z0-9]+)-(?P<month>\d{4}-\d{2})\.jsonl$")
MOST_BYTES_A_LINE = 1_000_000
BOM = b"\xef\xbb\xbf"
LAST_BYTES = 512  # of what was read before, kept as a fingerprint to notice a rewritten file


class _Named(Struct):
    id: str


class Line(Struct, frozen=True, gc=False):
    """One complete line and where it stands."""

    file: str
    number: int
    raw: bytes


class Problem(Struct, frozen=True, gc=False):
    """Something wrong in a book, with its place."""

    file: str
    number: int
    text: str

    def __str__(self) -> str:
        place = f"{self.file} line {self.number}" if self.number else self.file
        return f"{place}: {self.text}"


class Batch(Struct):
    """Lines read, and problems met."""

    lines: list[Line] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


class Mark(Struct, frozen=True, gc=False):
    """How far a file was read: bytes, lines, and a fingerprint of the bytes before."""

    offset: int = 0
    number: int = 0
    print: str = ""


Position = dict[str, Mark]


def entry_files(folder: Path) -> list[Path]:
    """The book's entry files, those of a laptop and month before copies that a synchroniser made of them."""
    found = sorted(folder.glob(ENTRY_FILES))
    return sorted(found, key=lambda path: (_CANONICAL.match(path.name) is None, path.name))


def is_copy(path: Path) -> bool:
    """Whether a file is a second copy of another, as a synchroniser leaves when two laptops wrote one file."""
    return _CANONICAL.match(path.name) is None


def read_on(folder: Path, position: Position) -> tuple[Batch, Position]:
    """Every complete line after the position.

    A last line without an end is not complete yet and is left for later. A file that was rewritten since is
    read from its beginning; whoever keeps the entries knows those that it has by their ids.
    """
    batch = Batch()
    after = dict(position)
    for path in entry_files(folder):
        mark = position.get(path.name, Mark())
        try:
            size = path.stat().st_size
            if size == mark.offset:
                continue
            after[path.name] = _read_file(path, mark if size > mark.offset else Mark(), batch)
        except OSError as trouble:
            batch.problems.append(Problem(path.name, 0, f"cannot be read: {trouble.strerror or trouble}"))
    return batch, after


def _read_file(path: Path, mark: Mark, batch: Batch) -> Mark:
    with path.open("rb") as file:
        if mark.offset and print_before(file.fileno(), mark.offset) != mark.print:
            batch.problems.append(Problem(path.name, 0, "was rewritten since it was read; read again"))
            mark = Mark()
    known = _lines_of_original(path) if is_copy(path) else frozenset()
    end = mark
    for found, end in lines_of(path, mark):  # noqa: B007 - the last one is the answer
        if isinstance(found, Problem):
            batch.problems.append(found)
        elif found is not None and not (known and hashlib.sha256(found.raw).digest() in known):
            batch.lines.append(found)
    return end


def lines_of(path: Path, mark: Mark, until: int | None = None) -> Iterator[tuple[Line | Problem | None, Mark]]:
    """Each complete line after the mark, or what is wrong with it, or None where it is empty; and the mark after it.

    The last mark alone carries the fingerprint. A file without a complete line gives its end once, with None.

    Args:
        until: where to stop [bytes], where the file may have grown meanwhile.
    """
    offset, number = mark.offset, mark.number
    with path.open("rb", buffering=1 << 18) as file:
        file.seek(offset)
        ahead = file.readline()
        while ahead.endswith(b"\n") and (until is None or offset < until):
            raw, ahead = ahead, file.readline()
            offset += len(raw)
            number += 1
            last = not ahead.endswith(b"\n") or offset == until
            after = Mark(offset, number, print_before(file.fileno(), offset)) if last else Mark(offset, number)
            yield line_at(path.name, number, raw), after
        if offset == mark.offset:
            yield None, Mark(offset, number, print_before(file.fileno(), offset))


def line_at(file: str, number: int, raw: bytes) -> Line | Problem | None:
    """A line of a file, or what is wrong with it; None where there is nothing on it."""
    line = raw[len(BOM) :] if number == 1 and raw.startswith(BOM) else raw
    line = line.strip()
    if not line:
        return None
    reason = _unreadable(line)
    return Problem(file, number, reason) if reason else Line(file, number, line)


def _unreadable(line: bytes) -> str:
    if len(line) > MOST_BYTES_A_LINE:
        return f"is {len(line)} bytes long; an entry has at most {MOST_BYTES_A_LINE}"
    if b"\0" in line:
        return "holds zero bytes, as a disk leaves after a crash"
    if not line.startswith(b"{"):
        return "is not an entry; an entry begins with {"
    return ""


def print_before(descriptor: int, offset: int) -> str:
    """The fingerprint of the bytes before an offset."""
    start = max(0, offset - LAST_BYTES)
    return hashlib.sha256(os.pread(descriptor, offset - start, start)).hexdigest()[:16]


def month_of(path: Path) -> str:
    """The month that an entry file or a copy of one is about, as 2026-05; empty where its name tells none."""
    found = _NAMED.match(path.name)
    return found["month"] if found else ""


def ids_like(path: Path, entry_id: str) -> Iterator[str]:
    """The ids of the lines of a file in which that id stands somewhere."""
    try:
        data = path.read_bytes()
    except OSError:
        return
    wanted = entry_id.encode("utf-8", "surrogateescape")
    place = data.find(wanted)
    while place >= 0:
        begin, end = data.rfind(b"\n", 0, place) + 1, data.find(b"\n", place)
        if end < 0:
            return
        with contextlib.suppress(msgspec.MsgspecError, RecursionError):
            yield msgspec.json.decode(data[begin:end], type=_Named).id
        place = data.find(wanted, end)


def _lines_of_original(path: Path) -> frozenset[bytes]:
    """Fingerprints of the lines of the file that this one is a copy of."""
    found = _NAMED.match(path.name)
    original = path.with_name(f"{found.group(0)}.jsonl") if found else path
    if original == path or not original.exists():
        return frozenset()
    return frozenset(hashlib.sha256(line.strip()).digest() for line in original.read_bytes().split(b"\n"))
