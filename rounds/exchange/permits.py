"""What a permit says in an export: its limits, how much of them is used, and who decides."""

from __future__ import annotations

from datetime import datetime

from rounds.bench.permits import has_ended, uses
from rounds.bench.state import Bench
from rounds.entries.registry import Permit

DEFERS = "counted from the daybook; what it means is for the issuing body to say"


def permit_words(bench: Bench, permit: Permit, now: datetime) -> str:
    """``4 of 5 females, near the limit; a female may be held 96 h; ENDED``."""
    parts = [use.words for use in uses(bench, permit)]
    if permit.hold_hours is not None:
        parts.append(f"a female may be held {permit.hold_hours:g} h")
    if permit.closed:
        parts.append("closed")
    elif has_ended(permit, now):
        parts.append("ENDED")
    return "; ".join([*parts, DEFERS])
