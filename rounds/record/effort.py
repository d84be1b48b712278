"""Laying effort of each female, or of each brood's females: female-days by plant, from the entries.

The same hours count as in the laying record: alive, in a laying or trial container, not in the dark, together with the
plant; for a species that lays without one, also alone.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import datetime, timedelta

from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench
from rounds.record.laying_record import lay_without_plant, laying_in, offered
from rounds.record.replay import spans


def effort(entries: Iterable[Entry], now: datetime) -> dict[str, dict[str, float]]:
    """Female-days by founder or brood code, then by plant."""
    found: dict[str, dict[str, float]] = {}
    entries = list(entries)
    free = lay_without_plant(entries)
    for bench, since, until, _ in spans(entries, now):
        if until > since:
            _pass(bench, found, (until - since) / timedelta(days=1), free)
    return found


def _pass(bench: Bench, found: dict[str, dict[str, float]], days: float, free: Collection[str]) -> None:
    for container in laying_in(bench):
        for lot in container.lots:
            if lot.stage == "adult" and lot.sex == "female":
                plants = offered(container, bench.taxon_of(lot.brood), free)
                by_plant = found.setdefault(lot.brood, {}) if plants else {}
                for plant in plants:
                    by_plant[plant] = by_plant.get(plant, 0.0) + lot.number * days
