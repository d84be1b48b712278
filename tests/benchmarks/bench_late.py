"""What a late line costs in a long book, and a reading of all of it: time, speed and memory.

Run: python -m tests.benchmarks.bench_late [ENTRIES] [--keep FOLDER]
"""

from __future__ import annotations

import argparse
import resource
import tempfile
import time
from datetime import timedelta
from pathlib import Path

from rounds.bench.incremental_fold import History
from rounds.daybook.full_read import FullRead, history_of
from rounds.entries.base import Entry
from rounds.entries.registry import CrossedOut, Note
from rounds.tallies.journal import Journal
from tests.benchmarks.bench_due import NOW
from tests.benchmarks.long_book import write_book

DAYS = (0.1, 1, 7, 14, 21)


def took(history: History, entry: Entry) -> float:
    """Milliseconds for one more line."""
    start = time.perf_counter()
    assert history.take([entry]), "it reaches back before all that is kept"
    return (time.perf_counter() - start) * 1000


def main() -> None:
    """Print the times."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("entries", nargs="?", type=int, default=1_000_000)
    parser.add_argument("--keep", type=Path, help="a folder for the book, to measure it again")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = (options.keep or Path(name)) / f"{options.entries}-100"
        if not folder.exists():
            write_book(folder, options.entries)
        before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        start = time.perf_counter()
        processor = time.process_time()
        history = history_of(FullRead(folder))
        seconds, processor = time.perf_counter() - start, time.process_time() - processor
        most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        print(
            f"reading {options.entries:,} entries from nothing: {seconds:.1f} s, {options.entries / seconds:,.0f} a second"
        )
        print(
            f"   {options.entries / processor:,.0f} a second of processor time; {most} MB at most, {before} MB before"
        )
        kept = history.kept()
        for days in DAYS:
            late = Note(id=f"z{days}", at=NOW - timedelta(days=days), logged=NOW, text="typed late")
            times = sorted(took(History(kept, Journal(kept.beside)), late) for _ in range(5))
            print(
                f"a line late by {days:g} days: {times[0]:.0f} {times[2]:.0f} {times[4]:.0f} ms (minimum, median, maximum)"
            )
        strike = CrossedOut(id="zstrike", at=NOW, logged=NOW, entry=history.tail[-50].id)
        times = sorted(took(History(kept, Journal(kept.beside)), strike) for _ in range(5))
        print(f"striking a line of this morning: {times[0]:.0f} {times[2]:.0f} {times[4]:.0f} ms")


if __name__ == "__main__":
    main()
