"""Where tests keep what lasts no longer than they do, and what a machine remembers of books meanwhile."""

from __future__ import annotations

import atexit
import os
import shutil
import tempfile
from pathlib import Path

PREFIX = "rounds-state-"
ON_DISK = Path(tempfile.gettempdir())
IN_MEMORY = Path("/dev/shm")
ROOM = 1 << 30  # what a whole run writes, several times over


def write_to_memory() -> None:
    """Let temporary files of this process, and of those that it starts, lie in memory, unless told where.

    Every line is flushed to the disk before it is acknowledged; on a disk the tests wait for little else.
    """
    if "TMPDIR" in os.environ or not os.access(IN_MEMORY, os.W_OK):
        return
    if shutil.disk_usage(IN_MEMORY).free >= ROOM:
        os.environ["TMPDIR"] = tempfile.tempdir = str(IN_MEMORY)


def share_compiled(folder: Path) -> None:
    """Where no compiled code may be left beside its source, let processes that are started from here on leave it in a folder.

    To compile what a command loads takes longer than all else that it does.
    """
    if os.environ.pop("PYTHONDONTWRITEBYTECODE", ""):
        os.environ["PYTHONPYCACHEPREFIX"] = str(folder)


def keep_apart() -> None:
    """Give this process, and those that it starts, a memory of their own of books, unless they have one.

    So what a machine remembers of books (`rounds.daybook.writer`) is never that of whoever runs the tests.
    """
    if PREFIX not in os.environ.get("XDG_STATE_HOME", ""):
        os.environ["XDG_STATE_HOME"] = tempfile.mkdtemp(prefix=PREFIX)
        atexit.register(shutil.rmtree, os.environ["XDG_STATE_HOME"], ignore_errors=True)
