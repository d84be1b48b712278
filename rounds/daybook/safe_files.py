"""Opening and making what is in a book's folder, which may hold anybody's things.

No link is followed, no pipe or device is waited for, and a folder that was made is there after a
crash too.
"""

from __future__ import annotations

import contextlib
import errno
import os
import stat
import time
from collections.abc import Iterable
from pathlib import Path, PurePosixPath
from typing import BinaryIO

import msgspec

from rounds.daybook.systems import A_FOLDER, NEW, PLAINLY

# What bytes that are no line of a book may raise when they are decoded: they may be no text, no
# JSON, of another form, too deep.
NOT_DECODED = (msgspec.MsgspecError, UnicodeDecodeError, RecursionError)

A_WHILE_S = 60.0  # a file that did not grow for so long is not being copied any more

NOT_FOLLOWED = "is a link to somewhere else; it is not followed"
NO_FILE = "is no file, but a folder, a pipe or a device"


def open_plain(path: Path, buffering: int = -1) -> BinaryIO:
    """A regular file, opened to be read.

    Raises:
        OSError: it is not there, is none, or cannot be read.
    """
    return open(path, "rb", buffering=buffering, opener=_plainly)


def _plainly(path: str, flags: int) -> int:
    try:
        descriptor = os.open(path, flags | PLAINLY)
    except OSError as trouble:
        if trouble.errno == errno.ELOOP:
            raise OSError(errno.ELOOP, NOT_FOLLOWED, path) from None
        if trouble.errno == errno.ENXIO:
            raise OSError(errno.EINVAL, NO_FILE, path) from None
        raise
    if not stat.S_ISREG(os.fstat(descriptor).st_mode):
        os.close(descriptor)
        raise OSError(errno.EINVAL, NO_FILE, path)
    return descriptor


def read_plain(path: Path) -> bytes:
    """All bytes of a regular file.

    Raises:
        OSError: it is not there, is none, or cannot be read.
    """
    with open_plain(path) as file:
        return file.read()


def read_given(path: Path) -> bytes:
    """All bytes of a file that the keeper named, through links where it is one.

    Raises:
        OSError: it is not there, is no plain file, or cannot be read.
    """
    return read_plain(path.expanduser().resolve())


def is_plain(path: Path) -> bool:
    """Whether there is a regular file, and no link to one."""
    try:
        return stat.S_ISREG(path.lstat().st_mode)
    except OSError:
        return False


def make_below(folder: Path, below: PurePosixPath | str) -> Path:
    """A folder below one that is there, made private to its owner and lasting where it is not there
    yet.

    Raises:
        OSError: it cannot be made, or there is a link or something else in its place.
    """
    path = folder
    for part in PurePosixPath(below).parts:
        around, path = path, path / part
        try:
            path.mkdir(mode=0o700)
            flush_folder(around)
        except FileExistsError:
            mode = path.lstat().st_mode
            if stat.S_ISLNK(mode):
                raise OSError(
                    errno.ELOOP,
                    "is a link to somewhere else; nothing is written through it",
                    str(path),
                ) from None
            if not stat.S_ISDIR(mode):
                raise OSError(
                    errno.ENOTDIR, "is in the place of a folder; give it another name", str(path)
                ) from None
    return path


def make_book(folder: Path) -> None:
    """The folder of a book, private to its owner, and the folders around it; lasting where they are
    not there yet.

    Raises:
        OSError: it cannot be made.
    """
    missing = []
    for around in (folder, *folder.parents):
        if around.is_dir():
            break
        missing.append(around)
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    for path in missing:
        flush_folder(path.parent)


def flush_folder(folder: Path) -> None:
    """Make a new or renamed name in a folder lasting."""
    if A_FOLDER is None:
        return
    descriptor = os.open(folder, os.O_RDONLY | A_FOLDER)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def put_lines(
    path: Path, lines: Iterable[bytes], *, half: bytes = b"", lasting: bool = True
) -> None:
    """Write lines beside, flush them and put them in place.

    Args:
        half: the beginning of one more, which has no end yet.
        lasting: else they are not flushed, for they may be lost.

    Raises:
        OSError: they cannot be written; nothing is left of them then.
    """
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    part = path.with_name(f".{path.name}.{os.urandom(4).hex()}.part")
    descriptor = os.open(part, os.O_WRONLY | NEW, 0o600)
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.writelines(line + b"\n" for line in lines)
            file.write(half)
            file.flush()
            if lasting:
                os.fsync(descriptor)
        os.replace(part, path)
    except BaseException:
        with contextlib.suppress(OSError):
            part.unlink()
        raise


def is_left(about: os.stat_result) -> bool:
    """Whether a file did not grow for so long that nobody is copying it any more."""
    return about.st_mtime + A_WHILE_S < time.time()
