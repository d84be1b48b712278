"""Lines in and out, one by one, of what asks and answers on lines."""

from __future__ import annotations

import shutil
import sys
import textwrap
from collections.abc import Iterator

from rounds.shell.terminal import piped
from rounds.views.words import literal

LEAST_WIDTH = 20  # columns; a narrower terminal breaks lines itself


def tell(text: str) -> None:
    """Say one line at once; in a terminal it goes on at a word where it is wider."""
    if sys.stdout.isatty():
        width = max(LEAST_WIDTH, shutil.get_terminal_size().columns - 1)
        text = textwrap.fill(text, width, break_long_words=False, break_on_hyphens=False)
    print(text, flush=True)


def lines_typed(in_a_terminal: bool) -> Iterator[str]:
    """The lines that are typed, or that come through a pipe; those are said again so that the
    record can be followed."""
    if not in_a_terminal:
        for line in piped():
            print(f"> {literal(line)}", flush=True)
            yield line
        return
    while True:
        try:
            yield input("> ")
        except EOFError:
            print()
            return
