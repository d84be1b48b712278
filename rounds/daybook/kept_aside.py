"""Lines of a book that are kept on this machine, as those it did not take: they are that book's,
whatever lies at its path."""

from __future__ import annotations

import contextlib
import hashlib
import os
from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path

import msgspec

from rounds.bench.plurals import count
from rounds.daybook.identity import Identity
from rounds.daybook.safe_files import NOT_DECODED, put_lines, read_plain
from rounds.daybook.systems import PLAINLY

ENDING = ".unsaved.jsonl"


def kept_words(number: int) -> str:
    """That so many lines wait for the book."""
    lines = count(number, "line that was said before is", "lines that were said before are")
    return (
        f"{lines} not saved yet and do not count; kept on this machine, and tried again whenever"
        " the book is opened"
    )


class _Heading(msgspec.Struct):
    """The first line of a file: the id of a line by which the book is known."""

    book: str


class KeptAside:
    """What is kept of one book.

    Args:
        identity: the book.
        beside: where this machine remembers things of it, without an ending; None where nothing can
            be.
        ending: of the files.
    """

    def __init__(self, identity: Identity, beside: Path | None, ending: str = ENDING) -> None:
        self._identity = identity
        self._beside = beside
        self._ending = ending
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
        path = self._path()
        try:
            descriptor = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT | PLAINLY, 0o600)
        except FileNotFoundError:
            path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            descriptor = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT | PLAINLY, 0o600)
        try:
            before = os.fstat(descriptor).st_size
            data = b"\n".join((*(() if before else self._heading()), *lines, b""))
            os.write(descriptor, data)
            self.size = before + len(data)
        finally:
            os.close(descriptor)

    def gather(self) -> None:
        """Put under one heading what is kept of this book: others, by which it was known before,
        are looked for in all files."""
        with contextlib.suppress(OSError):
            ours = self._ours()
            if ours.keys() - {self._path()}:
                self.keep([line for lines in ours.values() for line in lines])

    def _path(self) -> Path:
        """The file of this book as it is known now.

        Raises:
            OSError: there is no place for it.
        """
        if self._beside is None:
            raise OSError(0, "this machine has no place to remember it")
        return _path_of(self._beside, self._identity.line, self._ending)

    def _heading(self) -> list[bytes]:
        return [msgspec.json.encode(_Heading(self._identity.line))] if self._identity.line else []

    def forget(self) -> None:
        """They are in the book now."""
        _unlink(self._ours())

    def _ours(self) -> dict[Path, list[bytes]]:
        """The files that are this book's, and their lines; one without a heading was kept at its
        path by any."""
        if self._beside is None:
            return {}
        found = {}
        for path in sorted(self._beside.parent.glob(f"{self._beside.name}*{self._ending}")):
            with contextlib.suppress(OSError):
                lines = read_plain(path).splitlines()
                heading = _heading_of(lines)
                if not heading or heading == self._identity.line or self._identity.has(heading):
                    found[path] = lines[1:] if heading else lines
        return found


@cache
def _path_of(beside: Path, known_by: str, ending: str) -> Path:
    digest = hashlib.blake2b(known_by.encode("utf-8", "surrogatepass"), digest_size=6).hexdigest()
    return beside.with_suffix(f".{digest}{ending}" if known_by else ending)


def _heading_of(lines: Sequence[bytes]) -> str:
    with contextlib.suppress(*NOT_DECODED, IndexError):
        return msgspec.json.decode(lines[0], type=_Heading).book
    return ""


def _unlink(paths: Iterable[Path]) -> None:
    for path in paths:
        with contextlib.suppress(OSError):
            path.unlink()
