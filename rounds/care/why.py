"""Why a check stands as it does, in words; made only when asked."""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec import Struct

from rounds.bench.state import Bench
from rounds.care.checks import CHECKS
from rounds.care.moment import Moment
from rounds.care.plan import plan_of
from rounds.care.rules import DEFAULT_PLAN, Rule
from rounds.care.spoken import local, span
from rounds.care.standing import Due


class Why(Struct, frozen=True):
    """Why a check stands as it does: the rule, what was said last, the hours, and what the rule rests on."""

    rule: str
    last: str
    arithmetic: str
    source: str


def why(due: Due, bench: Bench, moment: Moment) -> Why:
    """Why a check stands as it does."""
    check = CHECKS[due.check]
    rule = f"{check.label} {due.rule.words} (plan{_scope(due, bench)})" if due.rule else check.question
    return Why(rule, _last(due, bench, moment), _arithmetic(due, moment), _source(due, bench))


def _scope(due: Due, bench: Bench) -> str:
    container = bench.at(due.where) if due.place_kind == "container" else None
    words: list[str] = [container.purpose] if container is not None else []
    if due.rule is not None and due.rule.condition:
        words.append(due.rule.condition)
    return f": {', '.join(words)}" if words else ""


def _last(due: Due, bench: Bench, moment: Moment) -> str:
    if due.last is None:
        return "not yet done"
    words = f"last {due.last.what}, {local(due.last.at, moment)}, {due.last.by or '-'}"
    container = bench.at(due.where) if due.check == "drink" else None
    if container is not None and container.drank_part:
        part = sum(number for _, number in container.drank_part)
        words += f"; {part} of {container.females} then, all {_when_all(container.all_drank, moment)}"
    return words


def _when_all(at: datetime | None, moment: Moment) -> str:
    return f"last {local(at, moment)}" if at is not None else "not yet"


def _arithmetic(due: Due, moment: Moment) -> str:
    limit = due.rule is not None and due.rule.before_limit
    parts = [due.reason] if due.reason else []
    if due.since is not None:
        gone = moment.now - due.since
        if limit:
            parts.append(f"{_limit(gone)} {local(due.since, moment)}, {_gone(gone)}")
        else:
            parts.append(f"since {local(due.since, moment)}, {span(gone)} ago")
    for name, at in (("due", due.due), ("amber", due.amber), ("red", due.red), ("danger from about", due.harm)):
        if at is not None and not (name == "due" and due.since and at <= due.since and not limit):
            parts.append(f"{name} {local(at, moment)}")
    if due.put_off_until and due.put_off_until > moment.now:
        parts.append(f"put off until {local(due.put_off_until, moment)}")
    missed = moment.missed_since(due.since) if due.rule and due.rule.each_round and due.since else 0
    if missed:
        parts.append(f"{missed} {'round' if missed == 1 else 'rounds'} missed")
    return ", ".join(parts)


def _limit(gone: timedelta) -> str:
    return "limit" if gone < timedelta(0) else "PAST THE LIMIT of"


def _gone(gone: timedelta) -> str:
    return f"in {span(-gone)}" if gone < timedelta(0) else f"{span(gone)} ago"


def _source(due: Due, bench: Bench) -> str:
    if due.rule is None:
        return "asked by the keeper"
    if due.rule in DEFAULT_PLAN:
        return due.rule.basis
    return f"{_changed_by(due, due.rule, bench)}; starter value: {due.rule.basis}"


def _changed_by(due: Due, rule: Rule, bench: Bench) -> str:
    """Whose change of the plan holds here."""
    container = bench.at(due.where) if due.place_kind == "container" else None
    code, purpose = (container.code, container.purpose) if container is not None else ("", "")
    changes = plan_of(bench).changes_for(rule, purpose, code)
    if not changes:
        return "changed in the plan"
    change = changes[-1]
    scope = f"for {change.container or change.purpose or 'the whole book'}"
    reason = f", '{change.why}'" if change.why else ""
    return f"changed {scope} by {change.by or '-'}{reason}"
