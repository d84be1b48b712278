"""A tender leaf for young larvae, before they hatch."""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec.structs import replace

from rounds.bench.measures import measures_of
from rounds.bench.plants_of import taxa_in
from rounds.bench.state import Bench, Container
from rounds.checks import food, host
from rounds.checks.answers import ANOTHER_PLANT, HATCHED, or_opened, put_off
from rounds.checks.answers import DARKENING as SEEN_DARKENING
from rounds.checks.base import Check, Helped, SupplyUse, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import DARKENING, Condition, ContainerContext, arrived
from rounds.checks.question import Answer, AnswerContext, Question
from rounds.checks.reckon import GRACE, TimedRule, by_species, make_due, most_pressing
from rounds.checks.round_clock import Moment, utc
from rounds.checks.rule import AWAKE, Rule, hours
from rounds.checks.stems import eaten_for, likely_hosts, saying_for_all
from rounds.entries import registry as k
from rounds.entries.base import Saying
from rounds.forecasts.stage_ends import ComingChange

# a leaf put in this long before eggs were seen to darken is still tender
LEAF_COUNTS_FROM = timedelta(hours=12)
# of a helper: eggs that may hatch and were not seen dark, a leaf as soon as any is dark or out
HATCH = "hatch"
# of a helper: the same for eggs that are not to be disturbed and hatch early
BESIDE = "leaf beside"
MAY_HATCH = Condition("may hatch", lambda facts: facts.sign != "darkening")
NO_LONGER = timedelta(days=1)  # after the last was expected; our estimate
# eggs that may hatch before the next round are looked at in that one too, however early it is
AGAIN_H = 6
LEAF_LASTS = timedelta(hours=48)  # older food is urgent to renew for the youngest; see the plan


def reckon(context: ContainerContext, rule: TimedRule) -> Due | None:
    """Counts from when eggs were seen to darken, until a leaf is in that is for them."""
    return most_pressing(
        due
        if due is None or one is context
        else replace(due, reason=f"{taxa_in(context.bench, one.container)[0]}: {due.reason}")
        for one in by_species(context, rule)
        for due in (_reckon(one, rule),)
    )


def _reckon(context: ContainerContext, rule: TimedRule) -> Due | None:
    if rule.rule.when == MAY_HATCH:
        return _before_hatch(context, rule)
    container = context.container
    since = utc(container.sign_since or container.since)
    if any(host.put_in >= since - LEAF_COUNTS_FROM for host in container.hosts):
        return None
    last = container.last.get("host in")
    return make_due(context, rule, since, last, reason="eggs are dark, no leaf is in", seen=since)


def _before_hatch(context: ContainerContext, rule: TimedRule) -> Due | None:
    """Due at the round before the first may hatch, which it does later in 95 of 100; late when the
    first is expected."""
    moment, container = context.moment, context.container
    last = container.last.get("host in")
    leaf_is_in = container.food_since is not None
    near = [
        (change.first, change)
        for change in context.foresight.coming(container)
        if change.change == "hatch"
        and change.first
        and container.count(brood=change.brood)
        and not (leaf_is_in and _is_long_past(change, moment))
    ]
    if not near:
        return None
    first, coming = min(near, key=lambda one: one[0])
    if container.has_food_enough and (container.food_since is None or container.count("larva")):
        return None  # it grows, or is renewed by the hours of those that eat
    hatched = arrived(container, "larva")
    if hatched is not None and not container.has_food:
        at = utc(hatched)
        reason = "some have hatched and no leaf is in"
        return make_due(context, rule, at, last, at, coming.brood, reason, at, at, at)
    may = coming.not_before or first
    likely = f", likely from {moment.clock(first)}" if may < first else ""
    rests_on = measures_of(context.bench.settings).in_words(
        coming.need.words if coming.need else ""
    )
    reason = f"may hatch at the earliest {moment.clock(may)}{likely}, {coming.own or rests_on}"
    if container.has_food:
        reason = f"{reason}; the plant in it is old"
    came = utc(arrived(container, "egg") or container.since)
    round_before = max(moment.previous_anchor(may), came)
    late = max(utc(first), came + GRACE)
    if container.food_since is not None:
        old = utc(container.food_since) + LEAF_LASTS
        renewed = moment.previous_anchor(old)
        if not moment.passed(renewed):
            return None
        round_before, late = max(round_before, renewed), max(late, old)
    # they may hatch any time: late once a round has gone by since they came
    if not coming.begun_known:
        late = max(late, moment.next_unserved(coming.begun_to))
    return make_due(
        context, rule, round_before, last, round_before, coming.brood, reason, None, late, None
    )


def _is_long_past(change: ComingChange, moment: Moment) -> bool:
    """Whether the last of them was expected days ago: a leaf that is in is not renewed for these,
    and a look shows if any darkens all the same."""
    return change.last is not None and moment.passed(utc(change.last) + NO_LONGER)


def glance(bench: Bench, due: Due, container: Container, now: datetime) -> str:
    """Before any was seen dark, that none needs a leaf yet."""
    ahead = due.rule is not None and due.rule.when == MAY_HATCH
    none_yet = ahead and container.sign != "darkening" and not container.count("larva")
    return "none needs a leaf yet" if none_yet else ""


def _put_in(context: AnswerContext) -> list[Saying]:
    leaf = {"part": "tender leaf", "kept": "damp paper", "sprigs": 1}
    return [
        context.saying(k.HostIn, plant=host.plant, **leaf)
        for host in likely_hosts(context.bench, context.container)
    ]


_LEAF_IN = Answer("a", "leaf put in", _put_in)
_NOT_YET = put_off(AGAIN_H, "eggs not dark yet")
_AHEAD = Question(
    "The first may hatch before the next round. Are they dark?",
    (
        Answer("space", "no leaf yet, none dark", _NOT_YET, usual=True),
        SEEN_DARKENING,
        _LEAF_IN,
        HATCHED,
    ),
)


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """Before they darken, whether they do; not where some have hatched."""
    ahead = due.rule is not None and due.rule.when == MAY_HATCH
    hatched = container is not None and container.count("larva")
    asked = _AHEAD if ahead and not hatched else CHECK.question
    return asked if container is None else saying_for_all(bench, container, asked)


def uses(bench: Bench, container: Container, due: Due, at: datetime) -> list[SupplyUse]:
    """A leaf of each plant."""
    return [
        SupplyUse(at, "sprigs", plant, 1, f"{container.code} 1 tender leaf")
        for plant in eaten_for(bench, container)
    ]


CHECK = Check(
    name="leaf",
    help="Eggs that darken hatch within a night; young larvae starve by morning without a leaf.",
    value=Value(25, 1.0, 0.5, "eggs about to hatch"),
    severity=3,
    place=140,
    answered_by=("host in",),
    not_yet="no leaf put in yet",
    closes="gone",
    before_leaving="if it comes",
    rules=(
        Rule(
            AWAKE,
            "egg",
            DARKENING,
            **hours(0, late=6, urgent=24, danger=30),
            basis=(
                "a leaf before they hatch: a silkworm's head shows 48 hours before at 25 "
                "C (Indian sericulture extension); 12 h used, to be safe; our estimate"
            ),
        ),
        Rule(
            AWAKE,
            "egg",
            MAY_HATCH,
            every_h=12,
            severity=2,
            computed=True,
            only_forecast=True,
            basis=(
                "a leaf at the round before the first is expected, our choice, no source; what is"
                " coming shows when"
            ),
        ),
    ),
    reckon=reckon,
    question=Question("Is a tender leaf in?", (_LEAF_IN, ANOTHER_PLANT, HATCHED)),
    ask=ask,
    glance=glance,
    through_lid=or_opened,
    helped=(
        Helped(
            "No fresh leaf in? Open, lay in one small leaf of {}.",
            opens=True,
            touches=True,
            plant=True,
            within=(food.CHECK.name,),
            also_by=(HATCH, food.CHECK.name),
        ),
        Helped(
            "Dark or hatched, no fresh leaf in? Open, lay in one small leaf of {}.",
            HATCH,
            opens=True,
            touches=True,
            plant=True,
            within=("leaf", food.CHECK.name, host.NEW_PLANT),
        ),
        Helped(
            "Some hatched, no fresh leaf in? Lift the lid, touch none, lay in beside them one small"
            " leaf of {}.",
            BESIDE,
            opens=True,
            touches=True,
            plant=True,
            within=(food.BESIDE,),
        ),
    ),
    cautions=("blades", "insecticide"),
    first_cautions=("blades",),
    uses=uses,
)
