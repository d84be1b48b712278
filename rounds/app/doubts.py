"""What a line is doubted for before it is written, by its kind: that it would change nothing, or
comes too early. Nothing is loaded for a line that nobody doubts."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, tzinfo
from typing import TYPE_CHECKING

from msgspec.structs import asdict

from rounds.bench.folding.signs import BEFORE_PUPATION
from rounds.bench.state import Bench
from rounds.entries.base import Entry
from rounds.entries.registry import HostOut, PlanChanged

if TYPE_CHECKING:
    from rounds.forecasts.foresight import Forecasts


def doubt(
    bench: Bench,
    entry: Entry,
    now: datetime,
    zone: tzinfo,
    forecasts_of: Callable[[Bench], Forecasts],
) -> str | None:
    """Why an entry that may be so is not written as it is, and how to say it all the same; None
    where it is not doubted.

    Args:
        bench: as it stood before it.
        forecasts_of: what is coming on a bench.
    """
    if isinstance(entry, PlanChanged):
        from rounds.checks.plan import refusal_without_effect

        return refusal_without_effect(bench, entry)
    if isinstance(entry, HostOut):
        return None if entry.sure else _discarded_early(bench, entry, now, zone, forecasts_of)
    if entry.moults or entry.grows_to or getattr(entry, "sign", "") in BEFORE_PUPATION:
        return _changed_early(bench, entry, forecasts_of)
    return None


def _discarded_early(
    bench: Bench,
    entry: HostOut,
    now: datetime,
    zone: tzinfo,
    forecasts_of: Callable[[Bench], Forecasts],
) -> str | None:
    from rounds.checks.early_discard import too_early_to_bin
    from rounds.checks.round_clock import Moment

    return too_early_to_bin(bench, entry, Moment(now, zone, ()), forecasts_of(bench))


def _changed_early(
    bench: Bench, entry: Entry, forecasts_of: Callable[[Bench], Forecasts]
) -> str | None:
    from rounds.checks.early_change import too_early_to_change

    early = too_early_to_change(bench, type(entry), asdict(entry), entry.at, forecasts_of(bench))
    return f"{early}; if it was seen so, add 'sure'" if early else None
