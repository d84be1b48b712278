"""Sugar solution that grows old while there are adults to feed."""

from __future__ import annotations

from collections.abc import Iterator

from rounds.checks.answers import put_off, say
from rounds.checks.base import Check, RuleOf, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import DueContext, of_place
from rounds.checks.question import Answer, Question
from rounds.checks.reckon import make_place_due
from rounds.checks.round_clock import utc
from rounds.checks.rule import DAY, Rule, hours
from rounds.entries import registry as k

IN_STOCK = of_place("solution")


def of_bench(reckoning: DueContext, rule_of: RuleOf) -> Iterator[Due]:
    """Every food that was made, by its age; none where nobody is fed."""
    bench, rule = reckoning.bench, rule_of(IN_STOCK.words)
    if (
        rule is None
        or not bench.food_made
        or not any(bench.is_fed(lot) for container in bench.standing() for lot in container.lots)
    ):
        return
    for food, at in bench.food_made.items():
        yield make_place_due(reckoning, rule, "book", "", utc(at), subject=food)


CHECK = Check(
    name="solution",
    help="Made fresh every three days, five at most; discard it if it is sour or beery.",
    value=Value(120, 1.0, 0.0, "nothing"),
    severity=1,
    place=270,
    answered_by=("food made",),
    rules=(
        Rule(
            when=IN_STOCK,
            **hours(3 * DAY, late=4 * DAY, urgent=5 * DAY),
            basis=(
                "fresh is taken before that of 4 to 5 days, older was unsuitable: David and"
                " Gardiner 1961, Pieris brassicae"
            ),
        ),
    ),
    of_bench=of_bench,
    question=Question(
        "The solution is old. Smell it.",
        (
            Answer("c", "made new", say(k.FoodMade)),
            Answer("space", "still sweet", put_off(24, "smelled, still sweet"), usual=True),
        ),
    ),
)
