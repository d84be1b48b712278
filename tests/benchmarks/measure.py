"""Pairing two things in one run: the ratio of their times, as minimum, median and maximum."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable


def seconds(work: Callable[[], object]) -> float:
    """How long some work takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def paired(ours: Callable[[], object], theirs: Callable[[], object], times: int) -> list[float]:
    """The ratio ours / theirs, measured in turn so that both meet the same weather."""
    ratios = []
    for turn in range(times):
        if turn % 2:
            base = seconds(theirs)
            ratios.append(seconds(ours) / base)
        else:
            mine = seconds(ours)
            ratios.append(mine / seconds(theirs))
    return ratios


def row(name: str, ratios: list[float], target: str) -> str:
    """A line of the table."""
    low, mid, high = min(ratios), statistics.median(ratios), max(ratios)
    return f"{name:<62} {low:8.2f} {mid:8.2f} {high:8.2f}   {target}"


def heading() -> str:
    """The heading of the table."""
    return f"{'ratio, ours / baseline of the same run':<62} {'min':>8} {'median':>8} {'max':>8}   target"
