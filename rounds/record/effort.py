"""Laying effort of each female, or of each brood's females: female-days by plant that searches looked at.

The same time counts as in the laying record, of which this is another sum.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from rounds.bench.kinds.base import Entry
from rounds.record.laying_record import laying_record


def effort(entries: Iterable[Entry], now: datetime) -> dict[str, dict[str, float]]:
    """Female-days by founder or brood code, then by plant."""
    found: dict[str, dict[str, float]] = {}
    for on_host in laying_record(entries, now):
        for part in on_host.parts:
            for code, days in part.by_code.items():
                by_plant = found.setdefault(code, {})
                by_plant[on_host.plant] = by_plant.get(on_host.plant, 0.0) + days
    return found
