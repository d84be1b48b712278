"""A durable insert against a bare append and fsync, and against TinyDB's own storage, at growing histories.

Run: python -m tests.benchmarks.bench_insert [--million]
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
from pathlib import Path
from typing import Any

from tinydb import TinyDB

from rounds.daybook import Daybook
from tests.benchmarks.measure import heading, paired, row

LOGGED = "2026-05-20T07:00:00+02:00"


def entry(number: int) -> dict[str, Any]:
    """A plain entry."""
    return {
        "what": "drank",
        "id": f"id{number:09d}",
        "at": LOGGED,
        "logged": LOGGED,
        "by": "KM",
        "container": "L2",
    }


def filled(folder: Path, size: int) -> Daybook:
    """A book with so many entries."""
    book = Daybook.open(folder, "aaaa1111")
    for start in range(0, size, 10_000):
        book.append_many([entry(number) for number in range(start, min(size, start + 10_000))])
    return book


def bare_append(path: Path) -> None:
    """What no durable store can do without: one line written and flushed."""
    line = json.dumps(entry(1)).encode() + b"\n"
    descriptor = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o600)
    try:
        os.write(descriptor, line)
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def main() -> None:
    """Print the table."""
    print(heading())
    sizes = [100, 10_000, 100_000] + ([1_000_000] if "--million" in sys.argv else [])
    for size in sizes:
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            book = filled(folder / "book", size)
            bare = folder / "bare.jsonl"
            repeat = 200
            ratios = paired(
                lambda: [book.append_many([entry(number)]) for number in range(repeat)],
                lambda: [bare_append(bare) for _ in range(repeat)],
                7,
            )
            print(row(f"insert at {size:,}, against a bare append and fsync", ratios, "<= 2"))
            if size > 100_000:
                continue
            theirs = TinyDB(folder / "tiny.json")
            theirs.insert_multiple(entry(number) for number in range(size))
            times = 9 if size < 100_000 else 3
            faster = [1 / one for one in paired(
                lambda: book.append_many([entry(1)]), lambda: theirs.insert(entry(1)), times
            )]  # fmt: skip
            goal = ">= 1,000" if size == 100_000 else ""
            print(row(f"times faster than TinyDB's JSONStorage at {size:,}", faster, goal))


if __name__ == "__main__":
    main()
