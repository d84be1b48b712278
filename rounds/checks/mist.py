"""A light spray on gauze or lining of pupae and resting stock."""

from __future__ import annotations

from rounds.checks.answer_entries import say
from rounds.checks.base import Check, Helped
from rounds.checks.facts import HALF_GROWN, LATE_WINTER, Condition, has
from rounds.checks.question import Answer, Question
from rounds.checks.rule import AWAKE, COMMON, DAY, WINTER, Rule
from rounds.checks.value import Value
from rounds.entries import registry as k

CHECK = Check(
    name="mist", label="mist", verb="mist",
    help="A light spray on gauze or lining.",
    value=Value(10, 1.0, 0.002, "eggs and pupae"),
    severity=1, place=220, answered_by=("misted",), disturbs=True,
    rules=(
        Rule(AWAKE, "pupa", every_h=36, amber_h=48, red_h=72,
             basis=f"light spray daily or every other day: {COMMON}; hours our estimate"),
        Rule(WINTER, "pupa", Condition("early winter", lambda facts: not facts.flags & LATE_WINTER),
             every_h=14 * DAY, amber_h=16 * DAY, red_h=21 * DAY, basis=f"every fortnight early in winter: {COMMON}"),
        Rule(WINTER, "pupa", has("late winter", LATE_WINTER),
             every_h=7 * DAY, amber_h=16 * DAY, red_h=21 * DAY, basis=f"every week late in winter: {COMMON}"),
        Rule(WINTER, "larva", HALF_GROWN, every_h=4 * DAY, amber_h=5 * DAY, red_h=7 * DAY,
             basis=f"half-grown resting larvae: every four days at least; {COMMON}"),
    ),
    needs=lambda facts: facts.kept != "living",  # a sleeve outdoors has rain and dew
    question=Question("Misted?", (Answer("v", "misted", say(k.Misted), usual=True),)),
    helped=(Helped("One light spray onto the gauze, no drops."),),
)  # fmt: skip
