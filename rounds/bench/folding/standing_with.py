"""How long females stood with the host plants of a container: what hidden eggs are reckoned from."""

from __future__ import annotations

from datetime import timedelta

from rounds.bench import kinds as k
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench, Container, members

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


def _count(container: Container | None, entry: Entry) -> None:
    if container is None:
        return
    females = [lot for lot in container.lots if lot.stage == "adult" and lot.sex != "male"]
    number = sum(lot.number for lot in females) if container.lit != "dark" else 0
    container.stood |= {code: entry.at for lot in females for code in members(lot.brood)}
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
