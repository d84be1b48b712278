"""Cut plants that stand in store, and what of them may be fed."""

from __future__ import annotations

from collections.abc import Iterator

from rounds.bench.state import Bench, Container, Host
from rounds.checks.stems import as_eaten
from rounds.checks.walking_order import walking_order


def stored(bench: Bench) -> Iterator[tuple[Container, Host, str]]:
    """What stands in host stores, in walking order, each with why it feeds nobody: its jar is
    suspect, or it was seen not fresh; empty where it may be fed."""
    for jar in walking_order(bench):
        if jar.is_store:
            for stems in jar.hosts:
                yield jar, stems, _unfit(jar, stems)


def _unfit(jar: Container, stems: Host) -> str:
    if jar.suspect_since is not None:
        return "suspect"
    if stems.state not in ("", "fresh"):
        return stems.state
    return "bare" if stems.is_bare else ""


def stems_stored(bench: Bench, name: str) -> int | None:
    """How many stems of a plant, as it is eaten, may be fed from stores; None where none of them
    was counted."""
    there = [
        stems.sprigs for _, stems, unfit in stored(bench) if as_eaten(stems) == name and not unfit
    ]
    return sum(one or 0 for one in there) if any(there) else None
