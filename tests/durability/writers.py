"""Several processes write one book at once: none of their lines is lost or doubled, and the bench does not depend on their order.

Run: python -m tests.durability.writers [--each 10000]
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
import time
from datetime import timedelta
from pathlib import Path

from rounds.app.desk import Recorded
from rounds.entries.registry import Air, Cleaned, Note, SetUp
from tests.benchmarks.bench_due import NOW
from tests.conftest import Clock
from tests.durability.books import bench_of, desk_at, plain
from tests.durability.kills import lines_by_id

LAPTOPS = ("aaaa1111", "aaaa1111", "bbbb2222", "cccc3333")  # two of them on one laptop


def write(folder: Path, laptop: str, number: int, each: int) -> None:
    """Say so many things; now and then hear the others, come late, or strike."""
    clock = Clock(NOW + timedelta(milliseconds=number * 7))
    desk = desk_at(folder, laptop, clock)
    assert isinstance(desk.record(SetUp, container=f"W{number + 2}", purpose="laying"), Recorded)
    said = 1
    while said < each:
        clock.on(seconds=3)
        if said % 97 == 0:
            outcome = desk.strike_last("wrong")
        elif said % 41 == 0:
            outcome = desk.record(
                Note, text=f"late {said}", at=clock.now - timedelta(seconds=said % 7)
            )
        elif said % 3 == 0:
            outcome = desk.record(Air, temperature_c=20 + said % 9, sure=True)
        else:
            outcome = desk.record(Cleaned, container=f"W{number + 2}")
        assert isinstance(outcome, Recorded), outcome
        said += 1
        if said % 50 == 0:
            desk.hear()


def run(each: int) -> str:
    """Four writers, each so many entries; what was found is told.

    Raises:
        AssertionError: something was lost or doubled, or the benches differ.
    """
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "book"
        folder.mkdir(mode=0o700)
        start = time.perf_counter()
        children = [
            subprocess.Popen(
                [
                    sys.executable,
                    "-m",
                    __spec__.name,
                    "--write",
                    str(folder),
                    laptop,
                    str(number),
                    "--each",
                    str(each),
                ]
            )
            for number, laptop in enumerate(LAPTOPS)
        ]
        assert [child.wait() for child in children] == [0] * len(LAPTOPS)
        took = time.perf_counter() - start
        found = lines_by_id(folder)
        meant = each * len(LAPTOPS)
        zones = len(found) - meant  # who found the book empty named its zone first
        assert 0 < zones <= len(LAPTOPS), f"{len(found)} of {meant}"
        assert max(found.values()) == 1
        benches = [plain(desk_at(folder, laptop)) for laptop in LAPTOPS]
        assert all(bench == bench_of(folder) for bench in benches)
        return f"{len(found):,} entries by {len(LAPTOPS)} writers in {took:.0f} s: none lost, none doubled, one bench"


def main() -> None:
    """As the command line says."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--each", type=int, default=10_000)
    parser.add_argument(
        "--write", nargs=3, metavar=("FOLDER", "LAPTOP", "NUMBER"), help=argparse.SUPPRESS
    )
    options = parser.parse_args()
    if options.write:
        write(Path(options.write[0]), options.write[1], int(options.write[2]), options.each)
    else:
        print(run(options.each))


if __name__ == "__main__":
    main()
