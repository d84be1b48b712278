"""Reading a book's files: complete lines from where one stopped, and what is wrong with the rest."""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

ENTRY_FILES = "entries-*.jsonl"
_CANONICAL = re.compile(r"^entries-(?P<laptop>[a-z0-9]+)-(?P<month>\d{4}-\d{2})\.jsonl$")
MOST_BYTES_A_LINE = 1_000_000
_BOM = b"\xef\xbb\xbf"
LAST_BYTES = 512  # of what was read before, kept as a fingerprint to notice a rewritten file


@dataclass(frozen=True, slots=True)
class Line:
    """One complete line and where it stands."""

    file: str
    number: int
    raw: bytes


@dataclass(frozen=True, slots=True)
class Problem:
    """Something wrong in a book, with its place."""

    file: str
    number: int
    text: str

    def __str__(self) -> str:
        place = f"{self.file} line {self.number}" if self.number else self.file
        return f"{place}: {self.text}"


@dataclass(slots=True)
class Batch:
    """Lines read, and problems met."""

    lines: list[Line] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Mark:
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
        if mark.offset and _print_before(file.fileno(), mark.offset) != mark.print:
            batch.problems.append(Problem(path.name, 0, "was rewritten since it was read; read again"))
            mark = Mark()
        file.seek(mark.offset)
        data = file.read()
    end = data.rfind(b"\n") + 1
    known = _ids_in_original(path) if is_copy(path) else frozenset()
    number = mark.number
    for raw in _split(data[:end]):
        number += 1
        line = raw[len(_BOM) :] if number == 1 and raw.startswith(_BOM) else raw
        line = line.strip()
        if not line or (known and hashlib.sha256(line).digest() in known):
            continue
        reason = _unreadable(line)
        if reason:
            batch.problems.append(Problem(path.name, number, reason))
        else:
            batch.lines.append(Line(path.name, number, line))
    offset = mark.offset + end
    with path.open("rb") as file:
        return Mark(offset, number, _print_before(file.fileno(), offset))


def _split(data: bytes) -> Iterator[bytes]:
    return iter(data.split(b"\n")[:-1]) if data else iter(())


def _unreadable(line: bytes) -> str:
    if len(line) > MOST_BYTES_A_LINE:
        return f"is {len(line)} bytes long; an entry has at most {MOST_BYTES_A_LINE}"
    if b"\0" in line:
        return "holds zero bytes, as a disk leaves after a crash"
    if not line.startswith(b"{"):
        return "is not an entry; an entry begins with {"
    return ""


def _print_before(descriptor: int, offset: int) -> str:
    start = max(0, offset - LAST_BYTES)
    return hashlib.sha256(os.pread(descriptor, offset - start, start)).hexdigest()[:16]


def _ids_in_original(path: Path) -> frozenset[bytes]:
    """Fingerprints of the lines of the file that this one is a copy of."""
    found = re.match(r"entries-[a-z0-9]+-\d{4}-\d{2}", path.name)
    original = path.with_name(f"{found.group(0)}.jsonl") if found else path
    if original == path or not original.exists():
        return frozenset()
    return frozenset(hashlib.sha256(line.strip()).digest() for line in original.read_bytes().split(b"\n"))
