"""A rebuild from nothing, and every check of a large bench.

Run: python -m tests.benchmarks.bench_fold
"""

from __future__ import annotations

import json
import tempfile
from datetime import timedelta
from pathlib import Path

import msgspec

from demo.scenario import scenario
from rounds.app.bench_clock import round_anchors
from rounds.bench.state import Bench
from rounds.checks.due import all_dues
from rounds.checks.round_clock import Moment
from rounds.entries import codec as written
from tests.benchmarks.bench_screens import big_desk
from tests.benchmarks.measure import heading, paired, row, seconds
from tests.conftest import MORNING, PARIS
from tests.plain_fold import fold


def long_history(entries: int) -> list[bytes]:
    """The demo's three weeks over and over, as lines."""
    lines: list[bytes] = []
    story = scenario(MORNING, PARIS)
    turn = 0
    while len(lines) < entries:
        back = timedelta(days=22 * turn)
        for entry in story:
            moved = msgspec.structs.replace(entry, id=f"{turn:05d}{entry.id}", at=entry.at - back)
            lines.append(json.dumps(written.write(moved), ensure_ascii=False).encode())
        turn += 1
    return lines[:entries]


def rebuilt(lines: list[bytes]) -> Bench:
    """The bench from lines."""
    return fold(entry for line in lines if (entry := written.read(line)) is not None)


def main() -> None:
    """Print the table."""
    print(heading())
    for size in (10_000, 100_000):
        lines = long_history(size)
        ratios = paired(lambda: rebuilt(lines), lambda: [json.loads(line) for line in lines], 3)
        print(row(f"rebuild of {size:,} entries, against json.loads of the same lines", ratios, ""))
        print(f"   {size / seconds(lambda: rebuilt(lines)):,.0f} entries a second (target 50,000)")
    with tempfile.TemporaryDirectory() as name:
        desk = big_desk(Path(name) / "book", 1_000)
        moment = Moment(desk.now(), desk.zone, round_anchors(desk.bench))
        count = len(all_dues(desk.bench, moment))
        best = min(
            seconds(lambda: all_dues(desk.bench, Moment(desk.now(), desk.zone, moment.anchors)))
            for _ in range(9)
        )
        print(f"   all {count:,} checks of 1,000 containers: {best * 1000:.1f} ms (target 10)")


if __name__ == "__main__":
    main()
