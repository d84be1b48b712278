"""A lamp that is on."""

from __future__ import annotations

from rounds.checks.answers import put_off, say
from rounds.checks.base import Check, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import LAMP, ContainerContext, has
from rounds.checks.question import Answer, Question
from rounds.checks.reckon import TimedRule, make_due
from rounds.checks.round_clock import utc
from rounds.checks.rule import COMMON, Rule, hours
from rounds.entries import registry as k


def reckon(context: ContainerContext, rule: TimedRule) -> Due:
    """Counts from when the lamp was switched on."""
    start = utc(context.container.lamp_since or context.container.since)
    return make_due(context, rule, start, context.container.last.get("light"), reason="lamp on")


CHECK = Check(
    name="lamp",
    help="A lamp is timed, guarded and never left alone.",
    value=Value(15, 1.0, 0.1),
    severity=3,
    place=290,
    answered_by=("light",),
    closes="gone",
    before_leaving="always",
    rules=(
        Rule(
            when=has("lamp on", LAMP),
            **hours(1, late=2, urgent=4),
            basis=f"lamps are timed and never left alone: {COMMON}; hours: our estimate",
        ),
    ),
    reckon=reckon,
    question=Question(
        "A lamp is on.",
        (
            Answer("e", "switched off", say(k.Light, to="lamp off")),
            Answer("space", "stays on an hour", put_off(1, "stays on"), usual=True),
        ),
    ),
    cautions=("lamps",),
    first_cautions=("lamps",),
)
