"""Searching for eggs."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from msgspec.structs import replace

from rounds.bench.folding.searches import unsearched
from rounds.bench.kept_lots import SAME_STOP
from rounds.bench.state import Bench, Container, Lot, Unsure
from rounds.checks.answers import say
from rounds.checks.base import Check, Value
from rounds.checks.dryness import keeps_longer
from rounds.checks.due_state import Due
from rounds.checks.facts import (
    FEMALE,
    FEMALES_LEFT,
    SEARCHED_OUT,
    ContainerContext,
    DueContext,
    Facts,
    has,
)
from rounds.checks.question import EGGS_FOUND, Answer, AnswerContext, Number, Question, Says
from rounds.checks.reckon import TimedRule, applies_from, make_due, next_asked, plain
from rounds.checks.round_clock import Moment, utc
from rounds.checks.rule import COMMON, LAYING, Rule, hours
from rounds.entries import registry as k
from rounds.entries.base import Entry, Saying

NOT_SURE = Number("how many, not sure", "some")
SEARCH_AID = "search aid"  # the setting that remembers with what was searched last
AIDS = ("naked eye", "lens", "macro photo")
SEARCHES_TELL = has("eggs found since she came, or none in two searches", SEARCHED_OUT)
LEFT = has("females left", FEMALES_LEFT)


def needs(facts: Facts) -> bool:
    """Females, or stems on which they sat."""
    return bool(facts.stages & FEMALE or facts.flags & FEMALES_LEFT)


def about(reckoning: DueContext, lot: Lot) -> bool:
    """All that may be a female."""
    return lot.sex != "male"


def reckon(context: ContainerContext, rule: TimedRule) -> Due | None:
    """As any check, but each plant has its own search; of stems that the last female left, once
    since she left them."""
    container, rule = context.container, keeps_longer(context, rule)
    left = container.females_left if rule.rule.when == LEFT else None
    if left is not None:
        return _of_stems_left(context, rule, left)
    waits = unsearched(container)
    if not waits:
        return plain(context, rule)
    begun = applies_from(context, rule)
    since = {plant: max(utc(wait.since), begun) for plant, wait in waits.items()}
    oldest = min(since, key=since.__getitem__)
    start, last = since[oldest], waits[oldest].last
    asked = {plant: next_asked(context.moment, rule, at) for plant, at in since.items()}
    alike = len(set(asked.values())) == 1 or context.moment.passed(max(asked.values()))
    plant = "" if alike else oldest
    stands = min(
        max(since[host.plant], utc(host.put_in))
        for host in container.hosts
        if plant in ("", host.plant)
    )
    return _of_plant(context, rule, plant, start, last, stands=stands)


def _of_stems_left(context: ContainerContext, rule: TimedRule, left: datetime) -> Due | None:
    sat_on = [host for host in context.container.hosts if host.stood_until is not None]
    waits = unsearched(context.container, sat_on)
    open_ = [
        plant
        for plant, wait in waits.items()
        if wait.last is None or wait.last.at < left - SAME_STOP
    ]
    if not open_:
        return None
    plant = open_[0] if len(open_) < len(waits) else ""
    why = "no female here any more"
    return _of_plant(context, rule, plant, utc(left), waits[open_[0]].last, why)


def _of_plant(
    context: ContainerContext,
    rule: TimedRule,
    plant: str,
    start: datetime,
    last: Entry | None,
    reason: str = "",
    stands: datetime | None = None,
) -> Due:
    """A search of one plant, or of all of them where none is named."""
    reason = "; ".join(one for one in (f"{plant} not searched" if plant else "", reason) if one)
    return make_due(context, rule, start, last, subject=plant, reason=reason, stands=stands)


def another_waits(bench: Bench, container: Container, due: Due, moment: Moment) -> bool:
    """Whether one of several plants is still to be searched before the next round, though others
    were in this one."""
    return bool(due.subject) and due.due < moment.next_anchor(moment.now)


def last_words(bench: Bench, container: Container, moment: Moment) -> str:
    """When each of several plants was last searched."""
    waits = unsearched(container)
    if len({wait.since for wait in waits.values()}) < 2:
        return ""
    return ", ".join(
        f"{plant} {moment.clock(wait.last.at) if wait.last else 'not yet'}"
        for plant, wait in waits.items()
    )


def aid_of(bench: Bench) -> str:
    """With what eggs are searched for, until another aid is named."""
    aid = bench.settings.get(SEARCH_AID, "")
    return aid if aid in AIDS else AIDS[0]


def _found(context: AnswerContext, aid: str = "") -> list[Saying]:
    """Eggs found; right after stems came out they are on those, as the desk's own defaults say."""
    return [_searched(context, found=context.whole or 0, **({"aid": aid} if aid else {}))]


def _searched(context: AnswerContext, **fields: Any) -> Saying:
    """A search, by the aid of now unless another is named, of the plant that alone is asked of."""
    plant = {"plant": context.due.subject} if context.due.subject else {}
    return context.saying(k.Searched, **{"aid": aid_of(context.bench)} | fields | plant)


def _search_with(aid: str) -> Says:
    """With what is searched from now on; a number before the key is what was found with it."""
    setting: Saying = (k.Setting, {"name": SEARCH_AID, "value": aid})
    return lambda context: [setting, *(_found(context, aid) if context.number is not None else [])]


def _not_sure(context: AnswerContext) -> list[Saying]:
    return [_searched(context, found=0, unsure=context.whole)] if context.whole else []


def settled(eggs: int, unsure: Unsure) -> Says:
    """What may be eggs is: so many of it."""
    where = {"plant": unsure.plant, "lots": unsure.lots}
    told = {name: value for name, value in where.items() if value}
    return say(k.Searched, found=eggs, confirmed=True, **told)


def unsure_words(container: Container) -> str:
    """What is asked about first of what may be eggs: ``the 2 unsure``, of several on which
    plant."""
    first = container.unsure[0]
    on = f" on {first.plant}" if len(container.unsure) > 1 and first.plant else ""
    return f"the {first.number} unsure{on}"


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """How many eggs; what is not sure is a number of its own, and is asked about until it is
    settled."""
    unsure = next(iter(container.unsure), None) if container else None
    more = [Answer("v", "seen, not sure", _not_sure, NOT_SURE, must=True)]
    if container and unsure:
        are = f"{unsure_words(container)} are eggs"
        more += [
            Answer("y", are, settled(unsure.number, unsure), stays=True),
            Answer("r", "they are none", settled(0, unsure), stays=True),
        ]
    on_plant = f" on {due.subject}" if due.subject else ""
    text = f"How many eggs found{on_plant}, by {aid_of(bench)}?"
    return replace(CHECK.question, text=text, answers=(*CHECK.question.answers, *more))


EXCHANGED = (
    "plants with eggs are exchanged daily for large whites (a production sheet, its maker not"
    " shown), eggs of regal fritillaries sorted within a week (ZooAmerica and Fort Indiantown Gap"
    " 2025)"
)
CHECK = Check(
    name="eggs",
    undone=("not been searched", "has not been searched", "search"),
    help="Searched and none found is an answer; not searched is not.",
    value=Value(180, 0.4, 0.05, "eggs to be laid"),
    severity=2,
    place=120,
    answered_by=("searched",),
    disturbs=True,
    rules=(
        Rule(
            LAYING,
            "adult",
            **hours(late=24, urgent=48),
            daily=True,
            basis=(f"searched every day: {EXCHANGED}; hours: our estimate"),
        ),
        Rule(
            LAYING,
            "adult",
            SEARCHES_TELL,
            **hours(48, late=54, urgent=72),
            adapts=True,
            basis=(
                "once she has laid on what stands there, or two searches in a row found none, as"
                " cut host is exchanged, every other day, up to every third in air that was read to"
                f" be damp: {EXCHANGED}; hours: our estimate"
            ),
        ),
        Rule(
            when=LEFT,
            **hours(0, late=24, urgent=48),
            basis=(
                f"stems that she sat on are searched once more when she is gone: {COMMON}; hours"
                " our estimate"
            ),
        ),
    ),
    needs=needs,
    about=about,
    reckon=reckon,
    partly=another_waits,
    last_words=last_words,
    question=Question(
        "How many eggs found?",
        (
            Answer("0", "none", _found, EGGS_FOUND, by_enter=True),
            Answer("e", "by eye", _search_with("naked eye"), EGGS_FOUND, stays=True),
            Answer("g", "by lens", _search_with("lens"), EGGS_FOUND, stays=True),
            Answer("p", "by photo", _search_with("macro photo"), EGGS_FOUND, stays=True),
        ),
    ),
    ask=ask,
)
