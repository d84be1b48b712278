"""Lines that a book did not take, kept on this machine until it does: they are that book's, whatever lies at its path."""

from __future__ import annotations

import contextlib
import hashlib
from collections.abc import Iterable, Sequence
from pathlib import Path

import msgspec

from rounds.bench.plurals import count
from rounds.daybook.identity import Identity
from rounds.daybook.safe_files import put_lines, read_plain

ENDING = ".unsaved.jsonl"


def kept_words(number: int) -> str:
    """That so many lines wait for the book."""
    lines = count(number, "line that was said before is", "lines that were said before are")
    return f"{lines} not saved yet and do not count; kept on this machine, and tried again whenever the book is opened"


class _Heading(msgspec.Struct):
    """The first line of a file: the id of a line by which the book is known."""

    book: str


class KeptAside:
    """What is kept of one book.

    Args:
        identity: the book.
        beside: where this machine remembers things of it, without an ending; None where nothing can be.
    """

    def __init__(self, identity: Identity, beside: Path | None) -> None:
        self._identity = identity
        self._beside = beside

    def lines(self) -> list[bytes]:
        """The lines that were kept of this book, by any process of this machine."""
        return [line for lines in self._ours().values() for line in lines]

    def keep(self, lines: Sequence[bytes]) -> None:
        """Keep these lines in the place of those kept before; on return they are on disk.

        Raises:
            OSError: they cannot be kept.
        """
        if self._beside is None:
            raise OSError(0, "this machine has no place to remember it")
        before, known_by = self._ours(), self._identity.line
        heading = [msgspec.json.encode(_Heading(known_by))] if known_by else []
        path = _path_of(self._beside, known_by)
        put_lines(path, [*heading, *lines])
        _unlink(one for one in before if one != path)

    def forget(self) -> None:
        """They are in the book now."""
        _unlink(self._ours())

    def _ours(self) -> dict[Path, list[bytes]]:
        """The files that are this book's, and their lines; one without a heading was kept at its path by any."""
        if self._beside is None:
            return {}
        found = {}
        for path in sorted(self._beside.parent.glob(f"{self._beside.name}*{ENDING}")):
            with contextlib.suppress(OSError):
                lines = read_plain(path).splitlines()
                heading = _heading_of(lines)
                if not heading or heading == self._identity.line or self._identity.has(heading):
                    found[path] = lines[1:] if heading else lines
        return found


def _path_of(beside: Path, known_by: str) -> Path:
    digest = hashlib.blake2b(known_by.encode("utf-8", "surrogatepass"), digest_size=6).hexdigest()
    return beside.with_suffix(f".{digest}{ENDING}" if known_by else ENDING)


def _heading_of(lines: Sequence[bytes]) -> str:
    with contextlib.suppress(msgspec.MsgspecError, IndexError):
        return msgspec.json.decode(lines[0], type=_Heading).book
    return ""


def _unlink(paths: Iterable[Path]) -> None:
    for path in paths:
        with contextlib.suppress(OSError):
            path.unlink()
