"""Reading a book's files: complete lines from where one stopped, and what is wrong with the
rest."""

import contextlib
import os
import re
import time
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from fnmatch import fnmatch
from functools import cache, partial
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct, field

from rounds import late
from rounds.bench.plurals import count
from rounds.daybook.digests import blake2b, sha256
from rounds.daybook.safe_files import (
    NO_FILE,
    NOT_DECODED,
    NOT_FOLLOWED,
    is_plain,
    open_plain,
    read_plain,
)
from rounds.daybook.systems import read_at

ENTRY_FILES = "entries-*.jsonl"
_NAMED = late.pattern(r"entries-(?P<writer>[a-z0-9]+)-(?P<month>\d{4}-\d{2})")
_NO_COPY = late.pattern(
    r"^(\.|checkpoint-)|\.(part|partial|te?mp|crdownload|download)$", re.IGNORECASE
)  # not, or not yet
_CANONICAL = late.pattern(r"^entries-(?P<writer>[a-z0-9]+)-(?P<month>\d{4}-\d{2})\.jsonl$")
_ID = late.pattern(rb'"id":"[^"]+"')
_BEGINS = b'{"what":'
_BEGIN = late.pattern(rb'(?=\{"what":)')
MAX_BYTES_A_LINE = 1_000_000
MAX_A_FILE = 100  # lines that cannot be read, told one by one
NEWER = "is of a newer version"
UNREADABLE = "cannot be read"
BOM = b"\xef\xbb\xbf"
GLANCED_AT = 65_536  # bytes of a file of another name, to see whether it holds entries
EMPTY = (
    "is empty: it did not come whole, or its lines were taken out; bring back the whole file, or"
    " delete it if its lines stand elsewhere"
)
LAST_BYTES = 512  # of what was read before, kept as a fingerprint to notice a rewritten file


class _Named(Struct):
    id: str


def id_of(line: bytes) -> str:
    """The id of a line; empty where it tells none."""
    with contextlib.suppress(*NOT_DECODED):
        return msgspec.json.decode(line, type=_Named).id
    return ""


class FileLine(Struct, frozen=True, gc=False):
    """One complete line and where it stands."""

    file: str
    number: int
    raw: bytes


class Problem(Struct, frozen=True, gc=False):
    """Something wrong in a book, with its place (0 where it is of the whole file), and whether
    something of the record may be missing by it."""

    file: str
    number: int
    text: str
    gap: bool = False

    def __str__(self) -> str:
        place = f"{self.file} line {self.number}" if self.number else self.file
        return f"{place}: {self.text}" if place else self.text


def unread(file: str, trouble: OSError, what: str = UNREADABLE) -> Problem:
    """That a file cannot be read, and why."""
    return Problem(file, 0, f"{what}: {trouble.strerror or trouble}", gap=True)


class LineProblems:
    """What is wrong with lines as it is met: of each file so many one by one, for whoever mends
    them by hand, and the rest by their number."""

    def __init__(self) -> None:
        self._told: list[Problem] = []
        self._met: Counter[str] = Counter()
        self._rest: dict[str, int] = {}  # by file, with which line it begins

    def meet(self, problem: Problem) -> None:
        """One more; lines of a newer version are told by their number anyhow."""
        if problem.text != NEWER:
            self._met[problem.file] += 1
            if self._met[problem.file] > MAX_A_FILE:
                self._rest.setdefault(problem.file, problem.number)
                return
        self._told.append(problem)

    def all(self) -> list[Problem]:
        """All that were met."""
        rest = [
            Problem(file, number, _unreadable_too(self._met[file] - MAX_A_FILE), gap=True)
            for file, number in self._rest.items()
        ]
        return self._told + rest


def _unreadable_too(lines: int) -> str:
    return UNREADABLE + (f", nor can {count(lines - 1, 'line')} after it" if lines > 1 else "")


class LinesRead(Struct):
    """Lines read, problems met, and files of which something that was read before is gone or
    changed."""

    lines: list[FileLine] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    changed: list[str] = field(default_factory=list)


class Piece(Struct, frozen=True, gc=False):
    """A digest of the bytes of a file from the piece before to this end, as they were read."""

    end: int
    digest: str


class Stamp(Struct, frozen=True, gc=False):
    """By what a file is known to be the same, and when it was looked at [ns]."""

    inode: int = 0
    size: int = 0
    changed_ns: int = 0
    at_ns: int = 0


class ReadMark(Struct, frozen=True, gc=False):
    """How far a file was read: bytes, lines, a fingerprint of the bytes before, and what shows that
    they are those read.

    ``sum`` is the running digest of what was read since the last of the pieces.
    """

    offset: int = 0
    number: int = 0
    print: str = ""
    pieces: tuple[Piece, ...] = ()
    sum: Any = None
    stamp: Stamp = Stamp()

    def all_pieces(self) -> tuple[Piece, ...]:
        """Digests of everything before the offset."""
        return (*self.pieces, Piece(self.offset, self.sum.hexdigest())) if self.sum else self.pieces


def running(mark: ReadMark | None = None) -> Any:
    """A digest to go on with."""
    return mark.sum.copy() if mark and mark.sum else blake2b(digest_size=16)


def stamp_of(about: os.stat_result, at_ns: int) -> Stamp:
    """The stamp of a file."""
    return Stamp(about.st_ino, about.st_size, about.st_ctime_ns, at_ns)


JUST_THEN_NS = 1_000_000_000  # the system's clock of files is coarse


def is_untouched(about: os.stat_result, stamp: Stamp) -> bool:
    """Whether a file is as it was when it was read: the system's own time of its last change shows
    it, unless that was just then."""
    now = stamp_of(about, stamp.at_ns)
    return now == stamp and stamp.changed_ns + JUST_THEN_NS < stamp.at_ns


Position = dict[str, ReadMark]
Progress = Callable[[int, int], None]  # bytes done, of so many


def entry_files(folder: Path) -> list[Path]:
    """The files that hold the book's entries, those of a writer and month before copies that a
    synchroniser made of them.

    A copy is known by what is in it, for each synchroniser calls it otherwise. Links, pipes and
    devices are none.

    Raises:
        OSError: the folder cannot be read.
    """
    with os.scandir(folder) as things:
        paths = [
            Path(dir_entry.path)
            for dir_entry in things
            if dir_entry.is_file(follow_symlinks=False)
            and (is_named_so(dir_entry.name) or is_entry_file(Path(dir_entry.path)))
        ]
    return sorted(paths, key=lambda path: (is_copy(path), path.name))


def in_the_place_of_files(folder: Path) -> list[Problem]:
    """What has the name of an entry file and is none, or is empty, so that it hides what such a
    file would hold; each is made with its first line in it.

    Raises:
        OSError: the folder cannot be read.
    """
    odd: dict[str, str] = {}
    with os.scandir(folder) as things:
        for one in things:
            if not is_named_so(one.name):
                continue
            if not one.is_file(follow_symlinks=False):
                odd[one.name] = NOT_FOLLOWED if one.is_symlink() else NO_FILE
            else:
                with contextlib.suppress(FileNotFoundError):
                    if not one.stat(follow_symlinks=False).st_size:
                        odd[one.name] = EMPTY
    return [Problem(name, 0, odd[name], gap=True) for name in sorted(odd)]


def is_entry_file(path: Path) -> bool:
    """Whether a file of a book's folder holds entries, by its name or by what is in it."""
    return is_named_so(path.name) or (_NO_COPY.search(path.name) is None and holds_entries(path))


def is_named_so(name: str) -> bool:
    """Whether a file is called as those of entries are."""
    return fnmatch(name, ENTRY_FILES)


class _Whole(Struct):
    what: str
    id: str
    at: str
    logged: str


def holds_entries(path: Path) -> bool:
    """Whether one of the first lines of a file is an entry."""
    try:
        with open_plain(path, 0) as file:
            begin = file.read(GLANCED_AT)
    except OSError:
        return False
    for line in begin.removeprefix(BOM).split(b"\n"):
        with contextlib.suppress(*NOT_DECODED):
            msgspec.json.decode(line, type=_Whole)
            return True
    return False


def is_copy(path: Path) -> bool:
    """Whether a file is a second copy of another, as a synchroniser leaves when a file was written
    in two places."""
    return _CANONICAL.match(path.name) is None


def read_on(
    folder: Path, position: Position, own: Collection[str] = ()
) -> tuple[LinesRead, Position]:
    """Every complete line after the position.

    A last line without an end is not complete yet and is left for later. A file that was rewritten
    since is read from its beginning; whoever keeps the entries knows those that it has by their
    ids. Where the folder itself is gone or cannot be read nothing is read and nothing forgotten.

    Args:
        own: names of files whose writer looks after their ends itself.
    """
    batch = LinesRead()
    after = dict(position)
    try:
        paths = entry_files(folder)
        batch.problems += [one for one in in_the_place_of_files(folder) if one.file not in own]
    except OSError as trouble:
        batch.problems.append(unread(folder.name, trouble, "the book's folder cannot be read"))
        return batch, position
    for path in paths:
        mark = position.get(path.name, ReadMark())
        try:
            about = path.stat()
            stamp = stamp_of(about, 0)
            same = stamp.inode == mark.stamp.inode and stamp.changed_ns == mark.stamp.changed_ns
            if stamp.size == mark.offset and same:
                continue
            end = after[path.name] = _read_file(path, mark, batch)
            if (
                end.stamp.size > end.offset
                and path.name not in own
                and not stands_elsewhere(path, paths)
            ):
                batch.problems.append(
                    Problem(path.name, 0, without_end(end.stamp.size - end.offset), gap=True)
                )
        except OSError as trouble:
            batch.problems.append(unread(path.name, trouble))
    for name in sorted(position.keys() - {path.name for path in paths}):
        batch.changed.append(name)
        del after[name]
    return batch, after


def without_end(size: int) -> str:
    """That so many bytes at the end of a file are not a line yet."""
    return (
        f"its last line has no end ({size} bytes); it may still be being copied, or was broken off"
    )


def stands_elsewhere(
    path: Path,
    files: Collection[Path],
    number: int = 0,
    read: Callable[[Path], bytes] = read_plain,
) -> bool:
    """Whether all that a broken line of a file held stands whole elsewhere, so that nothing is
    missing.

    It does if each line of which it has the id does, of which no more stands there than its
    beginning, maybe with zero bytes in it; or if, in a copy of the same file, it begins the line
    that follows the same line.

    Args:
        number: of the line; that without an end, at the end of the file, where it is 0.
    """
    lines = read(path).split(b"\n")
    at = number - 1 if number else len(lines) - 1
    if at >= len(lines) or (number and id_of(lines[at])):  # one that has an end says what it says
        return False
    parts = [part for part in _BEGIN.split(lines[at]) if part]
    if parts and all(_is_whole_in_one(part, files, read) for part in parts):
        return True
    group, follows = group_of(path.name), b"\n".join(lines[max(0, at - 1) : at + 1])
    return at > 0 and any(
        other != path
        and group in ("", group_of(other.name))
        and (b"\n" + read(other)).find(b"\n" + follows, 0, read(other).rfind(b"\n") + 1) >= 0
        for other in files
    )


def _is_whole_in_one(part: bytes, files: Iterable[Path], read: Callable[[Path], bytes]) -> bool:
    """Whether one of the files has the whole line of which this is a part, from its beginning on,
    maybe with zero bytes in it."""
    named = _ID.search(part)
    known = part.rstrip(b"\0\r")
    for path in files if named else ():
        data = read(path)
        at = data.find(named[0]) if named else -1
        while at >= 0:
            begin, end = data.rfind(b"\n", 0, at) + 1, data.find(b"\n", at)
            whole = data[begin:end] if end >= 0 and data.startswith(_BEGINS, begin) else b""
            has_room = len(part) > len(whole) + 1 or len(known) > len(whole)  # for another
            pairs = zip(known, whole, strict=False)
            if not has_room and id_of(whole) and all(one in (0, other) for one, other in pairs):
                return True
            at = data.find(named[0], at + 1)  # type: ignore[index]
    return False


def still_broken(folder: Path, problems: Iterable[Problem]) -> list[Problem]:
    """The problems without those of lines of which all that they held stands elsewhere."""
    read, files = cache(read_plain), cache(partial(entry_files, folder))
    return [
        one
        for one in problems
        if not one.gap
        or not one.number
        or one.text == NEWER
        or one.text.startswith(UNREADABLE)
        or not _stands_elsewhere(folder / one.file, files, one.number, read)
    ]


def _stands_elsewhere(
    path: Path, files: Callable[[], list[Path]], number: int, read: Callable[[Path], bytes]
) -> bool:
    try:
        return stands_elsewhere(path, files(), number, read)
    except OSError:
        return False


def position_of(folder: Path) -> Position:
    """The position after every complete line that there is."""
    position: Position = {}
    for path in entry_files(folder):
        with contextlib.suppress(OSError):
            for _, mark in lines_of(path, ReadMark()):
                position[path.name] = mark
    return position


def _read_file(path: Path, mark: ReadMark, batch: LinesRead) -> ReadMark:
    if mark.offset:
        with open_plain(path) as file:
            size = os.fstat(file.fileno()).st_size
            if size < mark.offset:
                batch.changed.append(path.name)
                mark = ReadMark()
            elif print_before(file.fileno(), mark.offset) != mark.print:
                batch.problems.append(
                    Problem(path.name, 0, "was rewritten since it was read; read again")
                )
                batch.changed.append(path.name)
                mark = ReadMark()
    known = _lines_of_original(path) if is_copy(path) else frozenset()
    end, damaged = mark, LineProblems()
    for result, end in lines_of(path, mark):  # noqa: B007 - the last one is the answer
        if isinstance(result, Problem):
            damaged.meet(result)
        elif result is not None and not (known and sha256(result.raw).digest() in known):
            batch.lines.append(result)
    batch.problems += damaged.all()
    return end


def lines_of(path: Path, mark: ReadMark) -> Iterator[tuple[FileLine | Problem | None, ReadMark]]:
    """Each complete line after the mark, or what is wrong with it, or None where it is empty; and
    the mark after it.

    The last mark alone carries fingerprint and digest. A file without a complete line gives its end
    once, with None.
    """
    offset, number, read = mark.offset, mark.number, running(mark)
    with open_plain(path, 1 << 18) as file:
        stamp = stamp_of(os.fstat(file.fileno()), time.time_ns())

        def reached() -> ReadMark:
            return ReadMark(
                offset, number, print_before(file.fileno(), offset), mark.pieces, read, stamp
            )

        file.seek(offset)
        ahead = file.readline()
        while ahead.endswith(b"\n"):
            raw, ahead = ahead, file.readline()
            offset += len(raw)
            number += 1
            read.update(raw)
            last = not ahead.endswith(b"\n")
            yield line_at(path.name, number, raw), reached() if last else ReadMark(offset, number)
        if offset == mark.offset:
            yield None, reached()


def line_at(file: str, number: int, raw: bytes) -> FileLine | Problem | None:
    """A line of a file, or what is wrong with it; None where there is nothing on it."""
    line = raw[len(BOM) :] if number == 1 and raw.startswith(BOM) else raw
    line = line.strip()
    if not line:
        return None
    reason = _unreadable(line)
    return Problem(file, number, reason, gap=True) if reason else FileLine(file, number, line)


def _unreadable(line: bytes) -> str:
    if len(line) > MAX_BYTES_A_LINE:
        return f"is {len(line)} bytes long; an entry has at most {MAX_BYTES_A_LINE}"
    fewer, more = sorted((line[::2].count(0), line[1::2].count(0)))
    if len(line) <= 3 * more and 10 * fewer <= more:
        return "is UTF-16 text, which this book is not; save the file again as UTF-8"
    if b"\0" in line:
        return "holds zero bytes, as a disk leaves after a crash"
    if not line.startswith(b"{"):
        return "is not an entry; an entry begins with {"
    return ""


def group_of(name: str) -> str:
    """The entry file that a file is, or is a copy of; empty where its name tells nothing."""
    match = _NAMED.search(name)
    return f"{match.group(0)}.jsonl" if match else ""


def print_before(descriptor: int, offset: int) -> str:
    """The fingerprint of the bytes before an offset."""
    start = max(0, offset - LAST_BYTES)
    return sha256(read_at(descriptor, offset - start, start)).hexdigest()[:16]


def holds_pieces(descriptor: int, pieces: Sequence[Piece], begin: int = 0) -> bool:
    """Whether the bytes of an open file, from an offset on, are those of which these are
    digests."""
    for piece in pieces:
        if digest_of_part(descriptor, begin, piece.end) != piece.digest:
            return False
        begin = piece.end
    return True


def digest_of_part(descriptor: int, offset: int, end: int) -> str:
    """A digest of the bytes of a file from an offset up to an end."""
    found = running()
    while offset < end:
        data = read_at(descriptor, min(1 << 20, end - offset), offset)
        if not data:
            break
        found.update(data)
        offset += len(data)
    return str(found.hexdigest())


def month_of(path: Path) -> str:
    """The month that an entry file or a copy of one is about, as 2026-05; empty where its name
    tells none."""
    match = _NAMED.search(path.name)
    return match["month"] if match else ""


def lines_under(path: Path, entry_id: str) -> Iterator[int]:
    """The numbers of the lines of a file that stand under an id."""
    try:
        data = read_plain(path)
    except OSError:
        return
    wanted = entry_id.encode("utf-8", "surrogateescape")
    position = data.find(wanted)
    while position >= 0:
        begin, end = data.rfind(b"\n", 0, position) + 1, data.find(b"\n", position)
        if end < 0:
            return
        if id_of(data[begin:end].removeprefix(BOM)) == entry_id:
            yield data.count(b"\n", 0, begin) + 1
        position = data.find(wanted, end)


def missing_ids(folder: Path, ids: Iterable[str]) -> set[str]:
    """Those of the ids under which no line stands in the files.

    Raises:
        OSError: a file cannot be read, so that it cannot be told.
    """
    left = set(ids)
    for path in reversed(entry_files(folder)):
        for result, _ in lines_of(path, ReadMark()) if left else ():
            if isinstance(result, FileLine):
                left.discard(id_of(result.raw))
    return left


def says_otherwise(
    file: str, number: int, entry_id: str, other: tuple[str, int], *, counts: bool, at_once: bool
) -> Problem:
    """A line that stands under the id of another at that place, and is not the same.

    Args:
        counts: whether this line counts, and not the other.
        at_once: both happened at one instant.
    """
    why = "is first in the alphabet, at one time" if at_once else "says an earlier time"
    text = (
        f"says otherwise than {other[0]} line {other[1]} under the same id {entry_id};"
        f" {'this one' if counts else 'the other'} counts, which {why}"
    )
    return Problem(file, number, text, gap=True)


def newer_words(lines: int) -> str:
    """That so many lines are of kinds that only a newer version knows."""
    if lines == 1:
        kept, its = "1 line of a newer version is kept and not read", "its"
    else:
        kept, its = f"{lines:,} lines of a newer version are kept and not read", "their"
    return f'{kept}; if no laptop has one, {its} word behind "what" is damaged'


def _lines_of_original(path: Path) -> frozenset[bytes]:
    """Fingerprints of the lines of the file that this one is a copy of."""
    match = _NAMED.search(path.name)
    original = path.with_name(f"{match.group(0)}.jsonl") if match else path
    if original == path or not is_plain(original):
        return frozenset()
    return frozenset(sha256(line.strip()).digest() for line in read_plain(original).split(b"\n"))
