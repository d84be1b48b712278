"""Wings of adults that have just emerged."""

from __future__ import annotations

from rounds.checks.answers import DRANK, say
from rounds.checks.base import Check, Value
from rounds.checks.facts import seen
from rounds.checks.question import Answer, Question
from rounds.checks.reckon import from_sign
from rounds.checks.rule import AWAKE, Rule, hours
from rounds.entries import registry as k

CHECK = Check(
    name="wings",
    help="Wings not up two hours after emergence want a rougher, freer climb.",
    value=Value(20, 0.3, 0.01),
    severity=2,
    place=70,
    answered_by=("looked", "emerged", "drank"),
    in_passing=True,
    rules=(
        Rule(
            AWAKE,
            "adult",
            seen("wings not up", "wings not up"),
            **hours(0.5, late=2, urgent=4),
            basis=(
                "wings full in 20 minutes (monarchjourney.com), dry in half an hour to two hours"
                " (Reiman Gardens, Iowa State University); late hours: our estimate"
            ),
        ),
    ),
    reckon=from_sign,
    question=Question(
        "Are the wings up?",
        (
            Answer("space", "up", say(k.Looked, sign="wings up"), usual=True),
            Answer("k", "not up yet", say(k.Looked, sign="wings not up")),
            DRANK,
        ),
    ),
)
