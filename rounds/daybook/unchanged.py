"""Whether all that a start reads is as it was, by what the system shows of the files."""

from __future__ import annotations

import os
import sys
import time
import zlib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from rounds.daybook.digests import blake2b
from rounds.daybook.lines import JUST_THEN_NS
from rounds.daybook.machine_memory import WHICH
from rounds.daybook.safe_files import read_plain

FileMarks = dict[str, tuple[int, ...]]  # by path, what the system shows of a file
MOST = 5_000  # files of a book that are looked at; of one with more nothing is told by this
# what is remembered of what was reckoned: no start reads it but to reckon less
DUES, CHECKS = ".due", ".checks"
_WRITTEN_ANEW = ".json"  # who writes there: each start may write it anew as it is
# what a start itself writes of a book that is new or was changed: which it is, what it saw of it
_OWN = (WHICH, ".seen", ".whole", ".loggers", ".readings")


def shown_of(book: Path, beside: Path) -> FileMarks | None:
    """What is shown of every file of a book, and of what this machine remembers of it, but for what
    was reckoned; None where that cannot be told, or the book has too many.

    Args:
        beside: where that is remembered, without an ending.
    """
    try:
        about = book.stat()
        shown: FileMarks = {"": (about.st_dev, about.st_ino, about.st_mode)}
        for one in _below(str(book)):
            shown[one.path.removeprefix(f"{book}{os.sep}")] = _seen(one)
            if len(shown) > MOST:
                return None
        with os.scandir(beside.parent) as things:
            ours = [one for one in things if one.name.startswith(f"{beside.name}.")]
        shown |= {
            one.path: _held(one) if one.name.endswith(_WRITTEN_ANEW) else _seen(one)
            for one in ours
            if not one.name.endswith((DUES, CHECKS))
        }
    except OSError:
        return None
    return shown


def is_settled(before: FileMarks, now: FileMarks, beside: Path) -> bool:
    """Whether what was read in between is what is there: nothing was changed meanwhile but what a
    start writes itself, and nothing of the book so lately that the system's clock of files would
    not show another change."""
    long_ago = time.time_ns() - JUST_THEN_NS
    own = {f"{beside}{ending}" for ending in _OWN}
    return all(
        path in own or before.get(path) == now.get(path) for path in before.keys() | now.keys()
    ) and all(
        about[-1] < long_ago for path, about in now.items() if not path.startswith(str(beside))
    )


def _below(folder: str) -> Iterator[os.DirEntry[str]]:
    waiting = [folder]
    while waiting:
        with os.scandir(waiting.pop()) as things:
            for one in things:
                if one.name == "__pycache__":
                    continue
                if one.is_dir(follow_symlinks=False):
                    waiting.append(one.path)
                yield one


def _seen(one: os.DirEntry[str]) -> tuple[int, ...]:
    about = one.stat(follow_symlinks=False)
    times = () if one.is_dir(follow_symlinks=False) else (about.st_mtime_ns, about.st_ctime_ns)
    return about.st_ino, about.st_mode, *((about.st_size, *times) if times else (0,))


def _held(one: os.DirEntry[str]) -> tuple[int, ...]:
    return one.stat(follow_symlinks=False).st_mode, zlib.crc32(read_plain(Path(one.path)))


def made_by() -> str:
    """A fingerprint of the program and of what it runs on: of the system's times of its
    files, as they are when this is asked first, and of the machine's time zone."""
    machine = (sys.version, os.environ.get("TZ", ""), os.path.realpath("/etc/localtime"))
    text = "\n".join((*_code(), *machine)).encode("utf-8", "surrogatepass")
    return blake2b(text, digest_size=12).hexdigest()


@cache
def _code() -> tuple[str, ...]:
    return tuple(
        f"{one.path} {about.st_ino} {about.st_size} {about.st_ctime_ns}"
        for one in _below(str(Path(__file__).parents[1]))
        if not one.is_dir()
        for about in (one.stat(),)
    )
