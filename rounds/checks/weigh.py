"""The mass of larvae and pupae, for a keeper who wants it: off unless the plan switches it on."""

from __future__ import annotations

from rounds.checks.answers import unchanged
from rounds.checks.base import Check, Value
from rounds.checks.facts import EMERGING, Facts
from rounds.checks.question import Answer, AnswerContext, Number, Question
from rounds.checks.rule import DAY, ESTIMATE, Rule
from rounds.entries import registry as k
from rounds.entries.base import Saying

MASS = Number("mass of one in mg", "measure")
WEEKLY = f"weighed once a week, for a record of growth: {ESTIMATE}"
HANDLE_LITTLE = (
    "Handle little: weigh no larva that does not move or hangs up (moult, prepupa), nor a fresh"
    " pupa; on a soft brush or leaf, not with fingers."
)


def needs(facts: Facts) -> bool:
    """No moult, no prepupa, no fresh pupa: what changes its skin is not touched."""
    return facts.sign not in ("still", "hanging", "soft pupa")


def _weighed(context: AnswerContext) -> list[Saying]:
    mass = context.number
    return [context.saying(k.Weighed, mass_mg=mass, number=1)] if mass else []


CHECK = Check(
    name="weigh",
    help=(
        "Mass shows growth, and a pupa that dries out. It is only for the record: if you weigh"
        " none, no harm is done."
    ),
    value=Value(60, 0.0, 0.0, "nothing"),
    severity=1,
    place=165,
    answered_by=("weighed",),
    disturbs=True,
    rules=(
        Rule(EMERGING, "larva", every_h=7 * DAY, off=True, basis=WEEKLY),
        Rule(EMERGING, "pupa", every_h=7 * DAY, off=True, basis=WEEKLY),
    ),
    needs=needs,
    question=Question(
        "Did you weigh any? Type the mass of one in mg, as 132.5, then Enter.",
        (
            Answer("enter", "weighed", _weighed, MASS, must=True, by_enter=True),
            unchanged("not today"),
        ),
    ),
    cautions=(HANDLE_LITTLE,),
    first_cautions=(HANDLE_LITTLE,),
)
