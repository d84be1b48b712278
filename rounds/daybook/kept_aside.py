"""Lines of a book that are kept on this machine, as those it did not take: they are that book's,
whatever lies at its path."""

import contextlib
import errno
import os
from collections.abc import Callable, Iterable, Sequence
from functools import cache
from pathlib import Path

import msgspec

from rounds.bench.plurals import count
from rounds.daybook.digests import blake2b
from rounds.daybook.identity import Identity
from rounds.daybook.lines import id_of
from rounds.daybook.safe_files import NOT_DECODED, put_lines, read_plain
from rounds.daybook.systems import PLAINLY

ENDING = ".unsaved.jsonl"


def kept_words(number: int) -> str:
    """That so many lines wait for the book."""
    lines = count(number, "line that was recorded before is", "lines that were recorded before are")
    return (
        f"{lines} not saved yet and do not count; kept on this machine, and tried again whenever"
        " the book is opened"
    )


class _Heading(msgspec.Struct):
    """The first line of a file: the ids of the lines by which the book is known, the oldest apart,
    and the folder where it lay, as device and inode.

    Of what was said into a bare place instead of a book, the ids by which that book is known.
    """

    book: str
    also: tuple[str, ...] = ()
    place: tuple[int, int] | None = None
    instead_of: tuple[str, ...] = ()

    @property
    def lines(self) -> tuple[str, ...]:
        return (self.book, *self.also)


class KeptAside:
    """What is kept of one book.

    Args:
        identity: the book.
        beside: where this machine remembers things of it, without an ending; None where nothing can
            be.
        ending: of the files.
        lacks: whether this machine has seen lines in the book that are not there now.
    """

    def __init__(
        self,
        identity: Identity,
        beside: Path | None,
        ending: str = ENDING,
        lacks: Callable[[], bool] = lambda: False,
    ) -> None:
        self._identity = identity
        self._beside = beside
        self._ending = ending
        self._lacks = lacks
        self.size = 0  # of the file that was added to last [bytes]

    def lines(self) -> list[bytes]:
        """The lines that were kept of this book, by any process of this machine."""
        return [line for lines in self._ours().values() for line in lines]

    def keep(self, lines: Sequence[bytes]) -> None:
        """Keep these lines in the place of those kept before; on return they are on disk.

        Raises:
            OSError: they cannot be kept.
        """
        before, path = self._ours(), self._path()
        put_lines(path, [*self._heading(), *lines])
        _unlink(one for one in before if one != path)

    def add(self, lines: Sequence[bytes]) -> None:
        """Keep these lines too; they are not flushed.

        Raises:
            OSError: they cannot be kept.
        """
        path, flags = self._path(), os.O_WRONLY | os.O_APPEND | os.O_CREAT | PLAINLY
        try:
            descriptor = os.open(path, flags, 0o600)
        except FileNotFoundError:
            path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            descriptor = os.open(path, flags, 0o600)
        try:
            before = os.fstat(descriptor).st_size
            data = b"\n".join((*(() if before else self._heading()), *lines, b""))
            if os.write(descriptor, data) < len(data):
                os.ftruncate(descriptor, before)
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            self.size = before + len(data)
        finally:
            os.close(descriptor)

    def gather(self) -> None:
        """Put under one heading what is kept of this book: others, by which it was known before,
        are looked for in all files. As long as it holds no line they stay as they are."""
        if not self._identity.lines:
            return
        with contextlib.suppress(OSError):
            ours, path = self._ours(), self._path()
            if ours.keys() - {path} or (ours and _heading_of(path) != self._known_by()):
                self.keep([line for lines in ours.values() for line in lines])

    def _path(self) -> Path:
        """The file of this book as it is known now.

        Raises:
            OSError: there is no place for it.
        """
        if self._beside is None:
            raise OSError(0, "this machine has no place to remember it")
        known = self._identity.lines or self._known_before()
        return _path_of(self._beside, next(iter(known), ""), self._ending)

    def _heading(self) -> list[bytes]:
        known = self._known_by()
        return [msgspec.json.encode(known)] if known else []

    def _known_by(self) -> _Heading | None:
        identity = self._identity
        lines = identity.lines or self._known_before()
        if not lines:
            return None
        return _Heading(lines[0], lines[1:], identity.place, self._instead_of())

    def _known_before(self) -> tuple[str, ...]:
        """By what a book that holds no line now was known."""
        headings = map(_heading_of, self._ours())
        return next((one.lines for one in headings if one), ())

    def _instead_of(self) -> tuple[str, ...]:
        """Where this is but the bare place of a book that was here, by what that one is known;
        nothing where it may be one of several."""
        named = self._named_so(self._beside) if self._beside is not None else []
        headings = [one for one in map(_heading_of, named) if one]
        for one in headings:
            if one.instead_of and self._identity.has_any(one.lines):
                return () if self._identity.has_any(one.instead_of) else one.instead_of
        if not (self._identity.began_empty and self._lacks()):
            return ()
        others = [one for one in headings if one.place and one.place != self._identity.place]
        return others[0].lines if len(others) == 1 else ()

    def forget(self) -> None:
        """They are in the book now."""
        _unlink(self._ours())

    def _named_so(self, beside: Path) -> list[Path]:
        try:
            with os.scandir(beside.parent) as things:
                names = [one.name for one in things if one.name.startswith(beside.name)]
        except OSError:
            return []
        return [beside.with_name(one) for one in sorted(names) if one.endswith(self._ending)]

    def _ours(self) -> dict[Path, list[bytes]]:
        """The files that are this book's, and their lines; one without a heading was kept at its
        path by any."""
        if self._beside is None:
            return {}
        found = {}
        for path in self._named_so(self._beside):
            with contextlib.suppress(OSError):
                lines = read_plain(path).splitlines()
                heading = _heading_in(lines)
                if heading is None or self._is_ours(heading, lines[1:]):
                    found[path] = lines[1:] if heading else lines
        return found

    def _is_ours(self, heading: _Heading, lines: Iterable[bytes]) -> bool:
        """Whether these are this book's: it has lines by which it was known, or lies in the same
        folder and has none but of these."""
        identity = self._identity
        if identity.has_any((*heading.lines, *heading.instead_of)):
            return True
        if heading.place is None or heading.place != identity.place or identity.is_made:
            return False
        return not identity.lines or set(identity.lines) <= set(map(_id_in, lines))


def _id_in(line: bytes) -> str:
    """The id of a line, whatever is noted before it."""
    return id_of(line[max(0, line.find(b"{")) :])


@cache
def _path_of(beside: Path, known_by: str, ending: str) -> Path:
    digest = blake2b(known_by.encode("utf-8", "surrogatepass"), digest_size=6).hexdigest()
    return beside.with_suffix(f".{digest}{ending}" if known_by else ending)


def _heading_of(path: Path) -> _Heading | None:
    with contextlib.suppress(OSError):
        return _heading_in(read_plain(path).split(b"\n", 1))
    return None


def _heading_in(lines: Sequence[bytes]) -> _Heading | None:
    with contextlib.suppress(*NOT_DECODED, IndexError):
        return msgspec.json.decode(lines[0], type=_Heading)
    return None


def _unlink(paths: Iterable[Path]) -> None:
    for path in paths:
        with contextlib.suppress(OSError):
            path.unlink()
