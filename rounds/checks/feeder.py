"""The feeder: sugar that stands in a container."""

from __future__ import annotations

from datetime import datetime

from msgspec.structs import replace

from rounds.bench.state import Bench, Container
from rounds.checks import drink
from rounds.checks.answers import say
from rounds.checks.base import Check, Helped, SupplyUse, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import ContainerContext, are_fed
from rounds.checks.question import Answer, AnswerContext, Question
from rounds.checks.reckon import TimedRule, plain
from rounds.checks.round_clock import utc
from rounds.checks.rule import LAYING_OR_PAIRING, Rule, hours
from rounds.entries import registry as k
from rounds.entries.base import Saying

ML_A_FEEDER = 2.0  # our estimate


def uses(bench: Bench, container: Container, due: Due, at: datetime) -> list[SupplyUse]:
    """Solution and a swab."""
    code = container.code
    solution = SupplyUse(at, "solution", "", ML_A_FEEDER, f"{code} feeder {ML_A_FEEDER:g}")
    return [solution, SupplyUse(at, "swabs", "", 1, f"{code} feeder")]


def reckon(context: ContainerContext, rule: TimedRule) -> Due:
    """Counts from when it was changed; late at once where it was seen dry, sour or mouldy since."""
    due = plain(context, rule)
    failed, seen = context.container.feeder_failed, context.container.last.get("feeder seen")
    if failed is None or not isinstance(seen, k.FeederSeen):
        return due
    at = utc(failed)
    return replace(due, due=min(due.due, at), late=at, reason=f"feeder seen {seen.state}")


def _fed_by_hand(context: AnswerContext) -> list[Saying]:
    """Said once: no feeder of this book is asked about, until the plan asks again."""
    return [(k.PlanChanged, {"check": CHECK.name, "off": True, "why": "all are fed by hand"})]


CHECK = Check(
    name="feeder",
    help="Sugar on the bench sours or moulds within a day or two.",
    value=Value(60, 1.0, 0.01, "females"),
    severity=1,
    place=90,
    answered_by=("feeder changed",),
    disturbs=True,
    rules=(
        Rule(
            LAYING_OR_PAIRING,
            "adult",
            **hours(late=30, urgent=48),
            daily=True,
            basis=(
                "swab or tissue fresh every day: Houston Museum of Natural Science 2008, "
                "of longwings; hours: our estimate"
            ),
        ),
    ),
    needs=are_fed,
    reckon=reckon,
    about=drink.takes_food,
    question=Question(
        "How is the feeder?",
        (
            Answer("c", "changed", say(k.FeederChanged), usual=True),
            Answer("s", "none stands here, all are fed by hand", _fed_by_hand),
        ),
    ),
    helped=(
        Helped(
            "Open, put in a fresh wet sugar pad.",
            opens=True,
            pad=True,
            within=(drink.CHECK.name,),
            also_by=(drink.CHECK.name,),
        ),
    ),
    uses=uses,
)
