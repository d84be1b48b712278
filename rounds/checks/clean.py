"""Cleaning: frass out, and a count at the same time."""

from __future__ import annotations

from datetime import datetime

from rounds.bench.state import Bench, Container
from rounds.checks.answers import COUNTED_THERE
from rounds.checks.base import Check, Helped, SupplyUse
from rounds.checks.due_state import Due
from rounds.checks.facts import L3_L4, LAST_INSTAR, eat
from rounds.checks.question import Answer, AnswerContext, Question, Saying
from rounds.checks.rule import AWAKE, Rule
from rounds.checks.value import Value
from rounds.entries import registry as k


def _cleaned(context: AnswerContext) -> list[Saying]:
    counted: list[Saying] = (
        [] if context.number is None else [(k.Counted, context.here | {"number": context.whole})]
    )
    return [(k.Cleaned, context.here), *counted]


def uses(bench: Bench, container: Container, due: Due, at: datetime) -> list[SupplyUse]:
    """A piece of lining, where there is any."""
    return (
        [SupplyUse(at, "lining", container.lining, 1, container.code)] if container.lining else []
    )


CHECK = Check(
    name="clean",
    undone=("not been cleaned", "has not been cleaned", "cleaning"),
    help="Count at every clean; check lid, seam and folds before you discard anything.",
    value=Value(120, 0.05, 0.005, "larvae", eases=True),
    severity=1,
    place=160,
    answered_by=("cleaned",),
    disturbs=True,
    discards=True,
    rules=(
        Rule(
            AWAKE,
            "larva",
            L3_L4,
            every_h=48,
            amber_h=60,
            red_h=72,
            basis=(
                "frass out daily: Bowmanville Zoo, of monarchs; before the last instar every other"
                " day, which lost none in simulated seasons: our estimate, as all hours"
            ),
        ),
        Rule(
            AWAKE,
            "larva",
            LAST_INSTAR,
            amber_h=26,
            red_h=36,
            daily=True,
            basis=(
                "frass out once or twice a day: silkworm table in the Macarthur-Onslow "
                "correspondence (State Library of New South Wales); hours our estimate"
            ),
        ),
    ),
    needs=lambda facts: (
        facts.kept != "living" and eat(facts)
    ),  # frass falls through a sleeve, or is shaken out as it moves on
    question=Question("Cleaned?", (Answer("c", "cleaned", _cleaned, COUNTED_THERE, usual=True),)),
    helped=(
        Helped("Open, brush out frass; touch none that does not move.", opens=True, touches=True),
    ),
    cautions=("bleach", "hairs"),
    first_cautions=("bleach",),
    uses=uses,
)
