"""What a page that looks back costs, against one reading of the whole book.

Run: python -m tests.benchmarks.bench_looking_back [ENTRIES]
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from datetime import UTC
from pathlib import Path

from rounds.bench.incremental_fold import History
from rounds.daybook.full_read import FullRead, history_of
from rounds.tallies.journal import Journal
from rounds.tallies.tallies import Tallies
from tests.benchmarks.bench_due import NOW
from tests.benchmarks.long_book import write_book
from tests.benchmarks.measure import heading, paired, row, seconds

PAGES: dict[str, Callable[[Tallies], object]] = {
    "laying": lambda tallies: (tallies.on_hosts(NOW), tallies.days(NOW)),
    "batches": lambda tallies: tallies.cuttings,
    "broods": lambda tallies: tallies.look_back(),
}


def main() -> None:
    """Print the table."""
    entries = int(sys.argv[1]) if len(sys.argv) > 1 else 50_000
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "book"
        write_book(folder, entries)
        history = history_of(FullRead(folder))
        kept = history.kept()
        journal = history.beside
        assert isinstance(journal, Journal)
        print(
            f"{entries:,} entries, {len(journal):,} records of what went by, {sum(map(len, kept.beside)) / 1e6:.1f} MB of them"
        )
        print(heading())

        def read() -> History:
            return history_of(FullRead(folder))

        for page, look in PAGES.items():
            ratios = paired(
                lambda: look(Tallies().up_to(history.bench, Journal(kept.beside), UTC)), read, 3
            )
            print(row(f"{page}, first look / reading of the book", ratios, "<= 0.2"))
            tallies = Tallies().up_to(history.bench, journal, UTC)
            again = sorted(
                seconds(lambda: look(tallies.up_to(history.bench, journal, UTC))) for _ in range(5)
            )
            print(f"   again: {again[2] * 1000:.1f} ms")


if __name__ == "__main__":
    main()
