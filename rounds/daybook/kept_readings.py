"""What loggers wrote, as it was read from the book's files: numbers, which are taken up in a
hundredth of the time that the text takes.

It only saves time, and lies where this machine remembers things of the book. A file of it is named
by the digest of the text that was read, so that it cannot go stale.
"""

from __future__ import annotations

import contextlib
import sys
from array import array
from collections.abc import Iterable
from pathlib import Path

import msgspec

from rounds.daybook.lines import Problem
from rounds.daybook.safe_files import NOT_DECODED, put_lines, read_plain
from rounds.daybook.series import Readings

READ_AS = 1  # to be raised where the same text is read otherwise
FEWEST = 500  # readings that are worth it
_NAME = 32  # signs of a digest


class _Head(msgspec.Struct):
    digest: str
    read_as: int
    order: str
    count: int
    problems: tuple[Problem, ...]


class KeptReadings:
    """Those of a book.

    Args:
        folder: where they lie; None where nothing can be remembered.
    """

    def __init__(self, folder: Path | None) -> None:
        self._folder = folder

    def read(self, digest: str) -> Readings | None:
        """The readings of the text with that digest; None where they are not kept."""
        if not self._folder or not digest:
            return None
        with contextlib.suppress(OSError, ValueError, *NOT_DECODED):
            data = read_plain(self._folder / digest[:_NAME])
            begin = data.index(b"\n") + 1
            head = msgspec.json.decode(data[:begin], type=_Head)
            if head == _Head(digest, READ_AS, sys.byteorder, head.count, head.problems):
                return _arrays(memoryview(data)[begin:-1], head)
        return None

    def keep(self, digest: str, readings: Readings, known: Iterable[str]) -> None:
        """Keep what was read of the text with that digest.

        Args:
            known: the digests of all that the book has; what is kept of others goes.
        """
        if not self._folder or not digest or len(readings.seconds) < FEWEST:
            return
        columns = (readings.seconds, readings.temperatures_c, readings.humidities)
        head = _Head(digest, READ_AS, sys.byteorder, len(readings.seconds), readings.problems)
        text = b"\n".join([msgspec.json.encode(head), b"".join(one.tobytes() for one in columns)])
        wanted = {one[:_NAME] for one in known}
        with contextlib.suppress(OSError):
            put_lines(self._folder / digest[:_NAME], [text])
            for path in self._folder.iterdir():
                if path.name not in wanted:
                    path.unlink()


def _arrays(data: memoryview, head: _Head) -> Readings | None:
    """The three columns, one after the other."""
    size = 8 * head.count
    if len(data) != 3 * size:
        return None
    seconds, temperatures, humidities = array("q"), array("d"), array("d")
    seconds.frombytes(data[:size])
    temperatures.frombytes(data[size : 2 * size])
    humidities.frombytes(data[2 * size :])
    return Readings(seconds, temperatures, humidities, head.problems)
