"""What to have ready for the coming round and for tomorrow, each with its arithmetic.

All of it is a guess, and says so: it takes each check to be done in the last round before it falls
due, and the numbers below for what is used up. Every one of them is our estimate; no source.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import datetime, time, timedelta
from itertools import pairwise
from math import ceil

from msgspec import Struct

from rounds.bench.state import Bench, Container
from rounds.checks.base import SupplyUse
from rounds.checks.due import all_dues
from rounds.checks.due_state import Due
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment, instant
from rounds.checks.stems import days_between
from rounds.grouping import grouped

SPARE = 1.2  # one fifth more than counted
ML_STEP = 5.0  # mixed in steps of this


class SupplyNeed(Struct, frozen=True):
    """One thing to have ready.

    ``what`` is sprigs, solution, swabs, tubes or lining; ``of`` the plant or the lining, where that
    matters.
    """

    what: str
    of: str
    number: float
    unit: str
    arithmetic: str


class Supplies(Struct, frozen=True):
    """What to have ready, for the coming round and for all of tomorrow."""

    round_begins: datetime
    coming: tuple[SupplyNeed, ...]
    tomorrow: tuple[SupplyNeed, ...]


def coming_round(bench: Bench, moment: Moment) -> datetime:
    """When the round begins that is next to be walked: the present one until its walk begins, then
    the one after."""
    present = moment.present_round[0]
    begun = any(moment.round_of(walk.started) == present for walk in bench.rounds[-4:])
    return moment.round_after if begun else present


def supplies(bench: Bench, moment: Moment, dues: Iterable[Due] | None = None) -> Supplies:
    """What to have ready for the coming round and for tomorrow, local time."""
    coming = coming_round(bench, moment)
    today = moment.today
    begins, ends = (instant(today + timedelta(days=days), time(0), moment.zone) for days in (1, 2))
    rounds = [coming]
    while rounds[-1] < ends:
        rounds.append(moment.next_anchor(rounds[-1]))
    known = all_dues(bench, moment) if dues is None else dues
    uses = [
        use
        for due in known
        if due.place_kind == "container" and (container := bench.at(due.where)) is not None
        for use in _uses(bench, container, due, rounds, moment)
    ]
    return Supplies(
        coming,
        _added([use for use in uses if use.at == coming]),
        _added([use for use in uses if begins <= use.at < ends]),
    )


def _uses(
    bench: Bench, container: Container, due: Due, rounds: list[datetime], moment: Moment
) -> list[SupplyUse]:
    check = CHECKS[due.check]
    if check.uses is None:
        return []
    own = check.done_at
    if own:
        done = own(container, due, rounds)
    else:
        days = days_between(bench, container, due.rule) if due.rule else 1.0
        done = _done_at(due, rounds, moment, timedelta(days=days))
    return [use for at in done for use in check.uses(bench, container, due, at)]


def _done_at(due: Due, rounds: list[datetime], moment: Moment, every: timedelta) -> list[datetime]:
    """In which of the rounds a check is done, each time in the last round before it falls due."""
    rule = due.rule
    instants = []
    falls_due = due.due
    for begins, following in pairwise(rounds):
        if falls_due >= following:
            continue
        instants.append(begins)
        if rule is None or CHECKS[due.check].closes == "gone":
            break
        if rule.each_round:
            falls_due = following
        elif rule.daily:
            falls_due = moment.next_daily(begins)
        else:
            falls_due = begins + every
    return instants


_UNITS = {
    "sprigs": "stems",
    "solution": "ml",
    "swabs": "swabs",
    "tubes": "tubes",
    "lining": "pieces",
}


def _added(uses: list[SupplyUse]) -> tuple[SupplyNeed, ...]:
    by_thing = grouped(((use.what, use.of), use) for use in uses)
    order = list(_UNITS)
    return tuple(
        _need(what, of, by_thing[what, of])
        for what, of in sorted(by_thing, key=lambda one: (order.index(one[0]), one[1]))
    )


def _need(what: str, of: str, uses: list[SupplyUse]) -> SupplyNeed:
    total = sum(use.number for use in uses)
    words = ", ".join(
        f"{words}{f' ({times} times)' if times > 1 else ''}"
        for words, times in Counter(use.words for use in uses).items()
    )
    if what != "solution":
        return SupplyNeed(what, of, total, _UNITS[what], words)
    mixed = ceil(total * SPARE / ML_STEP) * ML_STEP
    reckoned = f"{words} = {total:g} ml, a fifth to spare, rounded up"
    return SupplyNeed(what, of, mixed, "ml", reckoned)
