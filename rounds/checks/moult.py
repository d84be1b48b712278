"""What would disturb larvae waits while a moult of any of them is expected by warmth; one that is
seen is told by its sign."""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec.structs import replace

from rounds.checks.due_state import Due
from rounds.checks.facts import ContainerContext
from rounds.checks.reckon import Reckoner, TimedRule

# larvae do not move for about a day before they shed their skin: common practice, no source
STILL_BEFORE = timedelta(hours=24)


def waits_for_moult(reckon: Reckoner) -> Reckoner:
    """The same check, put off while a moult is expected; not beyond where the plan calls it urgent,
    or late where it is never urgent, nor for what was seen: a forecast is no sight.
    """

    def waiting(context: ContainerContext, rule: TimedRule) -> Due | None:
        due = reckon(context, rule)
        if due is None or due.reason or not context.moment.passed(due.due):
            return due
        until = moulting_until(context)
        if until is None:
            return due
        until = min(until, due.red or due.amber or until)
        if context.moment.passed(until):
            return due
        reason = f"waits for a moult, expected by {context.moment.clock(until)}"
        put_off_until = max(filter(None, (until, due.put_off_until)))
        return replace(due, put_off_until=put_off_until, reason=reason)

    return waiting


def moulting_until(context: ContainerContext) -> datetime | None:
    """Until when any larva here is expected to moult or to lie still before it; None where none is
    now."""
    passed = context.moment.passed
    moults = (
        change for change in context.foresight.coming(context.container) if change.change == "moult"
    )
    ends = (
        moult.last
        for moult in moults
        if moult.first
        and moult.last
        and passed(moult.first - STILL_BEFORE)
        and not passed(moult.last)
    )
    return max(ends, default=None)
