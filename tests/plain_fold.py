"""The bench that entries add up to, reckoned plainly: what the incremental fold is held against."""

from __future__ import annotations

from collections.abc import Iterable

from rounds.bench.folding import apply, effective_strikes, stands_for
from rounds.bench.state import Bench
from rounds.entries.base import Entry


def fold(entries: Iterable[Entry]) -> Bench:
    """The bench that a set of entries adds up to, whatever order they are given in."""
    known: dict[str, Entry] = {}
    for entry in entries:
        if entry.id not in known or stands_for(entry, known[entry.id]):
            known[entry.id] = entry
    bench = Bench()
    bench.strikes = {entry.id: entry.crosses_out for entry in known.values() if entry.crosses_out}
    struck = effective_strikes(bench.strikes)
    for entry in sorted(known.values(), key=lambda entry: entry.order):
        if entry.id not in struck:
            apply(bench, entry)
    return bench
