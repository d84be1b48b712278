"""Why a check stands as it does, in words; made only when asked."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta

from msgspec import Struct

from rounds.bench.measures import measures_of
from rounds.bench.plurals import count, in_a_row
from rounds.bench.state import Bench, Container
from rounds.checks.due_state import Due, container_of
from rounds.checks.plan import plan_of
from rounds.checks.reckon import known_since
from rounds.checks.registry import CHECKS, DEFAULT_PLAN
from rounds.checks.round_clock import Moment
from rounds.checks.rule import Rule
from rounds.checks.time_format import hours_words, span
from rounds.entries.check_labels import called
from rounds.entries.registry import BarrierSeen, HostSeen
from rounds.grouping import grouped

A_MOMENT = timedelta(minutes=1)


class Why(Struct, frozen=True):
    """Why a check stands as it does: the rule, what was said last, the hours, and what the rule
    rests on."""

    rule: str
    last: str
    arithmetic: str
    source: str


def why(due: Due, bench: Bench, moment: Moment) -> Why:
    """Why a check stands as it does."""
    check = CHECKS[due.check]
    plan = due.rule and f"{check.label} {due.rule.words} (plan{_scope(due, bench)})"
    last, hours = _last(due, bench, moment), _arithmetic(due, bench, moment)
    return Why(plan or check.question.text, last, hours, _source(due, bench))


def _scope(due: Due, bench: Bench) -> str:
    container = container_of(bench, due)
    words: list[str] = [_whose(due.rule, container, bench)] if container is not None else []
    if due.rule is not None and due.rule.condition:
        words.append(due.rule.condition)
    return f": {', '.join(words)}" if words else ""


def _whose(rule: Rule | None, container: Container, bench: Bench) -> str:
    """What the rule goes by: the container, where it has hours of its own; else its purpose, but
    for animals that are awake in one set up for winter, or live in a host store."""
    if rule is None:
        return called(container.purpose)
    changes = plan_of(bench).changes_for(rule, container.purpose, container.code)
    if changes and changes[-1].container:
        return container.code
    if not rule.purposes or container.purpose in rule.purposes:
        return called(container.purpose)
    return "awake" if container.purpose == "overwintering" else "animals"


def _last(due: Due, bench: Bench, moment: Moment) -> str:
    last_words, container = CHECKS[due.check].last_words, bench.at(due.where)
    more = last_words(bench, container, moment) if last_words and container else ""
    if due.last is None:
        return more or "not recorded yet"
    by = f", {due.last.by}" if due.last.by else ""
    what = called(due.last.what)
    if isinstance(due.last, BarrierSeen):  # how it stood, and how deep
        what = due.last.wording(measures_of(bench.settings))
    words = f"it was last recorded {moment.clock(due.last.at)}: {what}{by}"
    return f"{words}; {more}" if more else words


def _arithmetic(due: Due, bench: Bench, moment: Moment) -> str:
    limit = due.rule is not None and due.rule.before_limit
    reason, at_words = _reason(due, moment), _clock(due, moment)
    parts = [reason] if reason else []
    if due.since is not None:
        gone = moment.now - due.since
        if limit:
            parts.append(f"{_limit(gone)} {at_words(due.since)}, {_gone(gone)}")
        else:
            ahead = f"{span(gone)} ago" if gone >= A_MOMENT else "just now"
            if gone < timedelta(0):
                ahead = f"{span(-gone)} ahead of this clock"
            since = f"since {at_words(due.since)}"
            if at_words(due.since) in reason:  # the reason says it
                since = ""
            if _begins_later(due):
                since = f"counted from {at_words(due.since)}"
            parts.append(f"{since}, {ahead}" if since else ahead)
    if due.lasts:
        parts.append(due.lasts)
    parts += _steps(due, at_words, begins=limit or due.since is None or due.due > due.since)
    if due.put_off_until and due.put_off_until > moment.now:
        parts.append(f"put off until {at_words(due.put_off_until)}")
    missed = _missed(due, bench, moment)
    if missed:
        parts.append(missed)
    return ", ".join(parts)


def _clock(due: Due, moment: Moment) -> Callable[[datetime], str]:
    """How one sentence about a check says its instants."""
    beside = (due.since, due.due, due.late, due.urgent, due.danger, due.put_off_until)
    return lambda at: moment.clock(at, *beside)


def _begins_later(due: Due) -> bool:
    """Whether its hours count from later than from its last answer, and no reason says why."""
    if due.last is None or due.since is None or due.reason or CHECKS[due.check].last_words:
        return False
    return due.since - due.last.at > A_MOMENT


def _steps(due: Due, at_words: Callable[[datetime], str], *, begins: bool) -> Iterator[str]:
    """From when on it is due and worse, steps of one instant together: ``late and urgent from
    11:34``."""
    hours = (
        *([("due", due.due)] if begins else []),
        ("late", due.late),
        ("urgent", due.urgent),
        ("in danger", due.danger),
    )
    steps = grouped((at_words(at), name) for name, at in hours if at is not None)
    for words, names in steps.items():
        if names == ["due"]:
            yield f"due {words}"
            continue
        about = "about " if names[-1] == "in danger" else ""
        yield f"{in_a_row(names)} from {about}{words}"


def _limit(gone: timedelta) -> str:
    return "limit" if gone < timedelta(0) else "PAST THE LIMIT of"


def _gone(gone: timedelta) -> str:
    return f"in {span(-gone)}" if gone < timedelta(0) else f"{span(gone)} ago"


def _reason(due: Due, moment: Moment) -> str:
    """What makes it pressing: what was seen, or that what was seen to be good is old by the
    clock."""
    if due.reason or not isinstance(due.last, HostSeen) or due.late is None or due.since is None:
        return due.reason
    if due.late > moment.now or due.since >= due.last.at:
        return ""
    found = due.last.state or (f"with {due.last.amount}" if due.last.amount else "fresh")
    seen = f"seen {found} {moment.clock(due.last.at)}"
    return f"{seen}, but cut {moment.clock(due.since)}: see whether it is stiff"


def _missed(due: Due, bench: Bench, moment: Moment) -> str:
    """How many rounds went by in which it was not answered at all."""
    if due.rule is None or not due.rule.each_round or due.since is None:
        return ""
    since = due.since if due.last is None else max(due.since, due.last.at)
    container = container_of(bench, due)
    if container is not None:
        check = CHECKS[due.check]
        kinds = (*check.answered_by, *check.closed_by)
        since = max([since, *(container.last[kind].at for kind in kinds if kind in container.last)])
    if known := known_since(due, bench, moment):
        since = max(since, known)
    missed = moment.missed_since(since)
    return f"{count(missed, 'round')} missed" if missed else ""


def because(due: Due, bench: Bench, moment: Moment) -> str:
    """Why a check is asked, in one sentence: what was seen, and from when on the plan calls it late
    and worse."""
    parts = [one for one in (_reason(due, moment), due.lasts, _missed(due, bench, moment)) if one]
    if due.rule is not None:
        texts = [] if due.rule.before_limit else list(_from_when(due, due.rule, moment))
        scope = _scope(due, bench).strip(" :")
        plan = f"plan{f', {scope}' if scope else ''}: {due.rule.words}"
        parts.append(f"{plan}; {', '.join(texts)}" if texts else plan)
    return "; ".join(parts)


def _from_when(due: Due, rule: Rule, moment: Moment) -> Iterator[str]:
    """From when on it is late and worse: the plan's hours, but the time itself where what was seen
    or forecast moved it."""
    at_words = _clock(due, moment)
    instants = (
        ("late", rule.amber_h, due.late),
        ("urgent", rule.red_h, due.urgent),
        ("in danger", rule.harm_h, due.danger),
    )
    for word, hours, at in instants:
        if not hours:
            continue
        by_plan = due.since + timedelta(hours=hours) if due.since is not None else None
        if at is None or by_plan is None or abs(at - by_plan) < A_MOMENT:
            yield f"{word} after {hours_words(hours)}"
        else:
            yield f"{word} from {at_words(at)}"


def _source(due: Due, bench: Bench) -> str:
    if due.rule is None:
        return "asked by the keeper"
    if due.rule in DEFAULT_PLAN:
        return due.rule.basis
    return f"{_changed_by(due, due.rule, bench)}; starter value: {due.rule.basis}"


def _changed_by(due: Due, rule: Rule, bench: Bench) -> str:
    """Whose change of the plan holds here."""
    container = container_of(bench, due)
    code, purpose = (container.code, container.purpose) if container is not None else ("", "")
    changes = plan_of(bench).changes_for(rule, purpose, code)
    if not changes:
        return "changed in the plan"
    change = changes[-1]
    scope = f"for {change.container or called(change.purpose or '') or 'the whole book'}"
    by = f" by {change.by}" if change.by else ""
    reason = f", '{change.why}'" if change.why else ""
    return f"changed {scope}{by}{reason}"
