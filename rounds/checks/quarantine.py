"""New stock apart from the rest, and what was isolated for a sign of illness."""

from __future__ import annotations

from datetime import datetime

from msgspec.structs import replace

from rounds.bench.state import Bench, Container
from rounds.checks.answers import say, unchanged
from rounds.checks.base import Check, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import ILL_SIGNS, SUSPECT, Condition, ContainerContext
from rounds.checks.question import Answer, Question
from rounds.checks.reckon import TimedRule, applies_from, make_due
from rounds.checks.round_clock import utc
from rounds.checks.rule import COMMON, DAY, Rule, hours
from rounds.entries import registry as k

ILL = Condition("ill", lambda facts: bool(facts.flags & SUSPECT) or facts.sign in ILL_SIGNS)


def reckon(context: ContainerContext, rule: TimedRule) -> Due | None:
    """Counts from when the stock came, or from the last sign of illness."""
    container = context.container
    came = applies_from(context, rule)
    cleared = container.last.get("cleared")
    if rule.rule.when == ILL:
        seen = utc(container.suspect_since or container.sign_since or container.since)
        return make_due(context, rule, seen, cleared, reason=_illness(container), seen=seen)
    if cleared is not None and cleared.at >= came:
        return None
    start = came
    if container.purpose == "isolation" and container.sign in ILL_SIGNS:
        looked = container.last.get("looked")
        start = max(start, utc(looked.at)) if looked else start
    return make_due(context, rule, start, cleared)


def _illness(container: Container) -> str:
    text = container.suspect_sign if container.suspect_since else container.sign
    return f"seen: {text}" if text else "suspect"


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """Of a sign of illness, of the watch in isolation, of quarantine that is over."""
    if due.rule is not None and due.rule.when == ILL:
        return replace(CHECK.question, text="A sign of illness was seen. Did it pass?")
    if container is not None and container.purpose == "isolation":
        return replace(CHECK.question, text="Three days went by without a new sign. Clear it?")
    return CHECK.question


CHECK = Check(
    name="quarantine",
    help="New stock stands apart one to two weeks; any sign of illness and it stays apart.",
    value=Value(30, 0.1, 0.002),
    severity=1,
    place=250,
    answered_by=("cleared",),
    own_end=True,
    rules=(
        Rule(
            ("quarantine",),
            **hours(7 * DAY, late=14 * DAY),
            basis="new stock apart for one to two weeks: from memory, no source",
        ),
        Rule(
            ("quarantine",),
            when=ILL,
            **hours(0, late=0, urgent=0),
            severity=2,
            basis=f"any sign of illness in new stock: {COMMON}",
        ),
        Rule(
            ("isolation",), every_h=3 * DAY, basis=f"three days' watch without a new sign: {COMMON}"
        ),
    ),
    needs=lambda facts: facts.stages > 0,
    reckon=reckon,
    ask=ask,
    question=Question(
        "Quarantine is over. Clear it?",
        (Answer("c", "cleared", say(k.Cleared)), unchanged("keep another day")),
    ),
    cautions=("said",),
)
