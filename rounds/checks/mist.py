"""A light spray on gauze or lining of eggs, kept stems, pupae and resting stock."""

from __future__ import annotations

from datetime import datetime

from msgspec.structs import replace

from rounds.bench.state import Container
from rounds.checks.answers import say
from rounds.checks.base import Check, Helped, Value
from rounds.checks.dryness import by_the_air, times_as_long
from rounds.checks.due_state import Due
from rounds.checks.facts import (
    HALF_GROWN,
    KEPT_STEMS,
    LATE_WINTER,
    SEALED,
    Condition,
    ContainerContext,
)
from rounds.checks.question import Answer, Question
from rounds.checks.reckon import TimedRule, plain
from rounds.checks.round_clock import utc
from rounds.checks.rule import AWAKE, COMMON, DAY, LAYING, WINTER, Rule, hours
from rounds.entries import registry as k
from rounds.entries.base import Purpose
from rounds.surroundings.air import DRYING_KPA

# Where eggs and kept stems dry out: where females lay fresh stems stand in water beside them.
DRY_OUT: tuple[Purpose, ...] = tuple(purpose for purpose in AWAKE if purpose not in LAYING)
# By how dry the air was read to be, no less than two thirds of the hours (once a day) and no more
# than twice; eggs where nobody read it are misted at twice the hours. Our estimate.
SOONEST, SLOWEST = 2 / 3, 2.0
BY_THE_AIR = (
    f"for air of {DRYING_KPA:g} kPa deficit (20 C, 50 %), shorter if it was read to be drier and"
    " longer if damper"
)
EGGS_DRY = (
    "eggs dry in dry air: at 30 % all of Lopinga achine and 29 % of Pararge "
    "aegeria died (study of satyrid eggs, Ecological Entomology); a light "
    "spray onto gauze or lining, none onto them; hours: our estimate, from when they were laid for "
    "those that came since, "
    f"{BY_THE_AIR}, twice as long if nobody read it"
)


def reckon(context: ContainerContext, rule: TimedRule) -> Due:
    """Of those awake by how dry the air was read to be."""
    due = plain(context, rule)
    if not rule.rule.adapts or due.since is None:
        return due
    times = times_as_long(context, SOONEST, SLOWEST)
    if times is None:
        times = 1.0 if context.container.count("pupa") else SLOWEST
    due_at, late, urgent = (
        None if at is None else due.since + times * (at - due.since)
        for at in (due.due, due.late, due.urgent)
    )
    due = replace(due, due=due_at or due.due, late=late, urgent=urgent)
    if times != 1.0 and not due.lasts:
        due = replace(due, lasts=by_the_air(context, times, times * rule.every))
    dry = _came_dry(context.container)
    if dry is None:
        return due
    laid, came = dry
    return replace(due, due=min(due.due, max(came, laid + times * rule.every)))


def _came_dry(container: Container) -> tuple[datetime, datetime] | None:
    """From when on the first of the eggs may have been laid that came since the last spray, on kept
    stems too, and when they came: where they were laid nobody misted them. None where none came
    since."""
    misted = container.last.get("misted")
    dry = [
        (utc(laid), utc(lot.came))
        for lot in container.lots_of("egg")
        if (laid := lot.begun_after or lot.since) is not None
        and lot.came is not None
        and (misted is None or lot.came > misted.at)
    ]
    dry += [
        (utc(held.offered), utc(held.came))
        for held in container.held
        if held.female_days and (misted is None or held.came > misted.at)
    ]
    return min(dry, default=None)


CHECK = Check(
    name="mist",
    undone=("not been misted", "has not been misted", "misting"),
    help="A light spray on gauze or lining.",
    value=Value(10, 1.0, 0.01, "eggs and pupae"),
    severity=1,
    place=220,
    answered_by=("misted",),
    disturbs=True,
    along=True,
    rules=(
        Rule(DRY_OUT, "egg", every_h=36, amber_h=48, red_h=72, adapts=True, basis=EGGS_DRY),
        Rule(
            DRY_OUT, when=KEPT_STEMS, every_h=36, amber_h=48, red_h=72, adapts=True, basis=EGGS_DRY
        ),
        Rule(
            AWAKE,
            "pupa",
            **hours(36, late=48, urgent=72),
            adapts=True,
            basis=(
                f"light spray daily or every other day: {COMMON}; hours: our estimate, {BY_THE_AIR}"
            ),
        ),
        Rule(
            WINTER,
            "pupa",
            Condition("early winter", lambda facts: not facts.flags & (LATE_WINTER | SEALED)),
            **hours(14 * DAY, late=16 * DAY, urgent=21 * DAY),
            basis=(
                "every fortnight early in winter, under gauze: raisingbutterflies.org; sealed "
                "boxes never (silkmoths.bizland.com); hours: our estimate"
            ),
        ),
        Rule(
            WINTER,
            "pupa",
            Condition(
                "late winter", lambda facts: facts.flags & (LATE_WINTER | SEALED) == LATE_WINTER
            ),
            **hours(7 * DAY, late=16 * DAY, urgent=21 * DAY),
            basis=(
                "every week late in winter, under gauze: raisingbutterflies.org; sealed boxes "
                "never (silkmoths.bizland.com); hours: our estimate"
            ),
        ),
        Rule(
            WINTER,
            "larva",
            HALF_GROWN,
            **hours(4 * DAY, late=5 * DAY, urgent=7 * DAY),
            basis=(
                "half-grown larvae in diapause: every four days (raisingbutterflies.org);"
                " hours: our estimate"
            ),
        ),
    ),
    reckon=reckon,
    needs=lambda facts: facts.kept != "living",  # a sleeve outdoors has rain and dew
    question=Question("Did you mist it?", (Answer("v", "misted", say(k.Misted), usual=True),)),
    helped=(Helped("One light spray onto the gauze, no drops."),),
)
