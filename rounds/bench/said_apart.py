"""Of what two laptops apart said different things."""

from __future__ import annotations

from collections.abc import Iterator

from rounds.bench.state import Bench


def said_apart(bench: Bench) -> Iterator[str]:
    """Each value that two laptops said otherwise and nobody has said since, in words."""
    for by in bench.said_by.values():
        yield from (last.apart for last in by.values() if last.apart)
