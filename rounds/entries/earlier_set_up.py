"""A container that was set up on record after its first animals came: its set-up is written anew at
the time when they did, for it cannot have stood later."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from rounds.bench.state import Bench, Container
from rounds.entries import registry as k
from rounds.entries.base import Saying
from rounds.entries.schema import said_by

ARRIVALS = (k.FounderIntake, k.Stocked)


def with_earlier_set_ups(
    bench: Bench, sayings: Sequence[Saying], at: datetime, bench_of: Callable[[datetime], Bench]
) -> Sequence[Saying]:
    """What is said, behind an earlier set-up of each container whose first animals came in before
    it was set up on record.

    Args:
        at: when that happened which does not say its own time.
        bench_of: the bench as it was at a time; a container that stood on it may be another.
    """
    first: dict[str, datetime] = {}
    for kind, fields in sayings:
        came, code = fields.get("at") or at, str(fields.get("container", ""))
        container = bench.at(code) if kind in ARRIVALS else None
        if (
            container
            and _waits_empty(container)
            and came < container.since
            and _is_not_another(container, bench_of(came).at(code))
        ):
            first[code] = min(came, first.get(code, came))
    return [*(one for code, came in first.items() for one in _moved(bench, code, came)), *sayings]


def _waits_empty(container: Container) -> bool:
    """Whether no animal was in a container yet that was set up."""
    is_new = not (container.lots or container.emptied or container.is_made_up)
    return is_new and _set_up_of(container) is not None


def _is_not_another(container: Container, then: Container | None) -> bool:
    """Whether no other container had its code at that time."""
    return then is None or then.set_up == container.set_up


def _set_up_of(container: Container) -> k.SetUp | None:
    entry = container.last.get("set up")
    return entry if isinstance(entry, k.SetUp) and entry.id == container.set_up else None


def _moved(bench: Bench, code: str, came: datetime) -> list[Saying]:
    entry = _set_up_of(bench.containers[code])
    assert entry is not None
    return [(k.CrossedOut, {"entry": entry.id}), (k.SetUp, said_by(entry) | {"at": came})]
