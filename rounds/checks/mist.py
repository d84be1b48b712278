"""A light spray on gauze or lining of eggs, kept stems, pupae and resting stock."""

from __future__ import annotations

from datetime import timedelta

from msgspec.structs import replace

from rounds.checks.answer_entries import say
from rounds.checks.base import Check, Helped
from rounds.checks.due_state import Due
from rounds.checks.facts import (
    HALF_GROWN,
    KEPT_STEMS,
    LATE_WINTER,
    SEALED,
    Condition,
    ContainerContext,
    DueContext,
)
from rounds.checks.question import Answer, Question
from rounds.checks.reckon import TimedRule, plain
from rounds.checks.rule import AWAKE, COMMON, DAY, WINTER, Rule
from rounds.checks.value import Value
from rounds.entries import registry as k
from rounds.entries.base import Purpose

EGGS: tuple[Purpose, ...] = ("eggs",)
DRY_PERCENT = 60.0  # humidity under which eggs are misted; our estimate, no source
# in air that is not dry they are misted at so many times the hours: water goes by the deficit of
# the air (Dalton's law), which at 70 % is half of that at 40 %; our estimate
SLOWER_IN_DAMP_AIR = 2
HOLDS = timedelta(days=7)  # so long a reading of the air tells of it; our estimate
EGGS_DRY = (
    "eggs dry in dry air: at 30 % all of Lopinga achine and 29 % of Pararge "
    "aegeria died (study of satyrid eggs, Ecological Entomology); a light "
    "spray onto gauze or lining, none onto them; at these hours where it was read to "
    f"be under {DRY_PERCENT:g} %, at twice as many elsewhere: hours and limit our estimate"
)


def reckon(reckoning: DueContext, context: ContainerContext, rule: TimedRule) -> Due:
    """Of eggs at twice the hours where the air was not read to be dry."""
    due = plain(reckoning, context, rule)
    if rule.rule.purposes != EGGS or due.since is None or _is_dry(reckoning, context):
        return due
    due_at, late, urgent = (
        None if at is None else due.since + SLOWER_IN_DAMP_AIR * (at - due.since)
        for at in (due.due, due.amber, due.red)
    )
    return replace(due, due=due_at or due.due, amber=late, red=urgent)


def _is_dry(reckoning: DueContext, context: ContainerContext) -> bool:
    """Whether the newest reading of humidity that tells of the container was low."""
    bench = reckoning.bench
    for place in bench.places_of(context.code):
        read = next(
            (air for air in reversed(bench.air.get(place, ())) if air.humidity_percent is not None),
            None,
        )
        if read is not None and not reckoning.moment.passed(read.at + HOLDS):
            return (read.humidity_percent or 0.0) < DRY_PERCENT
    return False


CHECK = Check(
    name="mist",
    undone=("not been misted", "has not been misted", "misting"),
    help="A light spray on gauze or lining.",
    value=Value(10, 1.0, 0.005, "eggs and pupae"),
    severity=1,
    place=220,
    answered_by=("misted",),
    disturbs=True,
    rules=(
        Rule(EGGS, "egg", every_h=36, amber_h=48, red_h=72, basis=EGGS_DRY),
        Rule(EGGS, when=KEPT_STEMS, every_h=36, amber_h=48, red_h=72, basis=EGGS_DRY),
        Rule(
            AWAKE,
            "pupa",
            every_h=36,
            amber_h=48,
            red_h=72,
            basis=f"light spray daily or every other day: {COMMON}; hours our estimate",
        ),
        Rule(
            WINTER,
            "pupa",
            Condition("early winter", lambda facts: not facts.flags & (LATE_WINTER | SEALED)),
            every_h=14 * DAY,
            amber_h=16 * DAY,
            red_h=21 * DAY,
            basis=(
                "every fortnight early in winter, under gauze: raisingbutterflies.org; sealed "
                "boxes never (silkmoths.bizland.com); hours our estimate"
            ),
        ),
        Rule(
            WINTER,
            "pupa",
            Condition(
                "late winter", lambda facts: facts.flags & (LATE_WINTER | SEALED) == LATE_WINTER
            ),
            every_h=7 * DAY,
            amber_h=16 * DAY,
            red_h=21 * DAY,
            basis=(
                "every week late in winter, under gauze: raisingbutterflies.org; sealed boxes "
                "never (silkmoths.bizland.com); hours our estimate"
            ),
        ),
        Rule(
            WINTER,
            "larva",
            HALF_GROWN,
            every_h=4 * DAY,
            amber_h=5 * DAY,
            red_h=7 * DAY,
            basis=(
                "half-grown larvae in diapause: every four days (raisingbutterflies.org);"
                " hours our estimate"
            ),
        ),
    ),
    reckon=reckon,
    needs=lambda facts: facts.kept != "living",  # a sleeve outdoors has rain and dew
    question=Question("Misted?", (Answer("v", "misted", say(k.Misted), usual=True),)),
    helped=(Helped("One light spray onto the gauze, no drops."),),
)
