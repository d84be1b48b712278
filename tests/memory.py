"""What a machine remembers of books (`rounds.daybook.writer`) is never that of whoever runs the tests."""

from __future__ import annotations

import atexit
import os
import shutil
import tempfile

PREFIX = "rounds-state-"


def keep_apart() -> None:
    """Give this process, and those that it starts, a memory of their own, unless they have one."""
    if PREFIX not in os.environ.get("XDG_STATE_HOME", ""):
        os.environ["XDG_STATE_HOME"] = tempfile.mkdtemp(prefix=PREFIX)
        atexit.register(shutil.rmtree, os.environ["XDG_STATE_HOME"], ignore_errors=True)
