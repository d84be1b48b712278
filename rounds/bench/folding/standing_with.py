"""How long females stood with the host plants of a container: what hidden eggs are reckoned from."""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec.structs import replace

from rounds.bench import kinds as k
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench, Container, Host, Lot, Stood, members

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
    females = _females(container)
    container.stood |= {code: Stood(stood_since(container, code, lot), entry.at) for lot in females for code in members(lot.brood)}
    for host in container.hosts:
        _count_host(container, host, entry.at)


def stood_up_to(container: Container, host: Host, at: datetime) -> Host:
    """A plant that stands here with the female-days that it has by then; the bench stays as it is."""
    counted = replace(host, days_of=dict(host.days_of))
    _count_host(container, counted, at)
    return counted


def _females(container: Container) -> list[Lot]:
    return [lot for lot in container.lots if lot.stage == "adult" and lot.sex != "male"]


def _count_host(container: Container, host: Host, at: datetime) -> None:
    females = _females(container) if container.lit != "dark" else []
    if females:
        days = max(0.0, (at - (host.counted or host.put_in)) / ONE_DAY)
        for lot in females:
            host.female_days += lot.number * days
            host.days_of[lot.brood] = host.days_of.get(lot.brood, 0.0) + lot.number * days
        standing = [code for lot in females for code in members(lot.brood)]
        host.stood_until = at
        host.mothers = tuple(dict.fromkeys([*host.mothers, *standing]))
    host.counted = at
