"""Larvae that have not moved for long."""

from __future__ import annotations

from rounds.checks.answers import DEAD, MOULTED, PUPATED
from rounds.checks.base import Check, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import NOT_MOVING, ContainerContext
from rounds.checks.question import Answer, AnswerContext, Question
from rounds.checks.reckon import TimedRule, make_due, newest, sign_since
from rounds.checks.rule import AWAKE, Rule, hours
from rounds.entries import registry as k
from rounds.entries.base import Saying


def reckon(context: ContainerContext, rule: TimedRule) -> Due:
    """Counts from when it was first seen not to move; asked again in each round after."""
    start = sign_since(context)
    last = newest(context.container.last, rule.kinds)
    due = start + rule.every
    if last is not None and last.at > due:
        due = context.moment.next_unserved(last.at)
    return make_due(context, rule, start, last, due, reason=context.container.sign)


def _same_sign(context: AnswerContext) -> list[Saying]:
    """Hanging larvae seen unchanged still hang."""
    sign = context.container.sign if context.container else "still"
    return [(k.Looked, context.here | {"sign": sign if sign in ("still", "hanging") else "still"})]


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
                " before that answers it; later hours our estimate"
            ),
        ),
    ),
    reckon=reckon,
    question=Question(
        "Not moving for long.",
        (Answer("space", "not moving, not limp", _same_sign, usual=True), MOULTED, PUPATED, DEAD),
    ),
)
