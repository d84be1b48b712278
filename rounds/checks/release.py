"""One that was caught and whose time is up, by a permit or a promise."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import datetime
from typing import Any

from msgspec.structs import replace

from rounds.bench.permits import to_be_freed
from rounds.bench.state import Bench, Container
from rounds.checks.answers import counted_or_one, put_off, there
from rounds.checks.base import Check, RuleOf, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import DueContext, of_place
from rounds.checks.question import HOW_MANY, Answer, AnswerContext, Question
from rounds.checks.reckon import make_limit_due
from rounds.checks.round_clock import utc
from rounds.checks.rule import Rule, hours
from rounds.entries import registry as k
from rounds.entries.base import Saying

LIMIT = of_place("limit")


def of_bench(reckoning: DueContext, rule_of: RuleOf) -> Iterator[Due]:
    """Every female that must be free by a time; at the limit it is urgent, and for her that is the
    harm."""
    bench = reckoning.bench
    wanted = to_be_freed(bench)
    where = _containers_of(bench, wanted)
    for code, free in wanted.items():
        rule = rule_of(LIMIT.words, bench.at(where[code])) if code in where else None
        if rule is not None:
            until = utc(free.until)
            about = until, free.entry, code, free.reason, until
            yield make_limit_due(reckoning, rule, "container", where[code], *about)


def _containers_of(bench: Bench, wanted: Collection[str]) -> dict[str, str]:
    """Where those are that have a limit; a limit may also be a container's own."""
    if not wanted:
        return {}
    found = {code: code for code in wanted if bench.at(code) is not None}
    for container in bench.standing():
        for lot in container.lots:
            found.update({code: container.code for code in lot.codes if code in wanted})
    return found


def _released(context: AnswerContext) -> list[Saying]:
    founder = context.bench.founders.get(context.due.subject)
    place = founder.place if founder else ""
    if context.every:
        return [context.saying(k.Released, number=there(context, "adult"), place=place)]
    number = counted_or_one(context)
    return [context.saying(k.Released, number=number, place=place, **_subject(context))]


def _subject(context: AnswerContext) -> dict[str, Any]:
    """The female asked about; one of several, if nobody can tell her from the others there."""
    lots = context.container.lots if context.container else []
    mixed = next(
        (lot for lot in lots if context.due.subject in lot.codes and len(lot.codes) > 1), None
    )
    return {"among": mixed.codes} if mixed else context.subject_brood


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """Who is to be released, one founder or all in a container, and whether that day has gone."""
    founder = bench.founders.get(due.subject)
    whom = {"he": "him", "she": "her", "it": "it"}[founder.he_or_she] if founder else "them"
    over = now is not None and due.since is not None and due.since <= now
    day = f"The last day to release {whom} is over" if over else _LAST_DAY.format(whom)
    return replace(CHECK.question, text=f"{day}. Did you?")


_LAST_DAY = "This is the last day to release {}"


CHECK = Check(
    name="release",
    help="The limit of her permit, or the day promised.",
    value=Value(120, 1.0, 0.1),
    severity=3,
    place=40,
    answered_by=("released",),
    closes="gone",
    own_end=True,
    coming="release by",
    rules=(
        Rule(
            when=LIMIT,
            **hours(12, late=12, urgent=0),
            before_limit=True,
            basis=(
                "the limit that was logged for her, or the hours that her permit lets her be held"
            ),
        ),
    ),
    of_bench=of_bench,
    ask=ask,
    question=Question(
        f"{_LAST_DAY.format('her')}. Did you?",
        (
            Answer("r", "released", _released, HOW_MANY),
            Answer("space", "not yet", put_off(2, "not yet released"), usual=True),
        ),
    ),
    cautions=("release", "protected"),
    first_cautions=("release", "protected"),
)
