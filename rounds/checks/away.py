"""Going away: what must be done before, what breaks first and when, and what a helper is asked for
at each visit.

What breaks takes everything to be done once more just before leaving, and nobody to come until the
return. Hours are those of the plan.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from msgspec import Struct, structs

from rounds.bench.codes import counted
from rounds.bench.measures import measures_of
from rounds.bench.state import Bench
from rounds.checks.due import all_dues
from rounds.checks.due_state import Due
from rounds.checks.reckon import after
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment, utc
from rounds.checks.visits import Visits, visits
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.moats import loss_words


class Away(Struct, frozen=True):
    """What going away means for a bench: what to do before; what does not keep until the return, at
    the hours that it has by then, with their arithmetic as its reason; and the visits."""

    leave: datetime
    back: datetime
    before: tuple[Due, ...]
    breaks: tuple[Due, ...]
    visits: Visits


def away(
    bench: Bench,
    moment: Moment,
    leave: datetime,
    back: datetime,
    dues: Iterable[Due] | None = None,
    foresight: Forecasts | None = None,
) -> Away:
    """What to do before leaving, what breaks first, and the sheet for a helper.

    Args:
        dues, foresight: what is due and what is coming on this very bench, where they were made
        before.

    Raises:
        ValueError: the return is not after the leaving, or the leaving is past.
    """
    if leave < moment.now:
        raise ValueError("leaving is in the past; it must be from now on")
    if back <= leave:
        raise ValueError("the return is not after the leaving; it must be later")
    leave, back = utc(leave), utc(back)
    known = list(all_dues(bench, moment) if dues is None else dues)
    last_round = moment.next_anchor(leave)
    before = sorted((due for due in known if _is_before(due, back, last_round)), key=_soonest)
    breaks = [broken for due in known if (broken := _breaks(bench, due, leave, back)) is not None]
    breaks.sort(
        key=lambda one: (
            one.danger is None,
            one.danger or one.urgent,
            counted(one.where),
            one.check,
        )
    )
    seen = visits(bench, moment, leave, back, known, foresight)
    return Away(leave, back, tuple(before), tuple(breaks), seen)


def _soonest(due: Due) -> tuple[datetime, int, str, str]:
    return due.danger or due.urgent or due.late or due.due, -due.severity, due.where, due.check


def _is_before(due: Due, back: datetime, last_round: datetime) -> bool:
    """Due before the round that nobody walks any more; or its own end comes while away; or a lamp;
    or a leaf for a hatch then."""
    check = CHECKS[due.check]
    by = back if check.before_leaving else last_round
    if check.before_leaving == "always" or due.due < max(by, last_round):
        return True
    end = due.urgent or due.late
    return check.own_end and end is not None and end < back


def _breaks(bench: Bench, due: Due, leave: datetime, back: datetime) -> Due | None:
    """When a check turns late, urgent and in danger if it is answered just before leaving; looks
    are not counted."""
    rule = due.rule
    if rule is None or (rule.each_round and rule.amber_h is None):
        return None
    check = CHECKS[due.check]
    if check.own_end:
        late, urgent, danger = due.late, due.urgent, due.danger
        arithmetic = due.reason or "its time comes, whatever was done before"
    elif check.closes == "gone":
        return None
    else:
        hours = rule.amber_h, rule.red_h, rule.harm_h
        if due.reason or due.since is None:
            spans = [None if one is None else timedelta(hours=one) for one in hours]
        else:
            ends = due.late, due.urgent, due.danger
            spans = [None if at is None else at - due.since for at in ends]
        late, urgent, danger = (after(leave, span) for span in spans)
        arithmetic = (
            f"if it is done on leaving, urgent {_hours(urgent - leave)} later" if urgent else ""
        )
    if check.lasts is not None and (filled := check.lasts(bench, due)) and filled.dry_first:
        if filled.low_first is not None:
            late = min(late or leave + filled.low_first, leave + filled.low_first)
        if urgent is None or leave + filled.dry_first < urgent:
            urgent = leave + filled.dry_first
            rate = loss_words(filled.loss, measures_of(bench.settings))
            arithmetic = (
                f"filled to {filled.full_mm:g} mm on leaving, {rate}, then dry after"
                f" {f'about {_hours(filled.until_dry)}, ' if filled.until_dry else ''}"
                f"{_hours(filled.dry_first)} at the earliest"
            )
    late, urgent, danger = (
        at if at is not None and at < back else None for at in (late, urgent, danger)
    )
    if urgent is None and danger is None:
        return None
    return structs.replace(due, late=late, urgent=urgent, danger=danger, reason=arithmetic)


def _hours(length: timedelta) -> str:
    hours = length.total_seconds() / 3600
    return f"{hours / 24:.3g} d" if hours >= 72 else f"{hours:.3g} h"
