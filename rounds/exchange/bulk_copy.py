"""Copying many files into a book: written beside their places, flushed together, and put there once
they are on disk.

Flushed one by one, twenty thousand small files would take many minutes.
"""

from __future__ import annotations

import contextlib
import os
import shutil
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path, PurePosixPath
from types import TracebackType
from typing import NamedTuple, Self

from rounds.daybook.safe_files import flush_folder, make_below, open_plain
from rounds.daybook.systems import NEW
from rounds.exchange.atomic_file import ExportRefused

AT_ONCE = 100  # files that are open together
FLUSHERS = 16  # a disk does several flushes in the time of one


class _OnItsWay(NamedTuple):
    descriptor: int
    part: Path
    place: Path


class Copies:
    """Files on their way into a book's folder; whatever ends it, each is there whole or not at
    all."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._waiting: list[_OnItsWay] = []

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        try:
            if kind is None:
                self.finish()
        finally:
            for one in self._waiting:
                with contextlib.suppress(OSError):
                    os.close(one.descriptor)
                with contextlib.suppress(OSError):
                    one.part.unlink()

    def add(self, source: Path, path: PurePosixPath) -> None:
        """Copy a file to a path below the folder, private to its owner, with its time, and through
        no link.

        Raises:
            Refused: something else is in the place of one of its folders.
            OSError: it cannot be read or written.
        """
        try:
            folder = make_below(self._folder, path.parent)
        except OSError as trouble:
            raise ExportRefused(f"{trouble.filename} {trouble.strerror}") from trouble
        part = folder / f".{path.name[:100]}.{os.urandom(4).hex()}.part"
        with open_plain(source) as out:
            descriptor = os.open(part, os.O_WRONLY | NEW, 0o600)
            self._waiting.append(_OnItsWay(descriptor, part, folder / path.name))
            with open(descriptor, "wb", closefd=False) as into:
                shutil.copyfileobj(out, into, 1 << 20)
            about = os.fstat(out.fileno())
            os.utime(descriptor, ns=(about.st_atime_ns, about.st_mtime_ns))
        if len(self._waiting) >= AT_ONCE:
            self.finish()

    def finish(self) -> None:
        """Put those that wait in their places.

        Raises:
            Refused: something came to be there meanwhile.
            OSError: one cannot be written.
        """
        with ThreadPoolExecutor(FLUSHERS) as flushers:
            list(flushers.map(os.fsync, [one.descriptor for one in self._waiting]))
        for one in self._waiting:
            if os.path.lexists(one.place):
                raise ExportRefused(f"{one.place} came to be there meanwhile; merge again")
            one.part.replace(one.place)
        for folder in {one.place.parent for one in self._waiting}:
            flush_folder(folder)
        for one in self._waiting:
            os.close(one.descriptor)
        self._waiting = []
