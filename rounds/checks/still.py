"""Larvae that have not moved for long."""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec.structs import replace

from rounds.bench.folding.signs import SIGN_WORDS
from rounds.bench.state import Bench, Container
from rounds.checks.answers import DEAD, MOULTED, PUPATED
from rounds.checks.base import Check, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import NOT_MOVING, ContainerContext
from rounds.checks.question import Answer, AnswerContext, Question
from rounds.checks.reckon import GRACE, TimedRule, after, make_due, newest, sign_since
from rounds.checks.rule import AWAKE, Rule, hours
from rounds.entries import registry as k
from rounds.entries.base import Saying


def reckon(context: ContainerContext, rule: TimedRule) -> Due:
    """Counts from when it was first seen not to move; after a look it is asked again in the next
    round, and not late before that."""
    start = sign_since(context)
    last = newest(context.container.last, rule.kinds)
    due, late, urgent = start + rule.every, after(start, rule.late), after(start, rule.urgent)
    if last is not None and last.at > due:
        due = context.moment.next_unserved(last.at)
        late, urgent = max(late or due, due + GRACE), max(urgent or due, due)
    sign = context.container.sign
    reason = SIGN_WORDS.get(sign, sign)
    return make_due(context, rule, start, last, due, reason=reason, late_at=late, urgent_at=urgent)


def _same_sign(context: AnswerContext) -> list[Saying]:
    """Hanging larvae seen unchanged still hang."""
    sign = context.container.sign if context.container else "still"
    return [(k.Looked, context.here | {"sign": sign if sign in ("still", "hanging") else "still"})]


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """How long it has been: in hours, from two days on in whole days."""
    if container is None or now is None or due.since is None:
        return CHECK.question
    passed = int((now - due.since) / timedelta(hours=1))
    long = f"{passed} h" if passed < 48 else f"{passed // 24} d"
    have = "It has" if container.count("larva") == 1 else "They have"
    return replace(CHECK.question, text=f"{have} not moved for {long}. What do you see?")


CHECK = Check(
    name="still",
    help="A moult takes a day, sometimes two; limp, dark or smelling is another matter.",
    value=Value(15, 0.3, 0.002, "larvae"),
    severity=2,
    place=60,
    answered_by=("looked", "moulted", "pupated", "died"),
    in_passing=True,
    own_end=True,
    rules=(
        Rule(
            AWAKE,
            "larva",
            NOT_MOVING,
            **hours(48, late=54, urgent=72),
            basis=(
                "a moult takes 24 hours, the last up to 48 (silkworm tables), a hang 24 "
                "(University of Illinois, of the painted lady): asked past the longest, for a look"
                " before that answers it; later hours: our estimate"
            ),
        ),
    ),
    reckon=reckon,
    ask=ask,
    question=Question(
        "They have not moved for long. What do you see?",
        (Answer("space", "not moving, not limp", _same_sign, usual=True), MOULTED, PUPATED, DEAD),
    ),
)
