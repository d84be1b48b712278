"""The entries that count, in order."""

from __future__ import annotations

from collections.abc import Iterable

from rounds.bench.folding import effective_strikes
from rounds.entries.base import Entry
from rounds.entries.registry import CrossedOut


def effective_entries(entries: Iterable[Entry]) -> list[Entry]:
    """The entries that were not struck, each once, in the order in which things happened."""
    known = sorted({entry.id: entry for entry in entries}.values(), key=lambda entry: entry.order)
    struck = effective_strikes(
        {entry.id: entry.entry for entry in known if isinstance(entry, CrossedOut)}
    )
    return [entry for entry in known if entry.id not in struck]
