"""Animals that a count did not see, until it is known what became of them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from msgspec.structs import replace

from rounds.bench.plurals import of_stage
from rounds.bench.state import Bench, Container
from rounds.checks.answers import DEAD, put_off
from rounds.checks.base import Check, RuleOf, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import DueContext, of_place
from rounds.checks.question import HOW_MANY, Answer, AnswerContext, Question, Says
from rounds.checks.reckon import make_place_due
from rounds.checks.round_clock import utc
from rounds.checks.rule import ESTIMATE, Rule
from rounds.entries import registry as k
from rounds.entries.base import Saying
from rounds.grouping import grouped

NOT_SEEN = of_place("not seen")


def of_bench(reckoning: DueContext, rule_of: RuleOf) -> Iterator[Due]:
    """One check a container and brood of which some were not seen, until it is settled."""
    bench = reckoning.bench
    missed = grouped(((one.container, one.brood), one) for one in bench.shortfalls)
    for (where, brood), those in missed.items():
        container = bench.at(where)
        rule = rule_of(NOT_SEEN.words, container) if container is not None else None
        if rule is not None:
            at, number = min(utc(one.at) for one in those), sum(one.number for one in those)
            reason = f"{of_stage(number, those[-1].stage)} of {brood} not seen"
            yield make_place_due(
                reckoning, rule, "container", where, at, subject=brood, reason=reason, seen=at
            )


def _settled(fate: str) -> Says:
    def says(context: AnswerContext) -> list[Saying]:
        here = [one for one in context.bench.shortfalls if one.container == context.due.where]
        number = sum(one.number for one in here) if context.whole is None else context.whole
        return [context.saying(k.Settled, fate=fate, number=number, **context.subject_brood)]

    return says


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """How many of one brood were not seen."""
    missed = [
        one for one in bench.shortfalls if (one.container, one.brood) == (due.where, due.subject)
    ]
    if not missed:
        return CHECK.question
    number = sum(one.number for one in missed)
    were, them = ("was", "it") if number == 1 else ("were", "them")
    which = of_stage(number, missed[-1].stage)
    return replace(CHECK.question, text=f"{which} {were} not seen. What became of {them}?")


CHECK = Check(
    name="balance",
    help="Check lid, seam and paper before you discard any.",
    value=Value(120, 1.0, 0.3),
    severity=2,
    place=100,
    answered_by=("settled", "counted"),
    closes="gone",
    goes_before=lambda other: other.discards,
    rules=(Rule(when=NOT_SEEN, every_h=0, amber_h=24, red_h=72, basis=ESTIMATE),),
    of_bench=of_bench,
    ask=ask,
    question=Question(
        "Some were not seen. What became of them?",
        (
            Answer("y", "found, alive", _settled("found"), HOW_MANY),
            replace(DEAD, says=_settled("dead")),
            Answer("l", "escaped", _settled("escaped"), HOW_MANY, must=True, loss=True),
            Answer("i", "taken", _settled("taken"), HOW_MANY, must=True, loss=True),
            Answer("c", "never there, miscounted", _settled("miscounted"), HOW_MANY, must=True),
            Answer("space", "still not seen", put_off(12, "still not seen"), usual=True),
        ),
    ),
)
