"""What entries add up to, read anew from the first."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, tzinfo

from rounds.bench.folding import effective_entries
from rounds.bench.state import Bench
from rounds.entries.base import Entry
from rounds.tallies.journal import Journal
from rounds.tallies.tallies import Tallies


def tallies_of(entries: Iterable[Entry], zone: tzinfo = UTC) -> Tallies:
    """What a set of entries adds up to, whatever order they are given in; crossed-out ones do not count."""
    bench, journal = Bench(), Journal()
    for entry in effective_entries(entries):
        journal.add(bench, entry)
    return Tallies().up_to(bench, journal, zone)
