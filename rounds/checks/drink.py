"""Adults that are fed: did they drink?"""

from __future__ import annotations

from datetime import datetime

from msgspec.structs import replace

from rounds.bench.folding.hunger import fed_lots, of_this_feed
from rounds.bench.state import Bench, Container, Hunger, Lot
from rounds.checks.answers import (
    DEAD,
    DRANK,
    HOW_MANY_DRANK,
    LID_STAYS_ON,
    grown,
    or_opened,
    say,
    with_number,
)
from rounds.checks.base import Check, Helped, SupplyUse, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import (
    EMERGING,
    FED,
    FED_AT_NIGHT,
    UNFED,
    ContainerContext,
    DueContext,
    are_fed,
    has,
    purpose_began,
)
from rounds.checks.question import HOW_MANY, Answer, AnswerContext, Question
from rounds.checks.reckon import TimedRule, make_due
from rounds.checks.round_clock import Moment, utc
from rounds.checks.rule import COMMON, DANGER, WARM, Rule, hours, is_of_the_night
from rounds.checks.time_format import span
from rounds.entries import registry as k
from rounds.entries.base import Saying
from rounds.forecasts.tonight import is_open_lid
from rounds.grouping import summed

THROUGH = "drink through"  # a drink through the gauze of a container that is not to be opened
ML_A_DRINK = 0.5  # for each animal fed by hand; our estimate
FIRST_FEED = has("first feed", UNFED)


def takes_food(reckoning: DueContext, lot: Lot) -> bool:
    """Whether adults of a lot are fed."""
    return bool(reckoning.species[lot.brood].adult & FED)


def reckon(context: ContainerContext, rule: TimedRule) -> Due:
    """Counts from when the one that waits longest drank, wherever that was; not from when food was
    offered.

    Those that never drank are due in the present round; late and urgent count from when they came.
    """
    adults = context.container.lots_of("adult")
    fed = [lot for lot in adults if takes_food(context.reckoning, lot)]
    hungry = [hunger for lot in fed for hunger in lot.hunger]
    began = purpose_began(context.container, rule.purposes)

    def since(waiting: list[Hunger]) -> datetime:
        first = utc(min(one.since for one in waiting))
        return first if began is None or began < first else began

    start = since(hungry)
    never = [one for one in hungry if not one.drank]
    is_new = context.container.purpose in EMERGING
    at_once = never and not is_new and rule.rule.when not in (FIRST_FEED, FED_AT_NIGHT)
    due = since(never) if at_once else None
    if not at_once and is_of_the_night(rule.rule):
        due = context.moment.next_last_round(start)
    return make_due(context, rule, start, context.container.last.get("drank"), due)


def drank_words(bench: Bench, container: Container, moment: Moment) -> str:
    """Who of a container drank, where they did not all drink here: ``2 of 4 drank 12 h ago, 2 not
    yet``.

    Of several lots nobody may know which drank: ``3 of 4 drank, not known which, the others not
    yet``, or when all had.
    """
    lots = fed_lots(bench, container)
    there = sum(lot.number for lot in lots)
    if container.drank_part:
        all_drank = "the others not yet"
        if container.all_drank is not None:
            all_drank = f"all of them last {moment.clock(container.all_drank)}"
        drank_then = of_this_feed(bench, container, container.drank_part[-1][0])
        return f"{drank_then} of {there} drank, not known which, {all_drank}"
    drank = summed((one.since, one.number) for lot in lots for one in lot.hunger if one.drank)
    never = there - sum(drank.values())
    last = container.last.get("drank")
    if not drank or (not never and len(drank) == 1 and last is not None and last.at in drank):
        return ""
    words = [
        f"{number} of {there} drank {span(moment.now - at)} ago"
        for at, number in sorted(drank.items(), reverse=True)
    ]
    return ", ".join([*words, f"{never} not yet"] if never else words)


def only_some_drank(bench: Bench, container: Container, due: Due, moment: Moment) -> bool:
    """Whether only some drank, or one came that has not."""
    return due.due <= moment.now or bool(of_this_feed(bench, container, moment.now))


def through_lid(question: Question, container: Container) -> Question:
    """One that is thirsty can drink through gauze."""
    if not is_open_lid(container):
        return or_opened(question, container)
    return Question(
        "A drink through the gauze, the lid on?",
        (LID_STAYS_ON, replace(DRANK, by_enter=True), _OFFERED),
    )


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """After food that was put before them and not drunk, feeding by hand is the likeliest, and
    nothing is usual."""
    if container is None:
        return CHECK.question
    fed = fed_lots(bench, container)
    question = replace(CHECK.question, text=f"Did {who_drinks(fed)} drink?")
    taxa = {bench.taxon_of(lot.brood) for lot in fed}
    if not any(one.drank for lot in fed for one in lot.hunger) and len(taxa) == 1 and all(taxa):
        none_of_them = replace(_NONE_OF_THEM, sure=f"No adult of {taxa.pop()} takes any food?")
        question = replace(question, answers=(*question.answers, none_of_them))
    tried = [container.last[kind].at for kind in CHECK.closed_by if kind in container.last]
    drank = container.last.get("drank")
    if not tried or (drank is not None and drank.at >= max(tried)):
        return question
    answers = tuple(replace(answer, usual=False) for answer in question.answers)
    return replace(question, answers=answers, first=(_HAND_FED.key,))


def who_drinks(fed: list[Lot]) -> str:
    """They; of one alone she, he or it."""
    if sum(lot.number for lot in fed) != 1:
        return "they"
    return {"female": "she", "male": "he"}.get(fed[0].sex, "it")


def uses(bench: Bench, container: Container, due: Due, at: datetime) -> list[SupplyUse]:
    """Solution for each, and a swab."""
    animals = sum(lot.number for lot in fed_lots(bench, container))
    solution = SupplyUse(
        at, "solution", "", animals * ML_A_DRINK, f"{container.code} {animals} x {ML_A_DRINK:g}"
    )
    return [solution, SupplyUse(at, "swabs", "", 1, container.code)]


def _species_takes_none(context: AnswerContext) -> list[Saying]:
    """What is so of the species, said once: no container of it is asked for a drink any more."""
    assert context.container is not None
    fed = fed_lots(context.bench, context.container)
    taxon = context.bench.taxon_of(fed[0].brood)
    return [(k.Taxon, {"name": taxon, "no_adult_food": True})]


_HAND_FED = Answer(
    "h", "hand-fed", with_number(k.Drank, how="when helped"), HOW_MANY_DRANK, none=DRANK.none
)
_REFUSED = Answer("r", "refused", with_number(k.FoodRefused), HOW_MANY)
_OFFERED = Answer("o", "only offered", say(k.Offered))
_NONE_OF_THEM = Answer("e", "adults of this species take no food", _species_takes_none)
CHECK = Check(
    name="drink",
    undone=("not drunk", "has not drunk", "drink"),
    help="Counted from when she last drank, not from when food was offered.",
    value=Value(100, 1.0, 0.005, "females"),
    severity=3,
    place=80,
    answered_by=("drank",),
    closed_by=("refused", "offered"),
    rules=(
        Rule(
            WARM,
            "adult",
            **hours(12, late=14, urgent=24, danger=31),
            basis=(
                "fed morning and evening, once a day at the least: wild silverspots once "
                "a day (Oregon Zoo 1999, 2001); blues on water alone lived shorter and "
                "laid fewer eggs (King & Schultz 2024); no death hour is "
                "published; hours after the first our estimate, set early: she stops "
                "laying before she dies"
            ),
        ),
        Rule(
            WARM,
            "adult",
            FED_AT_NIGHT,
            **hours(late=28, urgent=36, danger=47),
            daily=True,
            basis=f"moths that feed from dusk on, at the last round of the day: {COMMON}; {DANGER}",
        ),
        Rule(
            EMERGING,
            "adult",
            FIRST_FEED,
            **hours(24, late=48, urgent=60, danger=72),
            basis=(
                "first food the day after emergence: monarchs seldom feed on the first and little"
                " on the second day unless it is over 24 C (University of Kansas monarch programme,"
                " reposted), Agraulis vanillae on three of its first five (May 1993); later hours"
                " our estimate"
            ),
        ),
        Rule(
            ("holding",),
            "adult",
            **hours(24, late=24, urgent=48, danger=62),
            basis=(
                "cool and dark, fed once a day: a keeper on the Leps-L list, October "
                "2000; brush-footed butterflies were stored up to 60 days (Seol, Kim & "
                "Hong 2005), but a bag is seldom so cold: later hours: our estimate"
            ),
        ),
        Rule(
            ("holding",),
            "adult",
            FED_AT_NIGHT,
            **hours(late=28, urgent=48, danger=62),
            daily=True,
            basis=(
                "cool and dark, moths that feed from dusk on, at the last round of the day:"
                f" {COMMON}; {DANGER}"
            ),
        ),
    ),
    needs=are_fed,
    about=takes_food,
    reckon=reckon,
    partly=only_some_drank,
    last_words=drank_words,
    question=Question(
        "Did they drink?",
        (
            replace(DRANK, by_enter=True, usual=True),
            _HAND_FED,
            _OFFERED,
            _REFUSED,
            replace(DEAD, says=grown(k.Died, stage="adult")),
        ),
    ),
    ask=ask,
    through_lid=through_lid,
    helped=(
        Helped(
            "Open, fresh wet sugar pad, hold each to it until it drinks.",
            opens=True,
            pad=True,
            also_by=(THROUGH,),
        ),
        Helped(
            "Lay a wet sugar pad on the gauze, take it off after an hour or at the next visit.",
            THROUGH,
            pad=True,
        ),
    ),
    uses=uses,
)
