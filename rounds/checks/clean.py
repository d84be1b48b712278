"""Cleaning: frass out."""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec.structs import replace

from rounds.bench.folding.signs import MOULDY
from rounds.bench.state import Bench, Container
from rounds.checks.answers import say
from rounds.checks.base import Check, Helped, SupplyUse, Value
from rounds.checks.dryness import deficit_kpa
from rounds.checks.due_state import Due
from rounds.checks.facts import (
    CLEANED_OUT,
    L3_L4,
    LAST_INSTAR,
    Condition,
    ContainerContext,
    eat,
    left_be_until,
)
from rounds.checks.moult import MOULT_EXPECTED
from rounds.checks.question import Answer, Question
from rounds.checks.reckon import TimedRule, from_sign, plain
from rounds.checks.rule import AWAKE, COMMON, Rule, hours
from rounds.checks.stems import eaters
from rounds.entries import registry as k
from rounds.surroundings.air import DRYING_KPA

DIRTY_STEMS = 4.0  # eaten in a cup, they make it want cleaning; our estimate, no source
# In air that dries frass moulds later: up to twice as many stems, where the air was read to take
# ``DRYING_KPA`` or more; our estimate, no source. Mould or wet walls, once seen, wait for none
# of it.
MOST_IN_DRY_AIR = 2.0
MOST_DAYS = 3  # a closed tub is cleaned every two to three days; see the protocols
LATER = (
    f"it can wait until {DIRTY_STEMS:g} stems are eaten ({MOST_IN_DRY_AIR * DIRTY_STEMS:g} in dry"
    f" air), {MOST_DAYS} days at most, as a closed tub does; hours are our estimate"
)
WET = Condition(
    "mould or wet walls seen",
    lambda facts: facts.sign in MOULDY and not facts.flags & CLEANED_OUT,
)
# It takes no number: before the same key it is stems at the question on food, and a count that
# nobody asks for would make larvae missing.
CLEANED = Question("Did you clean it?", (Answer("c", "cleaned", say(k.Cleaned), usual=True),))


def uses(bench: Bench, container: Container, due: Due, at: datetime) -> list[SupplyUse]:
    """A piece of lining, where there is any."""
    lining = container.lining
    return [SupplyUse(at, "lining", lining, 1, container.code)] if lining else []


def reckon(context: ContainerContext, rule: TimedRule) -> Due:
    """As any check, but later where less is eaten than makes a cup dirty in a day; of a wet cup
    from when that was seen, until it was cleaned: then by what is eaten again."""
    wet = rule.rule.when == WET
    return from_sign(context, rule) if wet else _by_what_is_eaten(context, rule)


def _by_what_is_eaten(context: ContainerContext, rule: TimedRule) -> Due:
    """Frass is as much as is eaten: a cup in which little is, is cleaned every third day; after
    whole days, so that it is done as the larvae are looked at."""
    due = plain(context, rule)
    if not rule.rule.adapts:
        return due
    every = rule.every or timedelta(days=1)
    a_day = sum(
        number * each for number, _, each in eaters(context.bench, context.container, rule.rule)
    )
    days = round(_dirty_stems(context) / a_day) if a_day else MOST_DAYS
    later = timedelta(days=min(days, MOST_DAYS)) - every
    if later <= timedelta(0):
        return due
    late, urgent = (None if at is None else at + later for at in (due.late, due.urgent))
    return replace(due, due=due.due + later, late=late, urgent=urgent)


def _dirty_stems(context: ContainerContext) -> float:
    """How many stems may be eaten until a cup wants cleaning, by how dry its air was read to be."""
    dryness = (deficit_kpa(context) or 0.0) / DRYING_KPA
    return DIRTY_STEMS * min(MOST_IN_DRY_AIR, max(1.0, MOST_IN_DRY_AIR * dryness))


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """Where some do not move, or may not, whether it was cleaned round them."""
    if container is None or now is None:
        return CLEANED
    seen = left_be_until(container, now) is not None or container.moult_seen is not None
    if not seen and MOULT_EXPECTED not in due.lasts:
        return CLEANED
    any_that = "those" if seen else "any"
    return replace(CLEANED, text=f"Did you clean round {any_that} that do not move?")


CHECK = Check(
    name="clean",
    undone=("not been cleaned", "has not been cleaned", "cleaning"),
    help="Count whenever you clean; check lid, seam and folds before you discard anything.",
    value=Value(120, 0.05, 0.01, "larvae", eases=True),
    severity=1,
    place=160,
    answered_by=("cleaned",),
    disturbs=True,
    around=True,
    discards=True,
    reckon=reckon,
    rules=(
        Rule(
            AWAKE,
            "larva",
            WET,
            **hours(0, late=12, urgent=24),
            severity=2,
            basis=(
                "damp frass and warmth bring disease: cleaned at once if mould or wet walls were"
                f" seen: {COMMON}; hours: our estimate; first"
                " and second instars only then: silkworms once or twice an instar (Tamil Nadu"
                " Agricultural University), but each cleaning may lose some so small"
            ),
        ),
        Rule(
            AWAKE,
            "larva",
            L3_L4,
            **hours(48, late=60, urgent=72),
            adapts=True,
            basis=(
                "frass out daily: Bowmanville Zoo, of monarchs; before the last instar every other"
                f" day, {LATER}"
            ),
        ),
        Rule(
            AWAKE,
            "larva",
            LAST_INSTAR,
            **hours(late=26, urgent=36),
            daily=True,
            adapts=True,
            basis=(
                "frass out once or twice a day: silkworm table in the Macarthur-Onslow "
                f"correspondence (State Library of New South Wales); {LATER}"
            ),
        ),
    ),
    needs=lambda facts: (
        facts.kept != "living" and eat(facts)
    ),  # frass falls through a sleeve, or is shaken out as it moves on
    question=CLEANED,
    ask=ask,
    helped=(
        Helped("Open, brush out frass; touch none that does not move.", opens=True, touches=True),
    ),
    cautions=("bleach", "hairs"),
    first_cautions=("bleach",),
    uses=uses,
)
