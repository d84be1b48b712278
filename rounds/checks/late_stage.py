"""How eggs that do not hatch and pupae that do not emerge are reckoned; shared by those two
checks."""

from __future__ import annotations

from datetime import datetime, timedelta

from rounds.checks.due_state import Due
from rounds.checks.facts import ContainerContext, purpose_began
from rounds.checks.reckon import TimedRule, make_due
from rounds.checks.round_clock import utc
from rounds.forecasts.stage_ends import CHANGES

LATE_AT, RED_AT = 1.5, 2.0  # of the time until the last is expected; common practice, no source


def late_stage(context: ContainerContext, rule: TimedRule) -> Due | None:
    """Counts from when the stage was reached; resting stock is never late for its age."""
    stage = rule.rule.stage
    oldest: datetime | None = None
    brood = ""
    for lot in context.container.lots:
        if lot.stage == stage and stage not in context.reckoning.species[lot.brood].rests_as:
            since = utc(lot.since or context.container.since)
            if oldest is None or since < oldest:
                oldest, brood = since, lot.brood
    if oldest is None:
        return None
    last = context.container.last.get(rule.kinds[0])
    woken = purpose_began(context.container, rule.rule.purposes)
    if woken is not None and woken > oldest:
        return make_due(context, rule, woken, last, None, brood)
    changes = context.foresight.coming(context.container)
    own = [
        change
        for change in changes
        if change.brood == brood and change.change == CHANGES[stage] and change.last
    ]
    coming = min(own, key=lambda one: one.begun_to, default=None)
    if coming is None or coming.last is None or not rule.rule.computed:
        return make_due(context, rule, oldest, last, None, brood)
    begun = utc(coming.begun_to)
    # of all of them: what waits on after a look is not the less late
    last_of_all = coming.last_of_all or coming.last
    length = max(last_of_all - begun, timedelta(0))
    late = begun + LATE_AT * length
    reason = f"{coming.change} of the last expected {context.moment.clock(last_of_all)}"
    return make_due(
        context, rule, begun, last, late, brood, reason, None, late, begun + RED_AT * length
    )
