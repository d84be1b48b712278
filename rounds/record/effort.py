"""Laying effort of each female, or of each brood's females: female-days by plant, from the entries.

The same hours count as in the laying record: alive, in a laying or trial container, not in the dark, together with the
plant.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench
from rounds.record.laying_record import with_host
from rounds.record.replay import spans


def effort(entries: Iterable[Entry], now: datetime) -> dict[str, dict[str, float]]:
    """Female-days by founder or brood code, then by plant."""
    found: dict[str, dict[str, float]] = {}
    for bench, since, until, _ in spans(entries, now):
        if until > since:
            _pass(bench, found, (until - since) / timedelta(days=1))
    return found


def _pass(bench: Bench, found: dict[str, dict[str, float]], days: float) -> None:
    for container in with_host(bench):
        for lot in container.lots:
            if lot.stage == "adult" and lot.sex == "female":
                by_plant = found.setdefault(lot.brood, {})
                for plant in {host.plant for host in container.hosts}:
                    by_plant[plant] = by_plant.get(plant, 0.0) + lot.number * days
