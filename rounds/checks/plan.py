"""The care plan: the starter rules with the keeper's changes.

A change for one container goes before one for a purpose and stage, that before one for a purpose,
and that before one for the whole book.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import Literal

import msgspec
from msgspec import Struct

from rounds.bench.state import Bench, Container
from rounds.checks.registry import DEFAULT_PLAN
from rounds.checks.rule import Rule
from rounds.entries.check_labels import called, label_of
from rounds.entries.registry import PlanChanged
from rounds.entries.schema import typed_name
from rounds.grouping import grouped

FromWhere = Literal["default", "book", "purpose", "container"]
LEARNED = "learned"  # how the reason of a change begins that the records gave, not the keeper
LATE_AFTER, RED_AFTER = 1.25, 2.0  # of the hours between, where only those were said; our estimate
_HOURS = ("every_h", "amber_h", "red_h", "harm_h")


class PlanLine(Struct, frozen=True):
    """A rule as it stands, for whom, and where its value comes from."""

    rule: Rule
    purpose: str
    container: str
    off: bool
    from_where: FromWhere


def _names(change: PlanChanged, rule: Rule, purpose: str) -> bool:
    return (
        change.check == rule.check
        and (change.purpose is None or change.purpose == purpose)
        and (change.stage is None or change.stage == rule.stage)
    )


def _fits(change: PlanChanged, rule: Rule, purpose: str) -> bool:
    """Whether a change is of a rule: how often a check is asked is not of what it asks at once,
    unless the change names nothing else."""
    if not _names(change, rule, purpose):
        return False
    if rule.every_h != 0 or change.every_h is None or change.off is not None:
        return True
    return not any(other.every_h != 0 and _names(change, other, purpose) for other in DEFAULT_PLAN)


def _rank(change: PlanChanged) -> tuple[bool, bool, bool]:
    return bool(change.container), change.purpose is not None, change.stage is not None


def _origin(change: PlanChanged) -> FromWhere:
    if change.container:
        return "container"
    return "purpose" if change.purpose else "book"


def _changed(rule: Rule, said: dict[str, float], *, learned: bool) -> Rule:
    """A rule with the hours that a keeper gave, or that were learned: these still adapt."""
    if not said:
        return rule
    period = rule.period_h
    if "every_h" in said:
        every = said["every_h"]
        if rule.each_round and rule.amber_h is None:
            said = {"amber_h": LATE_AFTER * every, "red_h": RED_AFTER * every} | said
        rule = msgspec.structs.replace(rule, each_round=False, daily=False)
    # A forecast gives way to hours that a keeper gave, unless the rule has none of its own.
    rule = msgspec.structs.replace(
        rule, computed=rule.only_forecast, adapts=rule.adapts and learned
    )
    if rule.before_limit:
        return msgspec.structs.replace(rule, **said)
    return msgspec.structs.replace(rule, **_moved_along(rule, said, period))


def _moved_along(
    rule: Rule, said: dict[str, float], period: float | None
) -> dict[str, float | None]:
    """All hours of a rule: what comes after an hour that is put off is put off as much, and none
    comes before an earlier one.

    Args:
        period: how often it was asked before, hours.
    """
    hours: dict[str, float | None] = {}
    later = 0.0
    for name in _HOURS:
        before: float | None = getattr(rule, name)
        if name in said:
            was = period if name == "every_h" else before
            later = max(0.0, said[name] - was) if was is not None else later
        hours[name] = said[name] if name in said else None if before is None else before + later
    latest: float | None = None
    for name in reversed(_HOURS):
        hour = hours[name]
        if hour is not None and latest is not None and name not in said:
            hours[name] = hour = min(hour, latest)
        latest = hour if hour is not None else latest
    return hours


def _together(said: dict[str, float], newer: dict[str, float]) -> dict[str, float]:
    """Hours said before with those said now; what was said before gives way where it contradicts
    them."""
    place = _HOURS.index
    return {
        name: hour
        for name, hour in said.items()
        if not any((place(name) - place(other)) * (hour - new) < 0 for other, new in newer.items())
    } | newer


def _hours(change: PlanChanged) -> dict[str, float]:
    return {name: value for name in _HOURS if (value := getattr(change, name)) is not None}


def _applied(rule: Rule, changes: Iterable[PlanChanged]) -> tuple[Rule, bool]:
    off, fields, learned = rule.off, dict[str, float](), True
    for change in changes:
        learned = learned and (not _hours(change) or change.why.startswith(LEARNED))
        fields = fields | _hours(change) if rule.before_limit else _together(fields, _hours(change))
        off = off if change.off is None else change.off
    return _changed(rule, fields, learned=learned), off


class Plan:
    """The starter rules with the keeper's changes.

    Args:
        changes: in the order in which they were said.
    """

    def __init__(self, changes: Iterable[PlanChanged]) -> None:
        ranked = sorted(changes, key=_rank)
        self._general = [plan_changed for plan_changed in ranked if not plan_changed.container]
        self._own = grouped((changed.container, changed) for changed in ranked if changed.container)
        self._by_purpose: dict[str, tuple[Rule, ...]] = {}

    def rules_of(self, purpose: str) -> tuple[Rule, ...]:
        """The rules of a purpose, without any container's own."""
        known = self._by_purpose.get(purpose)
        if known is None:
            known = self._by_purpose[purpose] = self._standing(purpose, "")
        return known

    def rules_for(self, container: Container) -> tuple[Rule, ...]:
        """The rules of a container, its own changes among them."""
        if container.code not in self._own:
            return self.rules_of(container.purpose)
        return self._standing(container.purpose, container.code)

    @property
    def own_codes(self) -> Collection[str]:
        """The containers that have changes of their own."""
        return self._own.keys()

    def rule(self, check: str, condition: str, container: Container | None = None) -> Rule | None:
        """The rule of a check and condition for a container, else for room, shelf and book; None
        where it is off."""
        rules = self.rules_of("") if container is None else self.rules_for(container)
        for rule in rules:
            if rule.check == check and rule.condition == condition:
                return rule
        return None

    def changes_for(self, rule: Rule, purpose: str, code: str) -> list[PlanChanged]:
        """The changes that touch a rule, the strongest last."""
        changes = [*self._general, *self._own.get(code, ())]
        return [change for change in changes if _fits(change, rule, purpose)]

    def line(self, rule: Rule, purpose: str, code: str = "") -> PlanLine:
        """A starter rule as it stands for a purpose or container."""
        changes = self.changes_for(rule, purpose, code)
        changed, off = _applied(rule, changes)
        return PlanLine(changed, purpose, code, off, _origin(changes[-1]) if changes else "default")

    def _standing(self, purpose: str, code: str) -> tuple[Rule, ...]:
        lines = [
            self.line(rule, purpose, code)
            for rule in DEFAULT_PLAN
            if not rule.purposes or purpose in rule.purposes
        ]
        return tuple(plan_line.rule for plan_line in lines if not plan_line.off)


def plan_of(bench: Bench) -> Plan:
    """The plan of a bench."""
    return Plan(bench.plan)


def refusal_without_effect(bench: Bench, change: PlanChanged) -> str | None:
    """Why a change of the plan would do nothing, in one line that says what would; None where it
    does something.

    Args:
        change: of a check that there is.
    """
    check = label_of(change.check)
    if all(getattr(change, name) is None for name in (*_HOURS, "off")):
        return f"say what changes for {check}: every_h, late_h, urgent_h, danger_h or off"
    rules = [rule for rule in DEFAULT_PLAN if rule.check == change.check]
    if change.every_h is not None and not all(rule.before_limit for rule in rules):
        early = [
            f"{typed_name(name)}={hour:g}"
            for name, hour in _hours(change).items()
            if hour < change.every_h
        ]
        if early:
            asked_h = f"every_h={change.every_h:g}"
            return f"{early[0]} is below {asked_h}; it is asked first, late after that"
    container = bench.at(change.container)
    purpose = change.purpose or (container.purpose if container is not None else None)
    asked = [
        rule for rule in rules if purpose is None or not rule.purposes or purpose in rule.purposes
    ]
    if container is not None and change.purpose not in (None, container.purpose):
        is_for = f"{container.code} is for {called(container.purpose)}"
        return f"that changes nothing: {is_for}, not {change.purpose}"
    if not asked:
        whose = f"{container.code} is for {called(container.purpose)} and " if container else ""
        purposes = dict.fromkeys(one for rule in rules for one in rule.purposes)
        return f"that changes nothing: {whose}{check} is only asked in {', '.join(purposes)}"
    if change.stage is not None and all(rule.stage != change.stage for rule in asked):
        stages = ", ".join(dict.fromkeys(rule.stage for rule in asked if rule.stage))
        goes_by = stages or "no stage of its own"
        return f"that changes nothing: {check} goes by {goes_by}, not {change.stage}"
    if any(last.other for last in change.said_on(bench).values()):
        return None  # it says which of two holds
    before, after = plan_of(bench), Plan([*bench.plan, change])
    scopes = [
        (rule, one) for rule in asked for one in ([purpose] if purpose else rule.purposes or ("",))
    ]
    code = change.container
    if all(_stands(before, *one, code) == _stands(after, *one, code) for one in scopes):
        return f"that changes nothing: {check} stands so already"
    return None


def _stands(plan: Plan, rule: Rule, purpose: str, code: str) -> tuple[Rule, bool]:
    line = plan.line(rule, purpose, code)
    return line.rule, line.off


def plan_lines(bench: Bench) -> list[PlanLine]:
    """Every rule as it stands for each of its purposes, then what is different for single
    containers."""
    plan = plan_of(bench)
    lines = [
        plan.line(rule, purpose) for rule in DEFAULT_PLAN for purpose in rule.purposes or ("",)
    ]
    for code in dict.fromkeys(change.container for change in bench.plan if change.container):
        container = bench.at(code)
        if container is None:
            continue
        for rule in DEFAULT_PLAN:
            if rule.purposes and container.purpose not in rule.purposes:
                continue
            line = plan.line(rule, container.purpose, code)
            if line.from_where == "container":
                lines.append(line)
    return lines
