"""How long all due checks of a bench of 1,000 containers take: the first time in a process, and after that.

Run with ``python -m tests.benchmarks.bench_due``. The bench is invented.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Iterator
from datetime import datetime, timedelta, timezone
from datetime import time as wall
from zoneinfo import ZoneInfo

from rounds.bench.state import Bench
from rounds.checks.due import all_dues
from rounds.checks.round_clock import Moment
from rounds.entries import registry as k
from rounds.entries.base import Entry
from tests.plain_fold import fold

CONTAINERS = 1_000
ANCHORS = (("morning", wall(7)), ("evening", wall(18)))
PARIS = ZoneInfo("Europe/Paris")
SUMMER = timezone(timedelta(hours=2))  # as an entry has it once it was read from disk
NOW = datetime(2026, 5, 20, 7, 10, tzinfo=SUMMER)


def entries(containers: int) -> Iterator[Entry]:
    """A bench of laying cups, egg cups, larvae by age and pupae, last tended over the two rounds before."""
    number = 0

    def said(kind: type[Entry], at: datetime, **fields: object) -> Entry:
        nonlocal number
        number += 1
        return kind(id=f"{number:07d}", at=at, logged=at, by="KM", **fields)  # type: ignore[call-arg]

    start = NOW - timedelta(days=9)
    for place in range(containers):
        code = f"C{place}"
        evening = NOW - timedelta(hours=13, seconds=7 * (place % 500))
        morning = NOW - timedelta(hours=24, seconds=7 * (place % 500))
        purpose = (
            "laying",
            "rearing",
            "laying",
            "rearing",
            "eggs",
            "laying",
            "rearing",
            "pupation",
        )[place % 8]
        yield said(
            k.SetUp,
            start,
            container=code,
            purpose=purpose,
            shelf=f"S{place % 10}",
            place=place % 100,
        )
        if purpose == "laying":
            yield said(
                k.Stocked,
                start,
                container=code,
                brood=f"Q{place}",
                stage="adult",
                number=4,
                sex="female",
            )
            yield said(
                k.HostIn, morning, container=code, plant="violet", batch="A", sprigs=2, cut=morning
            )
            yield said(k.Searched, morning, container=code, found=0)
            yield said(k.FeederChanged, morning, container=code)
            yield said(k.Drank, evening, container=code)
            yield said(k.HostSeen, evening, container=code)
        elif purpose == "eggs":
            yield said(
                k.Stocked, start, container=code, brood=f"Q{place}/A", stage="egg", number=30
            )
            yield said(k.LidOpened, morning, container=code)
        elif purpose == "rearing":
            instar = 1 + place // 5 % 5
            yield said(
                k.Stocked,
                start,
                container=code,
                brood=f"Q{place}/A",
                stage="larva",
                number=12,
                instar=instar,
            )
            yield said(
                k.HostIn, morning, container=code, plant="violet", batch="A", sprigs=2, cut=morning
            )
            yield said(k.HostSeen, evening, container=code, left="plenty")
            yield said(k.Cleaned, morning, container=code)
            yield said(k.Counted, morning, container=code, number=12)
        else:
            yield said(
                k.Stocked, start, container=code, brood=f"Q{place}/A", stage="pupa", number=8
            )
            yield said(k.Misted, morning, container=code)
        yield said(k.Looked, evening, container=code)
    for shelf in range(10):
        yield said(k.ShelfSetUp, start, shelf=f"S{shelf}", barrier="moat")
        yield said(
            k.BarrierSeen, NOW - timedelta(hours=13), shelf=f"S{shelf}", state="full", depth_mm=20
        )


def once(bench: Bench) -> tuple[float, int]:
    """Milliseconds for all checks of a bench, and how many there are."""
    start = time.perf_counter()
    found = all_dues(bench, Moment(NOW, PARIS, ANCHORS))
    return (time.perf_counter() - start) * 1000, len(found)


def main() -> None:
    """Print the times."""
    bench = fold(entries(CONTAINERS))
    first, checks = once(bench)
    again = [once(bench)[0] for _ in range(30)]
    print(f"{CONTAINERS} containers, {checks} checks")
    print(
        f"first time in this process {first:.1f} ms, after that {statistics.median(again):.1f} ms (median of 30)"
    )


if __name__ == "__main__":
    main()
