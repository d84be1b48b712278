"""How long females stood with the host plants of a container: what hidden eggs are reckoned from."""

from __future__ import annotations

from datetime import datetime, timedelta

from rounds.bench import kinds as k
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench, Container, Lot, Stood, members

ONE_DAY = timedelta(days=1)


def females_stood(bench: Bench, code: str, entry: Entry) -> None:
    """Add the time up to an entry to the host plants of every container whose females it may change."""
    _count(bench.containers.get(code), entry)
    if isinstance(entry, k.Moved):
        _count(bench.containers.get(entry.to), entry)
    elif isinstance(entry, k.Split):
        for into in entry.into:
            _count(bench.containers.get(into), entry)
    elif isinstance(entry, k.Merged):
        for source in entry.sources:
            _count(bench.containers.get(source), entry)


def stood_since(container: Container, code: str, lot: Lot) -> datetime:
    """Since when a female of a lot stands here, times away with no search in them passed over."""
    came, before = lot.came or lot.since or container.since, container.stood.get(code)
    if before is None:
        return came
    searched = container.last.get("searched")
    was_searched = came > before.until and searched is not None and searched.at >= before.until
    return came if was_searched else min(before.since, came)


def _count(container: Container | None, entry: Entry) -> None:
    if container is None:
        return
    females = [lot for lot in container.lots if lot.stage == "adult" and lot.sex != "male"]
    number = sum(lot.number for lot in females) if container.lit != "dark" else 0
    container.stood |= {code: Stood(stood_since(container, code, lot), entry.at) for lot in females for code in members(lot.brood)}
    for host in container.hosts:
        if number:
            since = host.counted or host.put_in
            days = max(0.0, (entry.at - since) / ONE_DAY)
            host.female_days += number * days
            for lot in females:
                host.days_of[lot.brood] = host.days_of.get(lot.brood, 0.0) + lot.number * days
            standing = [code for lot in females for code in members(lot.brood)]
            host.stood_until = entry.at
            host.mothers = tuple(dict.fromkeys([*host.mothers, *standing]))
        host.counted = entry.at
