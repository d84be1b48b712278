"""Counting what is there."""

from __future__ import annotations

from rounds.checks.answers import COUNTED_THERE
from rounds.checks.base import Check, Value
from rounds.checks.question import Answer, AnswerContext, Question
from rounds.checks.rule import DAY, Rule, hours
from rounds.entries import registry as k
from rounds.entries.base import Saying


def _all_there(context: AnswerContext) -> list[Saying]:
    container = context.container
    on_record = container.count() if container else 0
    number = on_record if context.whole is None else context.whole
    return [context.saying(k.Counted, number=number)]


CHECK = Check(
    name="count",
    undone=("not been counted", "has not been counted", "count"),
    help="What was not seen stays open.",
    value=Value(30, 0.1, 0.002),
    severity=1,
    place=170,
    answered_by=("counted",),
    disturbs=True,
    in_passing=True,
    rules=(
        Rule(
            ("rearing", "hatchlings"),
            "larva",
            **hours(3 * DAY, late=5 * DAY),
            basis=(
                "counted at cleaning, for the first instar loses most (Mattoni et al. "
                "2003, of the Palos Verdes blue): no interval is published, our estimate; not"
                " oftener, for counting disturbs"
            ),
        ),
    ),
    question=Question(
        "How many are there?", (Answer("c", "all there", _all_there, COUNTED_THERE, by_enter=True),)
    ),
)
