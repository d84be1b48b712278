"""What systems do differently: locks on open files, reading and writing at a place, what a file is
opened with.

Windows has none of the calls that are used elsewhere; its own are used there. Where there is
neither, no lock is had, and whoever wants one goes on alone.
"""

from __future__ import annotations

import contextlib
import errno
import os
import sys
from collections.abc import Iterator

# Of a file whose name others may have made: no link is followed, no pipe waited for; its bytes are
# not translated.
PLAINLY = sum(
    getattr(os, name, 0) for name in ("O_NOFOLLOW", "O_NONBLOCK", "O_CLOEXEC", "O_BINARY")
)
NEW = os.O_CREAT | os.O_EXCL | PLAINLY
A_FOLDER = getattr(os, "O_DIRECTORY", None)  # None where a folder cannot be opened
# Windows keeps others from reading what is locked: the byte is one that no file of ours has
FAR = 1 << 30


@contextlib.contextmanager
def _placed(descriptor: int, offset: int) -> Iterator[None]:
    """An open file at an offset, and where it was again after that."""
    here = os.lseek(descriptor, 0, os.SEEK_CUR)
    os.lseek(descriptor, offset, os.SEEK_SET)
    try:
        yield
    finally:
        os.lseek(descriptor, here, os.SEEK_SET)


if sys.platform == "win32":
    import msvcrt

    def lock(descriptor: int) -> None:
        """Lock an open file for this process until it is closed, without waiting.

        Raises:
            BlockingIOError: another has it.
            OSError: it cannot be locked here.
        """
        try:
            with _placed(descriptor, FAR):
                msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        except PermissionError as trouble:
            raise BlockingIOError(errno.EAGAIN, os.strerror(errno.EAGAIN)) from trouble

else:
    try:
        from fcntl import LOCK_EX, LOCK_NB, flock
    except ImportError:

        def lock(descriptor: int) -> None:
            """There are no locks here."""
            raise OSError(errno.ENOLCK, os.strerror(errno.ENOLCK))

    else:

        def lock(descriptor: int) -> None:
            """Lock an open file for whoever opened it until it is closed, without waiting.

            Raises:
                BlockingIOError: another has it.
                OSError: it cannot be locked here.
            """
            flock(descriptor, LOCK_EX | LOCK_NB)


def read_at(descriptor: int, length: int, offset: int) -> bytes:
    """So many bytes of an open file from an offset on, or as many as there are."""
    if hasattr(os, "pread"):
        return os.pread(descriptor, length, offset)
    with _placed(descriptor, offset):
        return os.read(descriptor, length)


def write_at(descriptor: int, data: bytes, offset: int) -> int:
    """Write bytes into an open file at an offset; how many were written."""
    if hasattr(os, "pwrite"):
        return os.pwrite(descriptor, data, offset)
    with _placed(descriptor, offset):
        return os.write(descriptor, data)
