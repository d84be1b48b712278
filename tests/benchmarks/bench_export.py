"""Exports of a long book: time against a rebuild of the same lines, and the most memory a process took.

Run: python -m tests.benchmarks.bench_export
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.benchmarks.bench_fold import long_history, rebuilt
from tests.benchmarks.measure import heading, paired, row

LINES = 100_000
EXPORTS = (
    ("csv", "all.csv"),
    ("csv", "all.zip"),
    ("dwca", "record.zip"),
    ("ics", "due.ics"),
    ("labels", "labels.html"),
)
# Says the peak of its own memory once it is done, as Linux keeps it; that of whoever started it does not count.
_RUN = (
    "import sys; from rounds.shell.main import main; status = main(sys.argv[1:]); "
    "print([line for line in open('/proc/self/status') if line.startswith('VmHWM')][0].split()[1]); sys.exit(status)"
)


def exported(book: Path, what: str, file: Path) -> int:
    """Run one export in a process of its own; its peak memory comes back [KiB]."""
    done = subprocess.run(
        [sys.executable, "-c", _RUN, "export", what, str(file), "--book", str(book), "--replace"],
        capture_output=True,
        text=True,
        check=True,
        env=os.environ | {"TZ": "Europe/Paris"},
    )
    return int(done.stdout.split()[-1])


def main() -> None:
    """Print the table."""
    lines = long_history(LINES)
    with tempfile.TemporaryDirectory() as name:
        book = Path(name) / "book"
        book.mkdir(mode=0o700)
        (book / "entries-aaaa1111-2026-05.jsonl").write_bytes(b"\n".join(lines) + b"\n")
        exported(book, "labels", Path(name) / "first.html")  # the first start leaves a checkpoint
        print(heading())
        for what, file in EXPORTS:
            peaks: list[int] = []
            ratios = paired(
                lambda: peaks.append(exported(book, what, Path(name) / file)),
                lambda: rebuilt(lines),
                3,
            )
            told = f"export {what} to {file} of {LINES:,} entries, against a rebuild"
            print(row(told, ratios, f"{max(peaks) / 1024:.0f} MiB at most"))


if __name__ == "__main__":
    main()
