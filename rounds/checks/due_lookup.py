"""The check that a keeper chooses to answer, whether it is due or not."""

from __future__ import annotations

from collections.abc import Iterable

from rounds.bench.state import Bench
from rounds.checks.due_state import Due, PlaceKind
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment


def chosen(bench: Bench, dues: Iterable[Due], moment: Moment, check: str, code: str) -> Due:
    """The check of that name for a container: the one the plan asks, else one made for the
    occasion.

    A barrier is asked of whatever guards the container.
    """
    kind: PlaceKind = "container"
    where, container, asked_of = code, bench.at(code), CHECKS[check].asked_of
    if asked_of is not None and container is not None:
        kind, where = asked_of(bench, container)
    for due in dues:
        if (due.check, due.where, due.place_kind) == (check, where, kind):
            return due
    return Due(
        where=where,
        place_kind=kind,
        check=check,
        due=moment.now,
        severity=CHECKS[check].severity,
    )
