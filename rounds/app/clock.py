"""The clock of this machine."""

from __future__ import annotations

from datetime import UTC, datetime


def system_clock() -> datetime:
    """The present instant."""
    return datetime.now(UTC)
