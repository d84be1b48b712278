"""The host plant of females that are to lay."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from itertools import pairwise
from typing import NamedTuple

from msgspec.structs import replace

from rounds.bench.state import Bench, Container, Host, Lot
from rounds.checks.answers import (
    ANOTHER_PLANT,
    LIMP,
    NEW_ADDED,
    changed,
    held_in,
    if_known,
    none_in,
    say,
    seen_failing,
    seen_through_lid,
)
from rounds.checks.base import Check, Helped, SupplyUse, Value
from rounds.checks.dryness import by_the_air, keeps_longer
from rounds.checks.due_state import Due
from rounds.checks.facts import WANTS_HOST, Condition, ContainerContext, DueContext, purpose_began
from rounds.checks.question import STEMS, Answer, AnswerContext, Question
from rounds.checks.reckon import (
    GRACE,
    TimedRule,
    applies_from,
    make_due,
    newest,
    next_asked,
    with_hours,
)
from rounds.checks.round_clock import utc
from rounds.checks.rule import COMMON, LAYING, Rule, hours
from rounds.checks.stems import as_eaten, stems_by_plant, stems_used
from rounds.entries import registry as k
from rounds.entries.base import ROOTED, Entry, Saying
from rounds.entries.registry import HostSeen

RED_PART = 1.5  # urgent at this many times the life the keeper gave a plant; our estimate
# late by then to take out what the last female left; our estimate
LEFT_STANDING = timedelta(hours=24)
# what stands in the container grows too old; asked of a helper besides the look at it
NEW_PLANT = "new plant"
POT = "pot"  # a plant with roots: water, and whether there is any left
IN_WATER = Condition("host in water", lambda facts: facts.kept in ("water", "fridge"))
CUT_DRY = Condition("host cut dry", lambda facts: facts.kept in ("dry", "damp paper"))
NO_HOST = Condition("no host", lambda facts: bool(facts.flags & WANTS_HOST) and facts.kept == "")


def about(reckoning: DueContext, lot: Lot) -> bool:
    """Females that lay on a plant."""
    return lot.sex != "male" and bool(reckoning.species[lot.brood].female & WANTS_HOST)


def reckon(context: ContainerContext, rule: TimedRule) -> Due | None:
    """Looked at each round, in water once a day; late by the age of what was cut first, or as soon
    as it was seen to fail.

    Where no female is, none lays: stems that bear eggs wait to be taken out and are never urgent by
    age, others are not asked about.
    """
    usual, cut, rule = rule, context.host, keeps_longer(context, rule)
    if cut is None:
        start = applies_from(context, rule)
        bare = context.container.bare_since
        since = start if bare is None else max(start, utc(bare))
        return make_due(context, rule, since, reason="no host")
    last = newest(context.container.last, rule.kinds)
    gone = context.container.females_left
    lays = context.container.females > 0
    if not lays and gone is None:
        return None
    # of whom or what is asked, before which nothing was too old for anybody
    came = utc(gone) if gone is not None else _females_since(context)
    looked = max(came, last_looked(context, rule, cut, last))
    start = utc(cut.cut) if rule.late is not None else looked
    amber, red = _life(context.bench, cut, rule)
    if not lays and cut.kept not in ROOTED:
        start, amber, red = looked, LEFT_STANDING, None
    late, worst = (None if span is None else max(came, start + span) for span in (amber, red))
    left = gone is not None and cut.kept not in ROOTED
    if not left and (not_looked_at := first_open(context.container.hosts)):
        return ask_how_old(context, rule, not_looked_at)
    reason = "no female here any more: search, then take out and keep" if left else ""
    seen = None
    for host in context.container.hosts:
        if host.state == "mouldy" or (host.state != "fresh" and not left):  # mould takes the eggs
            seen = utc(host.seen or host.put_in)
            reason = f"{host.plant} seen {host.state}"
            # said again, it is no fresher for that
            failed = max(came, utc(host.failed) if host.failed is not None else seen)
            late = failed if late is None or failed < late else late
            if rule.rule.when == IN_WATER and (worst is None or failed < worst):
                worst = failed
            break
    due = next_asked(context.moment, rule, looked)
    # seen fresh when it was old by the clock: until the next look
    if not seen and isinstance(last, HostSeen):
        late = due if late is not None and late <= looked else late
        worst = due if worst is not None and worst <= looked else worst
    if late is not None and late < due:
        due = late
    made = make_due(context, rule, start, last, due, cut.plant, reason, seen, late, worst)
    made = replace(made, urgent=None) if left else made
    if rule is usual or rule.late == usual.late or made.lasts or not (rule.late and usual.late):
        return made
    return replace(made, lasts=by_the_air(context, rule.late / usual.late, rule.late))


def _females_since(context: ContainerContext) -> datetime:
    """When the first of the females that are here came."""
    adults = context.container.lots_of("adult")
    came = (utc(lot.came) for lot in adults if lot.came and about(context.reckoning, lot))
    return min(came, default=utc(context.begun))


def first_open(hosts: list[Host]) -> Host | None:
    """A plant that nobody has looked at since it was listed, nor knows when it was cut."""
    return next((host for host in hosts if host.is_open), None)


def ask_how_old(context: ContainerContext, rule: TimedRule, plant: Host) -> Due:
    """Asked at once, for it may be old; late as a check of the round is."""
    at = utc(plant.put_in)
    reason = f"when {plant.plant} was cut is not known"
    return make_due(context, rule, at, None, at, plant.plant, reason, at, at + GRACE)


def _life(bench: Bench, cut: Host, rule: TimedRule) -> tuple[timedelta | None, timedelta | None]:
    """How long a cut host keeps, and when it is urgent: as the keeper said for the plant, else by
    the rule."""
    return _keepers_life(bench, cut) or (rule.late, rule.urgent)


def _keepers_life(bench: Bench, cut: Host) -> tuple[timedelta, timedelta] | None:
    known = bench.plants.get(cut.plant, {}).get(cut.kept)
    if known is None:
        return None
    return timedelta(hours=known.hours), timedelta(hours=RED_PART * known.hours)


class LeafAge(NamedTuple):
    """Until when the freshest leaf that larvae have is as good as fresh, and from when it is too
    old for food; of which plant, and how long it keeps from its cutting."""

    good_until: datetime
    food_until: datetime
    plant: str
    keeps: timedelta


def leaf_age(context: ContainerContext, rule: TimedRule) -> LeafAge | None:
    """How old cut leaf grows by the hours that stand in the plan for females: a plant keeps as long
    for larvae; None where it does not go by age, as ``known_leaf_age`` has it.

    Args:
        rule: any; its hours are not read.
    """
    beside = replace(context.container, purpose="laying")
    by_kept = {
        plan_rule.when: keeps_longer(context, with_hours(rule, plan_rule))
        for plan_rule in context.reckoning.rules_for(beside)
        if plan_rule.check == CHECK.name and plan_rule.when in (IN_WATER, CUT_DRY)
    }

    def usual(cut: Host) -> TimedRule | None:
        return by_kept.get(IN_WATER if cut.kept in ("water", "fridge") else CUT_DRY)

    return known_leaf_age(context.bench, context.container, usual)


def known_leaf_age(
    bench: Bench,
    container: Container,
    usual: Callable[[Host], TimedRule | None] = lambda cut: None,
) -> LeafAge | None:
    """The same by the keeper's hours of each plant; None where some is in that grows, that nobody
    knows when it was cut, that was seen to be good when it was old by then, or has no hours.

    Args:
        usual: the rule of a plant without hours of its own.
    """
    ages: list[LeafAge] = []
    for cut in container.hosts:
        if cut.failed is not None:
            continue
        life = _keepers_life(bench, cut) or ((by := usual(cut)) and (by.late, by.urgent))
        if not life or life[0] is None or cut.kept in ROOTED or cut.cut_not_known:
            return None
        good, food = life[0], life[1] or life[0]
        age = LeafAge(utc(cut.cut) + good, utc(cut.cut) + food, cut.plant, good)
        if cut.seen is not None and utc(cut.seen) >= age.good_until:
            return None
        ages.append(age)
    return max(ages, default=None)


def last_looked(
    context: ContainerContext, rule: TimedRule, cut: Host, last: Entry | None
) -> datetime:
    """When plants were last looked at, or came to be looked at for the purpose of now."""
    looked = utc(last.at) if last is not None else utc(cut.put_in)
    begun = purpose_began(context.container, rule.rule.purposes)
    return looked if begun is None or begun < looked else begun


def _taken_out(context: AnswerContext) -> list[Saying]:
    """All stems that stand there come out and are kept."""
    there = context.container.hosts if context.container else []
    cut = dict.fromkeys((host.plant, host.batch) for host in there if host.kept not in ROOTED)
    kept = held_in(context, "held")
    return [
        context.saying(k.HostOut, plant=plant, batch=batch, fate="held", **kept)
        for plant, batch in cut
    ]


_FRESH = Answer("space", "fresh", say(k.HostSeen, state="fresh"), usual=True)
_CHANGED = Answer("c", "changed, old kept", changed("held"), STEMS, touches=True)
_YELLOW = Answer("y", "yellow", say(k.HostSeen, state="yellow"))
_NONE_IN = none_in("No host plant is recorded here. Did you put one in?")
# A living tree or planted host stays: nothing is changed; a sleeve on it comes to another branch.
_THAT_GROWS = Question("How is the plant?", (_FRESH, LIMP, _YELLOW, ANOTHER_PLANT))
_STEMS_LEFT = Question(
    "No female is here any more. How are the stems that she sat on?",
    (Answer("v", "out and kept", _taken_out), _FRESH, NEW_ADDED, LIMP, _YELLOW, ANOTHER_PLANT),
)


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """Of nothing in, of a plant that grows, of stems that the last female left."""
    if container is None:
        return CHECK.question
    if not container.hosts:
        return if_known(_NONE_IN, bench, container)
    if all(host.kept == "living" for host in container.hosts):
        return _THAT_GROWS
    asked = _STEMS_LEFT if container.females_left is not None else CHECK.question
    fails = any(host.state != "fresh" for host in container.hosts)
    return seen_failing(asked) if fails else asked


def glance(bench: Bench, due: Due, container: Container, now: datetime) -> str:
    """That what stands there is fresh, where it was not seen to fail and is not long past its
    time."""
    is_old = due.urgent is not None and due.urgent <= now
    return "" if due.reason or is_old or not container.hosts else "host plant fresh"


def done_at(container: Container, due: Due, rounds: list[datetime]) -> list[datetime]:
    """It is cut anew in the last round before it is past its time; where no female is, none is
    cut."""
    is_cut = any(host.kept not in ROOTED for host in container.hosts)
    if not is_cut or not container.females or due.late is None:
        return []
    life = timedelta(hours=(due.rule and due.rule.amber_h) or 24)
    if not due.reason and due.since is not None and due.late > due.since:
        life = due.late - due.since
    instants: list[datetime] = []
    past = due.late
    for begins, following in pairwise(rounds):
        if past < following:
            instants.append(begins)
            past = begins + life
    return instants


def uses(bench: Bench, container: Container, due: Due, at: datetime) -> list[SupplyUse]:
    """As much of each plant as stands there now."""
    result: list[SupplyUse] = []
    for plant, number in stems_by_plant(container).items():
        there = [host for host in container.hosts if as_eaten(host) == plant]
        of_it = [host for host in there if host.kept not in ROOTED]
        about = "" if all(host.sprigs for host in of_it) else "about "
        words = f"{container.code} holds {about}{number} now"
        result += stems_used(at, plant, number, words, of_it[-1].kept == "water")
    return result


CHECK = Check(
    name="host",
    help="Limp, yellow or mouldy wants changing, whatever its age.",
    value=Value(45, 0.15, 0.5, "eggs to be laid"),
    severity=2,
    place=110,
    answered_by=("host in", "host seen"),
    closes="better",
    discards=True,
    coming="change cut",
    rules=(
        Rule(
            LAYING,
            when=CUT_DRY,
            each_round=True,
            **hours(late=24, urgent=36),
            basis=f"cut host without water: changed daily, sooner when limp; {COMMON}",
        ),
        Rule(
            LAYING,
            when=IN_WATER,
            daily=True,
            **hours(late=48, urgent=72),
            adapts=True,
            basis=(
                "cut host in water: two days, up to three in air that was read to be damp, sooner"
                f" when limp; seen once a day with the look: {COMMON}"
            ),
        ),
        Rule(
            LAYING,
            when=Condition("host potted", lambda facts: facts.kept in ROOTED),
            each_round=True,
            basis=(
                "a potted or living host stays: changed daily (production sheet of the large"
                " white) or weekly with its eggs (Houston Museum of Natural Science 2008); looked"
                " at each round: our estimate"
            ),
        ),
        Rule(
            LAYING,
            "adult",
            NO_HOST,
            **hours(0, late=6, urgent=24),
            basis=(
                "she cannot choose what is not there; full of eggs she takes poorer "
                "plants (Odendaal & Rausher 1990, of Battus philenor); hours: our estimate"
            ),
        ),
    ),
    about=about,
    reckon=reckon,
    glance=glance,
    question=Question(
        "How is the host plant?", (_FRESH, NEW_ADDED, _CHANGED, LIMP, _YELLOW, ANOTHER_PLANT)
    ),
    ask=ask,
    through_lid=lambda question, container: seen_through_lid(
        question, "How is the host plant, seen through the lid?"
    ),
    helped=(
        Helped(
            "Plant limp? Open, add stems of {}.",
            opens=True,
            touches=True,
            plant=True,
            within=(NEW_PLANT,),
            also_by=(NEW_PLANT, POT),
        ),
        Helped("Open, add fresh {}.", NEW_PLANT, opens=True, touches=True, plant=True),
        Helped("", POT, opens=True, touches=True),
    ),
    cautions=("blades", "insecticide"),
    first_cautions=("blades",),
    done_at=done_at,
    uses=uses,
)
