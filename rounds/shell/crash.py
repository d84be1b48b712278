"""What nobody foresaw: one line says what happened and where the details are; what was acknowledged
is on disk by then."""

from __future__ import annotations

import contextlib
import os
import platform
import sys
import traceback
from datetime import UTC, datetime
from importlib.metadata import version
from pathlib import Path

from rounds.daybook.machine_memory import state_folder
from rounds.daybook.systems import NEW
from rounds.shell.terminal import showing

KEPT_IN = "crashes"
MAX_KEPT = 20
MAX_SIGNS = 200  # of what the error itself says


class Crashed(Exception):
    """The screens came to an end that nobody foresaw, which is its cause.

    Args:
        unsaved: what the book had not taken yet and what became of it, in words; empty where all
            was saved.
    """

    def __init__(self, unsaved: str = "") -> None:
        super().__init__(unsaved)
        self.unsaved = unsaved


def tell(trouble: Exception) -> None:
    """Say on standard error what happened, and write the details into a private file outside of
    every book."""
    unsaved = trouble.unsaved if isinstance(trouble, Crashed) else ""
    cause = trouble.__cause__ if isinstance(trouble, Crashed) and trouble.__cause__ else trouble
    details = "".join(traceback.format_exception(cause))
    what = "".join(traceback.format_exception_only(cause)).strip().replace("\n", " ")
    text = f"rounds: crashed ({what[:MAX_SIGNS]}); all that was acknowledged is on disk"
    try:
        where = f"the details are in {_written(details)}"
    except OSError:
        where = f"the details could not be written, they are:\n{details}"
    with showing():
        print(f"{text}; {unsaved and unsaved + '; '}{where}", file=sys.stderr)


def _written(details: str) -> Path:
    folder = state_folder(os.environ) / KEPT_IN
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    now = datetime.now(UTC)
    path = folder / f"{now:%Y-%m-%dT%H%M%S.%f}Z-{os.getpid()}.txt"
    about = (
        f"rounds {version('rounds')}, Python {platform.python_version()}, textual"
        f" {version('textual')}, {platform.platform()}"
    )
    with open(
        os.open(path, os.O_WRONLY | NEW, 0o600), "w", encoding="utf-8", errors="backslashreplace"
    ) as file:
        file.write(f"{now.isoformat()} {about}\n{' '.join(sys.argv)}\n\n{details}")
    for old in sorted(folder.glob("*.txt"))[:-MAX_KEPT]:
        with contextlib.suppress(OSError):
            old.unlink()
    return path
