"""What would disturb larvae waits while any of them is in moult: seen not to move, or expected by
warmth."""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec.structs import replace

from rounds.checks.due_state import Due
from rounds.checks.facts import ContainerContext
from rounds.checks.reckon import Reckoner, TimedRule
from rounds.checks.round_clock import utc

# larvae do not move for about a day before they shed their skin: common practice, no source
STILL_BEFORE = timedelta(hours=24)


# from when a larva is seen not to move its moult may last so long; from then on a look is asked for
# (see the basis of the check 'still')
MOULT_AT_MOST = timedelta(hours=48)
MOULT_EXPECTED = "a moult is expected"  # said beside the hours of what waits for it no longer


def waits_for_moult(reckon: Reckoner) -> Reckoner:
    """The same check, put off while a moult that was seen may last, or one is expected; for what is
    expected not beyond where the plan calls it urgent, or late where it is never urgent, for a
    forecast is no sight; nor where what was seen, as mould, waits for nobody.
    """

    def waiting(context: ContainerContext, rule: TimedRule) -> Due | None:
        due = reckon(context, rule)
        if due is None or due.reason or not context.moment.passed(due.due):
            return due
        until, why = seen_to_moult_until(context), "those that do not move, until"
        if until is None or context.moment.passed(until):
            until, why = moulting_until(context), "a moult, expected by"
            if until is not None and context.moment.passed(due.urgent or due.late or until):
                told = f"{MOULT_EXPECTED} by {context.moment.clock(until)}"
                lasts = "; ".join(filter(None, (due.lasts, told)))
                return replace(due, lasts=lasts) if due.last is not None else due
            until = until and min(until, due.urgent or due.late or until)
        if until is None or context.moment.passed(until):
            return due
        reason = f"waits for {why} {context.moment.clock(until)}"
        put_off_until = max(filter(None, (until, due.put_off_until)))
        return replace(due, put_off_until=put_off_until, reason=reason)

    return waiting


def seen_to_moult_until(context: ContainerContext) -> datetime | None:
    """Until when the moult of those that were seen not to move may last; None where none were."""
    seen = context.container.moult_seen
    return None if seen is None else utc(seen) + MOULT_AT_MOST


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
