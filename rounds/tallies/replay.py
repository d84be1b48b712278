"""Going through the entries that count, in order, with the bench as it stood before each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rounds.bench.folding import apply_as_meant, effective_strikes
from rounds.bench.folding.codes_given_twice import as_meant
from rounds.bench.state import Bench
from rounds.entries.base import Entry
from rounds.entries.registry import CrossedOut


def effective_entries(entries: Iterable[Entry]) -> list[Entry]:
    """The entries that were not struck, each once, in the order in which things happened."""
    known = sorted({entry.id: entry for entry in entries}.values(), key=lambda entry: entry.order)
    struck = effective_strikes(
        {entry.id: entry.entry for entry in known if isinstance(entry, CrossedOut)}
    )
    return [entry for entry in known if entry.id not in struck]


def replay(entries: Iterable[Entry]) -> Iterator[tuple[Bench, Entry]]:
    """Each entry that counts, with the bench as it stood before; the bench moves on once the next
    is asked for."""
    bench = Bench()
    for entry in effective_entries(entries):
        entry = as_meant(bench, entry)
        yield bench, entry
        apply_as_meant(bench, entry)
