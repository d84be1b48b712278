"""A permit that ends."""

from __future__ import annotations

from collections.abc import Iterator

from rounds.bench.permits import ends_at
from rounds.checks.answers import unchanged
from rounds.checks.base import Check, RuleOf, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import DueContext, of_place
from rounds.checks.question import Question
from rounds.checks.reckon import make_limit_due
from rounds.checks.round_clock import utc
from rounds.checks.rule import DAY, ESTIMATE, Rule, hours

LIMIT = of_place("limit")


def of_bench(reckoning: DueContext, rule_of: RuleOf) -> Iterator[Due]:
    """Every permit that is not given back."""
    rule = rule_of(LIMIT.words)
    for permit in reckoning.bench.permits.values():
        ends = ends_at(permit)
        if ends is not None and not permit.closed and rule is not None:
            yield make_limit_due(reckoning, rule, "book", "", utc(ends), permit, permit.number)


CHECK = Check(
    name="permit",
    help="Ask the body that issued it. If it is over or given back: permit, its number, closed.",
    value=Value(60, 1.0, 0.0, "nothing"),
    severity=2,
    place=280,
    answered_by=("permit",),
    own_end=True,
    coming="permit ends",
    rules=(
        Rule(
            when=LIMIT,
            **hours(7 * DAY, late=DAY, urgent=0),
            before_limit=True,
            basis=f"the permit's own end; asked a week before, {ESTIMATE}",
        ),
    ),
    of_bench=of_bench,
    question=Question("A permit ends soon.", (unchanged("seen"),)),
    cautions=("protected",),
)
