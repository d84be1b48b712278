"""Lines in and out, one by one, of what asks and answers on lines."""

from __future__ import annotations

import sys
from collections.abc import Iterator

from rounds.views.words import literal


def tell(text: str) -> None:
    """Say one line at once."""
    print(text, flush=True)


def lines_typed(in_a_terminal: bool) -> Iterator[str]:
    """The lines that are typed, or that come through a pipe; those are said again so that the
    record can be followed."""
    if not in_a_terminal:
        for line in sys.stdin:
            print(f"> {literal(line.rstrip(chr(10)))}", flush=True)
            yield line.rstrip("\n")
        return
    while True:
        try:
            yield input("> ")
        except EOFError:
            print()
            return
