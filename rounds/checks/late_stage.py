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
# The same of eggs of which others of the brood hatched there: those told how long they take, so
# that what is left soon after the last was to hatch is dead; our estimate, no source.
LATE_AMONG_HATCHED, RED_AMONG_HATCHED = 1.15, 1.3


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
    # of all of them: what waits on after a look is not the less late
    own = [
        (utc(change.begun_to), change.last_of_all or change.last)
        for change in changes
        if change.brood == brood and change.change == CHANGES[stage] and change.last
    ]
    if not own or not rule.rule.computed:
        return make_due(context, rule, oldest, last, None, brood)
    (begun, last_of_all), late_at, urgent_at, others = min(own), LATE_AT, RED_AT, ""
    if stage == "egg" and _others_hatched(context, brood):
        late_at, urgent_at, others = LATE_AMONG_HATCHED, RED_AMONG_HATCHED, ", others hatched"
        last_of_all = max(one for _, one in own)
    length = max(last_of_all - begun, timedelta(0))
    late = begun + late_at * length
    reason = f"{CHANGES[stage]} of the last expected {context.moment.clock(last_of_all)}{others}"
    return make_due(
        context, rule, begun, last, late, brood, reason, None, late, begun + urgent_at * length
    )


def _others_hatched(context: ContainerContext, brood: str) -> bool:
    """Whether eggs of a brood hatched in this container that were known of before."""
    return any(
        one.brood == brood
        and one.stage == "egg"
        and one.container == context.code
        and not one.by_hatching
        for one in context.bench.passed
    )
