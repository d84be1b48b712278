"""Food of larvae."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from typing import Any, NamedTuple

from msgspec.structs import replace

from rounds.bench.plants_of import PlantsOnRecord, taxa_in, with_plants_for
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Container, Eating, Host
from rounds.checks import host
from rounds.checks.answers import (
    ANOTHER_PLANT,
    LIMP,
    NEW_ADDED,
    changed,
    if_known,
    none_in,
    say,
    seen_failing,
    seen_through_lid,
)
from rounds.checks.base import Check, Helped, SupplyUse, Value
from rounds.checks.dryness import times_as_long
from rounds.checks.due_state import Due
from rounds.checks.early_discard import hidden_on_it, young_on_it
from rounds.checks.facts import (
    CROWDED,
    FIRST,
    KEPT_APART,
    L3_L4,
    LAST_INSTAR,
    YOUNG,
    Condition,
    ContainerContext,
    Facts,
    PlanRule,
    age_of,
    eat,
    facts_of,
)
from rounds.checks.question import STEMS, Answer, AnswerContext, Question
from rounds.checks.reckon import (
    TimedRule,
    begins_to_need,
    by_species,
    make_due,
    most_pressing,
    newest,
    with_hours,
)
from rounds.checks.round_clock import EARLY, utc
from rounds.checks.rule import AWAKE, Rule, hours
from rounds.checks.stems import (
    STEMS_A_DAY,
    UNFED,
    days_between,
    eaten_up,
    eaters,
    portions,
    saying_for_all,
    stems_used,
)
from rounds.entries import registry as k
from rounds.entries.base import ROOTED, Saying

BESIDE = "food beside"  # of a helper: food for those in a container that is not to be disturbed
UNFED_BASIS = (
    "young larvae unfed: more swallowtails died after one day, browns after "
    "one to four (study of satyrid eggs, Ecological Entomology); gypsy and "
    "nun moths lived a few days at 30 C (US Forest Service); hours: our "
    "estimate, for the weakest"
)
LAST_BASIS = "the last instars eat nearly all that a larva eats: silkworms four meals a day"
CANNIBALS = Condition(
    "last instar, several that eat each other",
    lambda facts: LAST_INSTAR.holds(facts) and KEPT_APART.holds(facts),
)
YOUNG_LARVAE = Condition("L1-L2", lambda facts: facts.larvae in (FIRST, YOUNG))
GROWING_WORDS = "plenty seen on a growing plant"
LONGEST_H = 24  # food by number is asked about once a day at least
# That of larvae before the last instar once it was put in, in water: there it lasts two to four
# days (trade practice, no source), two and a half in air that just begins to dry and half of that
# at least in drier, and they eat little; our estimate.
LONGEST_YOUNG_H, KEEPS_H, LEAST_IN_DRY_AIR = 48.0, 60.0, 0.5
# of the time that stems last by what a larva eats, as they differ; our estimate
SURELY_EATEN = 0.75
KEEPS = "keeps"  # said of cut leaf that grows old before it is eaten
HOUR = timedelta(hours=1)
FOREVER = datetime.max.replace(tzinfo=UTC)
SAME_FEEDING = timedelta(minutes=10)
# plenty on a growing plant lasts this many times as long as cut food; our estimate, no source
GROWING_PART = 3


def reckon(context: ContainerContext, rule: TimedRule) -> Due | None:
    """Of the species whose larvae need food first."""
    return most_pressing(_reckon(one, rule) for one in by_species(context, rule))


def _reckon(context: ContainerContext, rule: TimedRule) -> Due:
    """By the larvae that are there; the hours that had passed by those who ate here too, and died
    or left since, stay passed."""
    due = _of_those_here(context, rule)
    hungry = {"kept": "water"} if context.host is None else {}
    here = rule.rule if context.host is not None else _rule_if(context, **hungry)
    for spell in context.container.ate:
        then = _eating(context, spell)
        older = _rule_if(context, **then, **hungry)
        if older is None or older is here:
            continue
        timed = rule if hungry else with_hours(rule, older)
        before = _of_those_here(context, timed, then)
        due = _no_calmer(due, before, utc(spell.until), older)
    return due


def _eating(context: ContainerContext, spell: Eating) -> dict[str, int]:
    """The facts that those who ate then make: of the oldest that had not stopped."""
    here = {context.bench.taxon_of(lot.brood) for lot in context.container.lots}
    shared = context.container is context.bench.containers[context.code]
    species, stopped, ages, crowd = context.reckoning.species, spell.stopped, [0], 0
    for brood, instar, number in sorted(spell.larvae, key=lambda one: -one[1]):
        eat, stopped = max(0, number - stopped), max(0, stopped - number)
        if eat and (shared or context.bench.taxon_of(brood) in here):
            ages.append(age_of(instar, species[brood]))
            crowd += number if species[brood].cannibalistic else 0
    flags = Facts(*facts_of(context.reckoning, context.container)[1]).flags & ~CROWDED
    return {"larvae": max(ages), "flags": flags | (CROWDED if crowd > 1 else 0)}


def _no_calmer(due: Due, before: Due, until: datetime, older: PlanRule) -> Due:
    """A check of which the hours that had passed by an instant stay passed."""
    passed = {
        hour: at
        for hour in ("due", "late", "urgent", "danger")
        if (at := getattr(before, hour)) and at <= until and at < (getattr(due, hour) or FOREVER)
    }
    if not passed:
        return due
    return replace(due, **passed, lasts=f"{older.when.words} ate of it too")


def _of_those_here(
    context: ContainerContext, rule: TimedRule, then: dict[str, int] | None = None
) -> Due:
    """Counts from when larvae were last seen to have food enough; pressing once little or none was
    left.

    A report of less food, however often it is made, moves no hour to later, nor does food that is
    taken out.

    Args:
        then: the facts that those made who were here before, where it is reckoned by them.
    """
    container, others = context.container, then or {}
    larvae = container.lots_of("larva")
    fed = begins_to_need(context, rule, _hungriest(lot.fed for lot in larvae))
    unfed = _hungriest(lot.unfed for lot in larvae)
    hatched = _on_an_older_plant(container)
    if context.host is None:
        start = begins_to_need(context, rule, unfed)
        since = _hungriest(lot.hungry_since for lot in larvae)
        hungry = begins_to_need(context, rule, since)
        out = container.last.get("host out")
        of_others = context.bench.containers[context.code].hosts
        emptied = out if out and utc(out.at) == start else None
        whose = f" for {taxa_in(context.bench, container)[0]}" if of_others else ""
        at_once = start if of_others else None
        due = make_due(context, rule, start, emptied, at_once, reason=f"no food in{whose}")
        due = _no_later(due, start, _rule_if(context, **others, kept=""))
        return _no_later(due, hungry, _rule_if(context, **others, kept="water"))
    if all(one.is_open for one in container.hosts):
        return host.ask_how_old(context, rule, container.hosts[0])
    last = newest(container.last, rule.kinds)
    lack = _shortage(container.hosts)
    if lack is None:
        return _by_age(context, rule, _of_good_food(context, rule, fed), fed)
    came = begins_to_need(context, rule)  # it was lacking to nobody before
    since, bare = max(lack.since, came), None if lack.bare is None else max(lack.bare, came)
    first = min(since, fed + rule.every)
    due = make_due(context, rule, fed, last, first, context.host.plant, lack.reason, lack.seen)
    if hatched is not None:
        due = _no_sooner(due, hatched, _rule_if(context, kept=""))
    due = replace(due, late=_earlier(due.late, since), urgent=_earlier(due.urgent, bare))
    return _no_later(due, unfed, _rule_if(context, kept="")) if unfed is not None else due


def _of_good_food(context: ContainerContext, rule: TimedRule, fed: datetime) -> Due:
    """Where some of the food is good, as far as was seen: as long as it is enough."""
    container, hatched = context.container, _on_an_older_plant(context.container)
    due = make_due(context, rule, fed, newest(container.last, rule.kinds))
    by_number, put_in = _put_in_for_longer(context, rule.rule, fed)
    by_sight = _plenty_for_longer(container, rule.rule, fed)
    longer = max(by_number, by_sight)
    if longer:
        enough = "plenty was seen" if by_sight == longer else put_in
        return replace(
            due,
            due=due.due + longer,
            late=_later(due.late, longer),
            urgent=_later(due.urgent, longer),
            danger=_later(due.danger, by_number),
            lasts=f"{enough}, enough for {(due.due + longer - fed) / HOUR:.0f} h",
        )
    if hatched is not None:  # old food is no worse than none
        due = _no_sooner(due, hatched, _rule_if(context, kept=""))
    rooted = [one for one in container.hosts if one.kept in ROOTED]
    grows = any(one.left == "plenty" and one.state == "fresh" for one in rooted)
    return _of_a_growing(due, rule, fed) if grows else _eaten_sooner(context, rule, due, fed)


def _by_age(context: ContainerContext, rule: TimedRule, due: Due, fed: datetime) -> Due:
    """A check as much sooner as cut leaf grows old before it, by the hours of the plan; once it is
    too old it is no better than none, from when they had it."""
    age = host.leaf_age(context, rule)
    if age is None:
        return due
    here = max(fed, _on_an_older_plant(context.container) or fed)
    due = _no_later(due, max(here, age.food_until), _rule_if(context, kept=""))
    if (old := max(here, age.good_until)) >= due.due:
        return due
    cut = context.moment.clock(age.good_until - age.keeps)
    return replace(due, due=old, lasts=f"{age.plant} cut {cut} {KEEPS} {age.keeps / HOUR:g} h")


def _on_an_older_plant(container: Container) -> datetime | None:
    """When the hungriest larvae came or hatched, where they have had only a plant older than that,
    and nothing else before."""
    lots = [lot for lot in container.lots_of("larva") if lot.fed is not None]
    hungriest = min(lots, key=lambda lot: utc(lot.fed or container.since), default=None)
    if hungriest is None or hungriest.hungry_since == hungriest.fed:
        return None
    return None if hungriest.came is None else utc(hungriest.came)


def _put_in_for_longer(
    context: ContainerContext, rule: Rule, fed: datetime
) -> tuple[timedelta, str]:
    """How much longer than by the rule food lasts that was put in by number last, and what that
    rests on: as long as all of them eat of it, three quarters of that, and a day at most from
    when there was seen to be enough; before the last instar two from when it was put in, in water,
    less in dry air.
    """
    container = context.container
    good = [one for one in container.hosts if one.failed is None]
    numbered = [one for one in good if utc(one.put_in) <= fed + SAME_FEEDING]
    newest = max((utc(one.put_in) for one in numbered), default=fed)
    stems = sum(one.sprigs or 0 for one in numbered if newest - utc(one.put_in) <= SAME_FEEDING)
    put_in = f"{count(stems, 'stem')} were put in"
    if not stems or rule.every_h is None:
        return timedelta(0), put_in
    eaten = eaten_up(context.bench, container, rule, newest, SURELY_EATEN * stems)
    if eaten is None:
        return timedelta(0), put_in
    longest = fed + timedelta(hours=LONGEST_H)
    young = rule.when in (YOUNG_LARVAE, L3_L4)
    if young and all(one.kept == "water" for one in good):
        keeps_h = KEEPS_H * (times_as_long(context, LEAST_IN_DRY_AIR, 1.0) or 1.0)
        longest = max(longest, newest + timedelta(hours=min(keeps_h, LONGEST_YOUNG_H)))
    until = min(eaten, longest)
    if until == eaten:
        put_in = f"{put_in}, reckoned as three quarters of them for larvae differ"
    return max(timedelta(0), until - fed - timedelta(hours=rule.every_h)), put_in


def _eaten_sooner(context: ContainerContext, rule: TimedRule, due: Due, fed: datetime) -> Due:
    """A check of stems that are gone before it, by as much as a larva eats of them, each of them
    counted, and no plenty seen since: once three quarters are eaten, for larvae differ; its later
    hours as much sooner as the last is gone, when the last instars' is late. None is sooner than
    when a look no longer counts for the round that they were put in for."""
    bench, container = context.bench, context.container
    counted = _counted(container)
    if counted is None:
        return due
    stems, newest = counted
    most, eaten = (
        eaten_up(bench, container, rule.rule, newest, part * stems) for part in (SURELY_EATEN, 1.0)
    )
    if most is None or eaten is None or (gone := max(eaten, newest + EARLY)) >= due.due:
        return due
    sooner, late = due.due - gone, due.late
    if late is not None:
        late = min(late, gone) if rule.rule.when in (CANNIBALS, LAST_INSTAR) else late - sooner
    each = {stems_a_day for *_, stems_a_day in eaters(bench, container, rule.rule)}
    rates = " and ".join(f"{one:g}" for one in sorted(each, reverse=True))
    return replace(
        due,
        due=max(most, newest + EARLY),
        late=late,
        urgent=_later(due.urgent, -sooner),
        danger=_later(due.danger, -sooner),
        lasts=f"{count(stems, 'stem')}, enough for about {(eaten - newest) / HOUR:.1f} h at {rates}"
        f" {'stem' if each == {1.0} else 'stems'} a day each, asked once three quarters are eaten",
    )


def _counted(container: Container) -> tuple[int, datetime] | None:
    """How many stems are in that are good as far as was seen, and since when the newest; None where
    not each is counted, some grow, or plenty was seen since."""
    good = [one for one in container.hosts if one.failed is None]
    if not good or any(one.kept in ROOTED or not one.sprigs for one in good):
        return None
    newest = max(utc(one.put_in) for one in good)
    seen = (utc(one.seen) for one in good if one.left == "plenty" and one.seen)
    if any(at > newest + SAME_FEEDING for at in seen):
        return None
    return sum(one.sprigs or 0 for one in good), newest


def _is_gone(bench: Bench, container: Container, due: Due, now: datetime) -> bool:
    """Whether all that is in is eaten up by what larvae eat a day, and nobody saw it yet."""
    counted = _counted(container)
    if counted is None or due.rule is None:
        return False
    stems, newest = counted
    gone = eaten_up(bench, container, due.rule, newest, stems)
    return gone is not None and max(gone, newest + EARLY) <= now


def _plenty_for_longer(container: Container, rule: Rule, fed: datetime) -> timedelta:
    """How much later the last instars are asked about of which plenty was seen, cut: it is enough
    for a day. It puts off no danger, for nobody counted it."""
    seen = any(
        one.failed is None and one.left == "plenty" and one.seen and utc(one.seen) == fed
        for one in container.hosts
        if one.kept not in ROOTED
    )
    if not seen or rule.when != LAST_INSTAR or rule.every_h is None:
        return timedelta(0)
    return timedelta(hours=max(0.0, LONGEST_H - rule.every_h))


def _later(at: datetime | None, by: timedelta) -> datetime | None:
    return None if at is None else at + by


def _hungriest(times: Iterable[datetime | None]) -> datetime | None:
    return min((utc(at) for at in times if at is not None), default=None)


def _rule_if(context: ContainerContext, **other: Any) -> PlanRule | None:
    """The rule for the larvae there if some facts were others, as how their food is kept; None
    where the plan has none."""
    reckoning, container = context.reckoning, context.container
    facts = Facts(*facts_of(reckoning, container)[1])._replace(**other)
    of_food = (rule for rule in reckoning.rules_for(container) if rule.check == CHECK.name)
    return next((plan_rule for plan_rule in of_food if plan_rule.when.holds(facts)), None)


def _no_later(due: Due, start: datetime, rule: PlanRule | None) -> Due:
    """A check that is late, urgent and in danger no later than by another rule."""
    if rule is None:
        return due
    late, urgent, danger = map(
        _earlier, (due.late, due.urgent, due.danger), _hours_from(start, rule)
    )
    return replace(due, late=late, urgent=urgent, danger=danger)


def _no_sooner(due: Due, start: datetime, rule: PlanRule | None) -> Due:
    """A check that is late, urgent and in danger no sooner than by another rule."""
    if rule is None:
        return due
    hours = zip((due.late, due.urgent, due.danger), _hours_from(start, rule), strict=True)
    late, urgent, danger = (at and max(at, least or at) for at, least in hours)
    return replace(due, due=max(due.due, start), late=late, urgent=urgent, danger=danger)


def _hours_from(start: datetime, rule: PlanRule) -> tuple[datetime | None, ...]:
    return tuple(
        None if hours is None else start + timedelta(hours=hours)
        for hours in (rule.amber_h, rule.red_h, rule.harm_h)
    )


def _earlier(*times: datetime | None) -> datetime | None:
    return min((at for at in times if at is not None), default=None)


def _of_a_growing(due: Due, rule: TimedRule, start: datetime) -> Due:
    """A growing plant of which plenty was seen is looked at as often, but lasts longer."""
    late, worst, harm = (
        None if hours is None else start + GROWING_PART * hours
        for hours in (rule.late, rule.urgent, rule.danger)
    )
    return replace(due, late=late, urgent=worst, danger=harm, reason=GROWING_WORDS)


class _Lack(NamedTuple):
    """What is wrong with food none of which is good any more: since when, when last seen, and since
    when all is bare."""

    reason: str
    since: datetime
    seen: datetime
    bare: datetime | None


def _shortage(hosts: list[Host]) -> _Lack | None:
    """What is wrong with the food; None where some of it is good, as far as was seen."""
    failed = [(one.failed, one.seen) for one in hosts if one.failed and one.seen]
    if len(failed) < len(hosts):
        return None
    eaten = [utc(one.eaten) for one in hosts if one.eaten is not None]
    others = [
        one.state if one.state != "fresh" else "little left" for one in hosts if not one.is_bare
    ]
    since, seen = (max(utc(at) for at in times) for times in zip(*failed, strict=True))
    return _Lack(min(others, default="bare"), since, seen, None if others else max(eaten))


def _fresh_branch(context: AnswerContext) -> list[Saying]:
    """The sleeve came to another branch of the plant that it stands on."""
    return [
        context.saying(k.HostSeen, left="plenty"),
        context.saying(k.Note, text="moved to a fresh branch"),
    ]


_PLENTY = Answer("space", "plenty", say(k.HostSeen, left="plenty"), usual=True)
_LOW = Answer("k", "low", say(k.HostSeen, left="little"))
_BARE = Answer("e", "bare", say(k.HostSeen, state="eaten", left="none"))
# Young larvae are easily overlooked: the old plant stays in with them until it was looked over.
_OLD_OUT = Answer("c", "new, old out", changed("binned"), STEMS, touches=True)
_OLD_KEPT = replace(_OLD_OUT, label="new, old kept here", says=changed("held", here=True))
_LOOKED_OVER = replace(
    _OLD_OUT, key="o", label="new, old looked over", says=changed("binned", sure=True)
)
_SET_BESIDE = replace(NEW_ADDED, label="fresh set beside them", touches=False)
_NONE_IN = none_in("No food is recorded here. Did you put some in?")
_THAT_GROWS = Question(
    "What is left to eat?",
    (
        _PLENTY,
        _LOW,
        _BARE,
        LIMP,
        Answer("v", "moved to a fresh branch", _fresh_branch),
        ANOTHER_PLANT,
    ),
)


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """Of nothing in, of a plant that grows, and of one that young larvae may be on; and that a
    plant counts for several species."""
    if container is None:
        return CHECK.question
    asked = _fitting(bench, container)
    if asked is not _NONE_IN and _shortage(container.hosts):
        asked = seen_failing(asked)
    elif asked is CHECK.question and now is not None and _is_gone(bench, container, due, now):
        asked = replace(seen_failing(asked, "left"), first=(_BARE.key, _OLD_OUT.key))
    return saying_for_all(bench, container, if_known(asked, bench, container))


def _fitting(bench: Bench, container: Container) -> Question:
    larvae = {bench.taxon_of(lot.brood) for lot in container.lots_of("larva")}
    on_record = PlantsOnRecord(bench)
    if not all(with_plants_for(bench, container, taxon, on_record).hosts for taxon in larvae):
        return _NONE_IN
    if all(host.kept == "living" for host in container.hosts):
        return _THAT_GROWS
    hosts = container.hosts
    if hidden_on_it(bench, container, hosts) or not young_on_it(container, hosts):
        return CHECK.question
    laid_on = any(host.mothers for host in container.hosts)  # it may bear eggs that nobody saw
    instead = (_OLD_KEPT,) if laid_on else (_OLD_KEPT, _LOOKED_OVER)
    answers = [
        one
        for answer in CHECK.question.answers
        for one in (instead if answer is _OLD_OUT else (answer,))
    ]
    return replace(CHECK.question, answers=tuple(answers))


def glance(bench: Bench, due: Due, container: Container, now: datetime) -> str:
    """That there is plenty, where some is in and nothing was seen to fail or grew old."""
    fails = due.reason and due.reason != GROWING_WORDS
    none_in = _fitting(bench, container) is _NONE_IN
    is_old = f" {KEEPS} " in due.lasts and due.due <= now
    return "" if fails or none_in or is_old else "plenty of food"


def uses(bench: Bench, container: Container, due: Due, at: datetime) -> list[SupplyUse]:
    """What all eat from one feeding to the next; nothing where a plant grows."""
    rule = due.rule
    if rule is None or any(host.kept in ROOTED for host in container.hosts):
        return []
    days = days_between(bench, container, rule)
    in_water = bool(container.hosts) and container.hosts[-1].kept == "water"
    result: list[SupplyUse] = []
    for portion in portions(bench, container, rule):
        each = " + ".join(f"{many} {age} x {stems:g}" for many, age, stems in portion.eaters)
        words = f"{container.code} {f'({each})' if '+' in each else each} a day"
        if days != 1:
            words += f" x {days:g} d"
        if portion.of > 1:
            words += f" / {portion.of} plants"
        words = f"{words} = {portion.stems}"
        result += stems_used(at, portion.plant, portion.stems, words, in_water)
    return result


CHECK = Check(
    name="food",
    undone=("not been seen with food", "has not been seen with food", "food"),
    help="The last instars eat most of all that a larva eats; plenty is enough for a day.",
    value=Value(40, 0.2, 0.01, "larvae that eat"),
    severity=3,
    place=150,
    answered_by=("host in", "host seen"),
    closes="better",
    discards=True,
    of_unseen=True,
    rules=(
        Rule(
            AWAKE,
            "larva",
            Condition(UNFED, lambda facts: facts.kept == ""),
            **hours(0, late=6, urgent=12, danger=24),
            basis=UNFED_BASIS,
            stems_a_day=STEMS_A_DAY["L1-L2"],
        ),
        Rule(
            AWAKE,
            "larva",
            YOUNG_LARVAE,
            **hours(24, late=36, urgent=40, danger=48),
            basis=(
                "young larvae left alone a day or two: a day unfed killed few and made "
                "growth late (Barros-Bellanda & Zucoloto 2002, second instar of Ascia "
                "monuste); the youngest endure hunger least: later hours: our estimate"
            ),
            stems_a_day=STEMS_A_DAY["L1-L2"],
        ),
        Rule(
            AWAKE,
            "larva",
            L3_L4,
            **hours(24, late=30, urgent=36, danger=47),
            basis=(
                "fed daily: University of Kansas monarch programme; a day unfed made "
                "lighter adults (Barros-Bellanda & Zucoloto 2002, of Ascia monuste); "
                "later hours: our estimate"
            ),
            stems_a_day=STEMS_A_DAY["L3-L4"],
        ),
        Rule(  # of two that ask as often the first holds
            AWAKE,
            "larva",
            CANNIBALS,
            **hours(12, late=14, urgent=16, danger=21),
            basis=(
                f"{LAST_BASIS}; of a blue they eat each other as they grow (Daniels, Florida Museum"
                " of Natural History), the sooner when hungry: danger our estimate"
            ),
            stems_a_day=STEMS_A_DAY["last instar"],
        ),
        Rule(
            AWAKE,
            "larva",
            LAST_INSTAR,
            **hours(12, late=14, urgent=16, danger=36),
            basis=(
                f"{LAST_BASIS}; heavier larvae endure hunger longer (Stockhoff 1991, of the gypsy"
                " moth): late is when the leaf is gone, danger our estimate"
            ),
            stems_a_day=STEMS_A_DAY["last instar"],
        ),
    ),
    needs=eat,
    reckon=reckon,
    glance=glance,
    question=Question("How much food is left?", (_PLENTY, _LOW, LIMP, _OLD_OUT, NEW_ADDED, _BARE)),
    ask=ask,
    through_lid=lambda question, container: seen_through_lid(
        question, "How much food is left, seen through the lid?", _SET_BESIDE
    ),
    helped=(
        Helped("Open, add fresh {}.", opens=True, touches=True, plant=True, also_by=(host.POT,)),
        Helped(
            "Leaves gone? Lift the lid, touch none, set in beside them fresh {}.",
            BESIDE,
            opens=True,
            touches=True,
            plant=True,
        ),
    ),
    cautions=("blades", "insecticide"),
    first_cautions=("blades",),
    uses=uses,
)
