"""Starting to the first drawn bench as the history grows, against an empty app with a table; and the memory it takes.

Run: python -m tests.benchmarks.bench_start [ENTRIES ...] [--containers N] [--keep FOLDER]
"""

from __future__ import annotations

import argparse
import os
import resource
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from tests.benchmarks.bench_screens import EMPTY, OURS
from tests.benchmarks.long_book import write_book
from tests.benchmarks.measure import heading, paired, row, seconds

MEMORY = """
import resource
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024)
"""


def ran(code: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run some code in a process of its own, with compiled modules kept as an installed program has them."""
    environment = {
        name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"
    }
    command = [sys.executable, "-c", code, *arguments]
    return subprocess.run(
        command,
        check=True,
        capture_output=True,
        text=True,
        env=environment | {"TZ": "Europe/Paris"},
    )


def work(code: str, *arguments: str) -> Callable[[], float]:
    """Runs the code and says how many seconds of processor time that took, which other programs disturb less."""

    def run() -> float:
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        ran(code, *arguments)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        return after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime

    return run


def of_processor(ours: Callable[[], float], theirs: Callable[[], float], times: int) -> list[float]:
    """The ratio of processor times, measured in turn."""
    return [one / other for one, other in ((ours(), theirs()) for _ in range(times))]


def measure(folder: Path, entries: int, containers: int, times: int) -> None:
    """Print the rows for one size."""
    if not folder.exists():
        write_book(folder, entries, containers)
    first = seconds(lambda: ran(OURS, str(folder)))  # reads all of it and leaves a checkpoint
    name = f"{entries:,} entries, {containers:,} containers"
    ours, theirs = work(OURS, str(folder)), work(EMPTY)
    print(row(f"start, {name}", paired(ours, theirs, times), "<= 1.3"))
    print(row("   of processor time", of_processor(ours, theirs, times), ""))
    most, empty = (
        int(ran(code + MEMORY, str(folder)).stdout.split()[-1]) for code in (OURS, EMPTY)
    )
    print(
        f"   {first:.1f} s the first time, without a checkpoint; {most} MB at most after it (empty app {empty} MB, target 250)"
    )


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("entries", nargs="*", type=int, default=[1_000, 10_000, 100_000, 1_000_000])
    parser.add_argument("--containers", type=int, nargs="*", default=[100])
    parser.add_argument("--times", type=int, default=7)
    parser.add_argument("--keep", type=Path, help="a folder for the books, to measure them again")
    options = parser.parse_args()
    print(heading())
    with tempfile.TemporaryDirectory() as name:
        for containers in options.containers:
            for entries in options.entries:
                measure(
                    (options.keep or Path(name)) / f"{entries}-{containers}",
                    entries,
                    containers,
                    options.times,
                )


if __name__ == "__main__":
    main()
