"""Every check, in the order of the plan page.

The only list of them: all that asks, explains or records works on this.
"""

from __future__ import annotations

from datetime import timedelta
from functools import cache
from importlib import import_module

from rounds.checks.base import Check, Helped
from rounds.checks.due_state import Due
from rounds.checks.reckon import TimedRule
from rounds.checks.rule import Rule
from rounds.entries.slots import listed

_FILES = listed(
    "drink feeder look host eggs change release permit air hatch_late leaf frass keep turn "
    "food clean count weigh still mist emerge_late wings quarantine ants lamp balance room "
    "heat store solution"
)
CHECKS: dict[str, Check] = {
    check.name: check
    for name in _FILES
    for check in (import_module(f"rounds.checks.{name}").CHECK,)
}
DEFAULT_PLAN: tuple[Rule, ...] = tuple(rule for check in CHECKS.values() for rule in check.rules)
ANSWERED_BY: dict[str, frozenset[str]] = {
    check.name: frozenset(check.answered_by) for check in CHECKS.values()
}
# What a helper may be asked to do, by the name of the task.
HELPED: dict[str, Helped] = {
    helped.name: helped for check in CHECKS.values() for helped in check.helped
}


@cache
def timed(rule: Rule) -> TimedRule:
    """A rule made ready."""
    check = CHECKS[rule.check]
    return TimedRule(
        rule,
        rule.check,
        check.answered_by,
        rule.severity or check.severity,
        timedelta(hours=rule.every_h or 0),
        _span(rule.amber_h),
        _span(rule.red_h),
        _span(rule.harm_h),
        rule.each_round,
        rule.daily,
        check.about,
        check.purposes,
    )


def asked_elsewhere(due: Due) -> bool:
    """Whether a check is asked at another place of the walk."""
    elsewhere = CHECKS[due.check].elsewhere
    return elsewhere is not None and elsewhere(due)


def _span(hours: float | None) -> timedelta | None:
    return None if hours is None else timedelta(hours=hours)
