"""The command in this process: its arguments, what it is fed, the words of its environment; what it printed and how it ended.

What a process of its own adds (streams that close, signals, what is loaded, the status a shell sees) is told in `tests/shell`
by true ones (`started`); starting one takes longer than most of what is told here.
"""

from __future__ import annotations

import contextlib
import io
import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from unittest.mock import patch

from rounds.shell.main import main

KEEPER = {"TZ": "Europe/Paris", "ROUNDS_KEEPER": "KM"}
Ran = subprocess.CompletedProcess[str]


class Printed(io.TextIOWrapper):
    """Standard output that is kept; bytes can be written to it too."""

    def __init__(self) -> None:
        super().__init__(io.BytesIO(), "utf-8", newline="")

    def getvalue(self) -> str:
        """All that was written to it; what is no text stands as signs of its bytes."""
        self.flush()
        assert isinstance(self.buffer, io.BytesIO)
        return self.buffer.getvalue().decode("utf-8", "surrogateescape")


def commanded(*arguments: str, typed: str = "") -> Ran:
    """Run the command in the environment of this process."""
    out, err = Printed(), io.StringIO()
    with (
        patch.object(sys, "stdin", io.StringIO(typed)),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
    ):
        try:
            status = main(arguments)
        except SystemExit as ended:
            status = int(ended.code or 0)
    return Ran(arguments, status, out.getvalue(), err.getvalue())


def rounds(*arguments: str, book: Path | None = None, typed: str = "", **environment: str) -> Ran:
    """Run the command on a book as a shell would."""
    with patch.dict(os.environ, _words(book, environment)):
        return commanded(*arguments, typed=typed)


def started(*arguments: str, book: Path | None = None, typed: str = "", **environment: str) -> Ran:
    """Run the command in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "rounds", *arguments],
        capture_output=True,
        text=True,
        env=os.environ | _words(book, environment),
        input=typed,
        check=False,
    )


def _words(book: Path | None, environment: Mapping[str, str]) -> dict[str, str]:
    return {**KEEPER, **environment} | ({"ROUNDS_BOOK": str(book)} if book else {})
