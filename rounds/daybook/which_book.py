"""Which book lies at a path: disks that take turns at one mount point bear one each, and what this
machine remembers of them is kept apart."""

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import msgspec

from rounds.daybook.identity import Identity
from rounds.daybook.machine_memory import WHICH, remembered_at
from rounds.daybook.safe_files import NOT_DECODED, put_lines, read_plain

MAX_BOOKS = 20  # at one path
ANOTHER_DISK = (
    "another disk is here than the one whose book was here before; each book is remembered for"
    " itself"
)


class Disk(NamedTuple):
    """Where a folder lies: the mount point above it, and the file system there."""

    mount: str
    system: str


class _Record(msgspec.Struct):
    """How a book is known again: where it lies, and the first line of each writer."""

    mount: str
    system: str
    inode: int
    lines: tuple[str, ...] = ()

    @property
    def place(self) -> tuple[str, int]:
        return self.system, self.inode


def disk_of(folder: Path) -> Disk:
    """The disk on which a folder lies.

    A number that the file system keeps is better than that of the device, which the next one that
    is plugged in gets too.

    Raises:
        OSError: there is no such folder.
    """
    mount = folder.resolve()
    about = mount.stat()
    while mount != mount.parent and mount.parent.stat().st_dev == about.st_dev:
        mount = mount.parent
    number = os.statvfs(folder).f_fsid if hasattr(os, "statvfs") else 0
    return Disk(str(mount), f"{number or about.st_dev:x}")


class WhichBook:
    """The book at a path, among those that were seen there.

    Args:
        folder: where it lies.
        name: a name that the caller gave to the writer; its memory is apart.
        identity: by what it is known.
    """

    def __init__(self, folder: Path, name: str, identity: Identity) -> None:
        self._identity = identity
        self.instead = ""  # that it is not the one that was here before, in words, at its first
        # where this machine remembers things of it, without an ending; None where it cannot
        self.beside = remembered_at(folder, name)
        self._now: _Record | None = None  # what is to be remembered of it; None of a bare place
        self._is_written = True
        with contextlib.suppress(OSError):
            if self.beside is not None:
                now = _Record(*disk_of(folder), folder.stat().st_ino, identity.lines)
                self._choose(folder, name, now)

    def _choose(self, folder: Path, name: str, now: _Record) -> None:
        known = dict(_known(folder, name))
        same = [path for path, one in known.items() if one.place == now.place] or [
            path for path, one in known.items() if self._identity.has_any(one.lines)
        ]
        takes_turns = all(
            one.mount == now.mount and one.system != now.system for one in known.values()
        )
        if same:
            self.beside = same[0]
        elif takes_turns and (self._identity.is_made or now.lines or not known):
            self.beside = remembered_at(folder, name, len(known))
            self.instead = ANOTHER_DISK if known else ""
        else:  # a bare place, or another folder: it is told to lack what was here last
            self.beside = max(known, key=lambda path: path.with_suffix(WHICH).stat().st_mtime_ns)
            return
        self._now = now
        self._is_written = self.beside in known and known[self.beside] == now
        if len(known) > 1 and self._is_written and self.beside:
            os.utime(self.beside.with_suffix(WHICH))  # it was here last

    def remember(self) -> None:
        """Keep by what it is known; a book that is made just now has nothing yet."""
        if self._now is None or self._is_written or not self._identity.lines:
            return
        self._now.lines = self._identity.lines
        self._is_written = True
        with contextlib.suppress(OSError):
            if self.beside is not None:
                put_lines(self.beside.with_suffix(WHICH), [msgspec.json.encode(self._now)])


def _known(folder: Path, name: str) -> Iterator[tuple[Path, _Record]]:
    """What is remembered of each book that was seen at a path, the first one first."""
    for number in range(MAX_BOOKS):
        path = remembered_at(folder, name, number)
        try:
            assert path is not None
            yield path, msgspec.json.decode(read_plain(path.with_suffix(WHICH)), type=_Record)
        except (OSError, *NOT_DECODED):
            return
