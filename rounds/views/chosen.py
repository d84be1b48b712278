"""The check that a keeper chooses to answer, whether it is due or not."""

from __future__ import annotations

from collections.abc import Iterable

from rounds.bench.state import Bench
from rounds.checks.due import Due, PlaceKind
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment


def chosen(bench: Bench, dues: Iterable[Due], moment: Moment, check: str, code: str) -> Due:
    """The check of that name for a container: the one the plan asks, else one made for the occasion.

    The ant barrier is asked of whatever guards the container: itself, what it stands in, or its shelf.
    """
    where = code
    kind: PlaceKind = "container"
    container = bench.at(code)
    if check == "ants" and container:
        where = bench.moat_of(container)[0]
        kind = "shelf" if where in bench.shelves and where not in bench.containers else "container"
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
