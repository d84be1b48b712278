"""A look without touching: what do you see?"""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec.structs import replace

from rounds.bench.folding.signs import SIGN_WORDS
from rounds.bench.plurals import of_stage
from rounds.bench.state import Bench, Container
from rounds.checks.answers import DARKENING as SEEN_DARKENING
from rounds.checks.answers import (
    DEAD,
    EMERGED,
    HATCHED,
    MOULTED,
    PUPATED,
    grown,
    say,
    seen_through_lid,
    with_number,
)
from rounds.checks.base import Check, Helped, Value
from rounds.checks.due_state import Due
from rounds.checks.facts import (
    ADULT,
    ALWAYS,
    DARKENING,
    EGG,
    FIRST_INSTAR,
    HALF_GROWN,
    HELD,
    ILL_SIGNS,
    KEPT_APART,
    LARVA,
    LAST_INSTAR,
    LATE_WINTER,
    NOT_MOVING,
    PUPA,
    SEALED_LID,
    SUSPECT,
    Condition,
    ContainerContext,
    Facts,
    are_fed,
    has,
    seen,
)
from rounds.checks.question import HOW_MANY, Answer, Question
from rounds.checks.reckon import TimedRule, make_due, plain
from rounds.checks.round_clock import utc
from rounds.checks.rule import (
    AWAKE,
    COMMON,
    DAY,
    ESTIMATE,
    LAYING,
    LAYING_OR_PAIRING,
    LOOKED_AT,
    SLOWER,
    WINTER,
    Rule,
    hours,
)
from rounds.entries import registry as k
from rounds.entries.base import Purpose, Stage
from rounds.forecasts.stage_ends import ComingChange

ONCE_A_DAY = timedelta(hours=30)  # a look once a day is late after these; our estimate
GROWING: tuple[Purpose, ...] = ("hatchlings", "rearing")
LATE_FIRST_INSTAR = Condition(
    "first instar, late winter",
    lambda facts: FIRST_INSTAR.holds(facts) and bool(facts.flags & LATE_WINTER),
)
REFRIGERATOR = (
    "A refrigerator killed all 308 wintering Puget blues, of which about a tenth became adults"
    " outdoors and in a climate chamber (Schultz, Dzurisin & Russell 2009); a species that does not"
    " rest dies in it (Vrba et al. 2014, of Colias crocea)"
)
FED_FOR_LONGER = Condition(
    "food in water",
    lambda facts: (
        facts.kept == "water"
        and facts.stages == LARVA
        and not LAST_INSTAR.holds(facts)
        and facts.sign not in ILL_SIGNS
    ),
)
FED_LARVAE = Condition(
    "larvae with food in",
    lambda facts: (
        facts.kept != "" and not facts.stages & (EGG | ADULT) and not FED_FOR_LONGER.holds(facts)
    ),
)
PUPATION: tuple[Purpose, ...] = ("pupation",)
PUPAE_ALONE = Condition("pupae alone", lambda facts: facts.stages == PUPA)
FED_ADULTS = Condition("adults that are fed", are_fed)
NONE_FED = Condition("adults take no food", lambda facts: not are_fed(facts))
# Signs that last over several looks; a look that finds nothing new must not wipe them off the card.
LASTING_SIGNS = frozenset({"darkening", "still", "hanging", "soft pupa", "colouring"})
_USUAL_SIGHT: dict[Stage, str] = {
    "egg": "no egg dark or hatched",
    "larva": "larvae moving",
    "pupa": "pupae as before",
    "adult": "adults well",
}
# What is likely seen next, by the sign that lasts; our estimate.
_NEXT: dict[str, tuple[str, ...]] = {
    "darkening": ("y", "v"),
    "still": ("m", "s"),
    "hanging": ("p",),
    "colouring": ("e", "b"),
}
_OLD, OLD_INSTAR = ("r", "h", "p"), 5

_USUAL = Answer("space", "as usual", say(k.Looked, sign="as usual"), usual=True)
_WEAK = Answer("a", "weak", say(k.Looked, sign="weak"))
_MOULD = Answer("g", "mould", say(k.Looked, sign="mould"))
# A drop, for all letters mean something at some stop: c is food or host that is changed.
CONDENSATION_KEY = "apostrophe"
_CONDENSATION = Answer(CONDENSATION_KEY, "condensation", say(k.Looked, sign="condensation"))
_INTRUDER = Answer("i", "intruder", say(k.Looked, sign="intruder"))
LOOKS: dict[str, tuple[Answer, ...]] = {
    "egg": (
        _USUAL,
        SEEN_DARKENING,
        HATCHED,
        Answer("v", "hatched, inferred", grown(k.Hatched, evidence="inferred"), takes=HOW_MANY),
        _MOULD,
        _CONDENSATION,
        _INTRUDER,
    ),
    "larva": (
        _USUAL,
        Answer("s", "not moving", with_number(k.Looked, sign="still"), takes=HOW_MANY),
        MOULTED,
        Answer("r", "wandering", with_number(k.Looked, sign="wandering"), takes=HOW_MANY),
        Answer("h", "hanging up", with_number(k.Looked, sign="hanging"), takes=HOW_MANY),
        PUPATED,
        DEAD,
        _WEAK,
        _CONDENSATION,
        _MOULD,
        _INTRUDER,
    ),
    "pupa": (
        _USUAL,
        Answer("b", "colouring", with_number(k.Looked, sign="colouring"), takes=HOW_MANY),
        EMERGED,
        Answer("l", "fresh pupa", with_number(k.Looked, sign="soft pupa"), takes=HOW_MANY),
        DEAD,
        _MOULD,
        _CONDENSATION,
        _INTRUDER,
    ),
    "adult": (_USUAL, _WEAK, DEAD, _CONDENSATION, _INTRUDER),
    "": (_USUAL, _MOULD, _CONDENSATION, _INTRUDER),
}

SEALED_BOXES = (
    "pupae of emperor and hawk moths in sealed boxes at 2 to 5 C, without water, looked at every "
    "month or two (a breeder's page, Prince Edward Island, silkmoths.bizland.com); hours: our "
    "estimate"
)


def reckon(context: ContainerContext, rule: TimedRule) -> Due:
    """As any check; of larvae that eat each other it says how many share the container."""
    due = plain(context, rule)
    if rule.each_round and rule.rule.when == ALWAYS:
        return _from_when_asked_each_round(context, rule, due)
    if rule.rule.purposes == SLOWER or rule.rule.when in (PUPAE_ALONE, FED_FOR_LONGER):
        return _sooner(context, due)
    if rule.rule.when != KEPT_APART:
        return due
    cannibals = sum(
        lot.number
        for lot in context.container.lots_of("larva")
        if context.reckoning.species[lot.brood].cannibalistic
    )
    return replace(due, reason=f"{cannibals} larvae that eat each other: kept apart?")


def _from_when_asked_each_round(context: ContainerContext, rule: TimedRule, due: Due) -> Due:
    """Those for whom once a day was enough left, or their food went out: each round from then on.
    What was late by once a day stays late."""
    container = context.container
    left = [entry.at for entry in container.last.values() if entry.takes]
    left += [container.bare_since] if container.bare_since else []
    start = utc(max(left)) if left else None
    if start is None or due.since is None or not due.since < start <= due.since + ONCE_A_DAY:
        return due
    return make_due(context, rule, start, due.last)


def _sooner(context: ContainerContext, due: Due) -> Due:
    """Once a day from the round before the first may hatch, emerge or come to the last instar,
    which eats most, until the last is expected."""
    container, moment = context.container, context.moment

    def alters_its_care(change: ComingChange) -> bool:
        instars = context.reckoning.species[change.brood].instars
        return change.change in ("hatch", "emergence") or (
            change.change == "moult" and change.instar + 1 == instars
        )

    spans = [
        (utc(change.not_before or change.first), utc(change.last or change.first))
        for change in context.foresight.coming(container)
        if change.first is not None and alters_its_care(change)
    ]
    for held in container.held:
        first = context.foresight.first_hatch(container, held)
        if first is not None:
            spans.append((utc(first), utc(first) + timedelta(days=30)))
    since = due.since or moment.now
    daily = moment.next_daily(since)
    if daily >= due.due:
        return due
    for first, last in spans:
        asked = max(daily, moment.previous_anchor(first))
        if asked <= last + timedelta(days=1) and asked < due.due:
            due = replace(due, due=asked)
    return due


def needs(facts: Facts) -> bool:
    """Animals or kept stems."""
    return bool(facts.stages or facts.flags & HELD)


def looks_for(container: Container | None) -> tuple[Answer, ...]:
    """The answers to a look that fit what is in the container, each key once; unchanged is said as
    what it was."""
    found: dict[str, Answer] = {}
    if container is not None and container.sign in LASTING_SIGNS and container.lots:
        sign = container.sign
        found["space"] = Answer(
            "space",
            f"{SIGN_WORDS.get(sign, sign)} as before",
            with_number(k.Looked, sign=sign),
            takes=HOW_MANY,
            usual=True,
        )
    stages: list[str] = sorted({lot.stage for lot in container.lots}) if container else []
    for stage in stages or [""]:
        for answer in LOOKS[stage]:
            found.setdefault(answer.key, answer)
    if found["space"] is not _USUAL:  # behind those that every look has, which keep their letters
        found["o"] = Answer("o", "as usual again", say(k.Looked, sign="as usual"))
    return tuple(found.values())


def glance(bench: Bench, due: Due, container: Container, now: datetime) -> str:
    """What is as usual, by what is there and by the sign that lasts."""
    if due.reason:
        return ""
    if container.sign in LASTING_SIGNS and container.lots:
        number = sum(lot.number for lot in container.lots)
        stages = {lot.stage for lot in container.lots}
        kind = of_stage(number, stages.pop()) if len(stages) == 1 else "animals"
        words = SIGN_WORDS.get(container.sign, container.sign)
        return f"{kind.removeprefix(f'{number} ')} {words}"
    usual = [sight for stage, sight in _USUAL_SIGHT.items() if container.count(stage)]
    return ", ".join(usual) or "no mould, nothing odd"


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """With the answers that fit what is there."""
    return Question(CHECK.question.text, looks_for(container), first=_likely(container))


def _likely(container: Container | None) -> tuple[str, ...]:
    """The keys of what comes next after the sign that lasts; of old larvae what goes before a
    pupa."""
    if container is None:
        return ()
    if container.sign in _NEXT:
        return _NEXT[container.sign]
    instars = [lot.instar for lot in container.lots_of("larva")]
    return _OLD if instars and min(instars) >= OLD_INSTAR else ()


CHECK = Check(
    name="look",
    by_animals=True,
    undone=("not been looked at", "has not been looked at", "look"),
    help=(
        "A look without touching, at the animals and at mould, wet walls and intruders;"
        " feeding or searching does not count as a look."
    ),
    value=Value(20, 0.1, 0.02),
    severity=2,
    place=50,
    of_unseen=True,
    answered_by=("looked", "hatched", "moulted", "pupated", "emerged", "counted", "died"),
    rules=(
        Rule(LOOKED_AT, each_round=True, basis=f"looked at each round: {COMMON}"),
        Rule(
            LAYING,
            "adult",
            FED_ADULTS,
            **hours(late=30, urgent=48),
            daily=True,
            basis=(
                f"females that are to lay are seen each round as they are fed: {COMMON}; all else"
                " with them once a day, hours: our estimate"
            ),
        ),
        Rule(
            LAYING_OR_PAIRING,
            "adult",
            NONE_FED,
            each_round=True,
            **hours(late=16, urgent=48),
            basis=(
                f"looked at each round: {COMMON}; one that takes no food wants nothing, so that a"
                " missed round is late and no more, hours: our estimate"
            ),
        ),
        Rule(
            GROWING,
            "larva",
            FED_LARVAE,
            **hours(late=30, urgent=48),
            daily=True,
            basis=(f"larvae with food in are looked at once a day: {COMMON}; hours: our estimate"),
        ),
        Rule(
            GROWING,
            "larva",
            FED_FOR_LONGER,
            **hours(48, late=60, urgent=72),
            basis=(
                "larvae alone before the last instar, with food in water, which lasts two to four"
                " days, and none seen ill: every other day, as young larvae are left alone a day or"
                " two, once a day while some may come to the last instar; food is asked about by"
                f" itself: {ESTIMATE}"
            ),
        ),
        Rule(
            SLOWER,
            "larva",
            **hours(late=30, urgent=48),
            daily=True,
            basis=(
                f"larvae are looked at once a day wherever they are: {COMMON}; hours: our estimate"
            ),
        ),
        Rule(
            SLOWER,
            **hours(48, late=60, urgent=72),
            basis=(
                f"looked at every other day, once a day while some may hatch or emerge: {COMMON};"
                " hours: our estimate"
            ),
        ),
        Rule(
            PUPATION,
            "pupa",
            PUPAE_ALONE,
            **hours(72, late=84, urgent=96),
            basis=(
                "pupae alone, which neither eat nor move, every third day, once a day while some"
                f" may emerge: {ESTIMATE}"
            ),
        ),
        Rule(
            when=has("suspect", SUSPECT, began=lambda container: container.suspect_since),
            each_round=True,
            basis=f"suspects are watched each round: {COMMON}",
        ),
        Rule(
            ("eggs",),
            "egg",
            DARKENING,
            each_round=True,
            basis=f"eggs that darken are looked at each round: {COMMON}",
        ),
        Rule(
            ("pupation", *GROWING),
            "pupa",
            seen("colouring", "colouring"),
            each_round=True,
            basis=f"pupae that colour are looked at each round: {COMMON}",
        ),
        Rule(
            PUPATION,
            "larva",
            NOT_MOVING,
            each_round=True,
            basis=f"larvae that hang or moult are looked at each round, not touched: {COMMON}",
        ),
        Rule(
            AWAKE,
            "larva",
            KEPT_APART,
            each_round=True,
            basis=(
                "larvae that eat each other are kept one a cup: Daniels, Florida Museum of Natural"
                " History, of a blue; looked at each round if several share one: our estimate"
            ),
        ),
        Rule(
            WINTER,
            "pupa",
            **hours(7 * DAY, late=16 * DAY, urgent=21 * DAY),
            severity=1,
            basis=(
                "pupae in diapause, under gauze: misted every two weeks, later each week "
                "(raisingbutterflies.org); hours: our estimate"
            ),
        ),
        Rule(
            WINTER,
            "pupa",
            SEALED_LID,
            **hours(14 * DAY, late=30 * DAY, urgent=60 * DAY),
            severity=1,
            basis=SEALED_BOXES,
        ),
        Rule(
            WINTER,
            "larva",
            HALF_GROWN,
            **hours(3.5 * DAY, late=5 * DAY, urgent=7 * DAY),
            severity=1,
            basis=(
                "half-grown larvae in diapause: every three to four days, misted every four"
                f" (raisingbutterflies.org); hours: our estimate. {REFRIGERATOR}"
            ),
        ),
        Rule(
            WINTER,
            "larva",
            FIRST_INSTAR,
            **hours(5 * DAY, late=7 * DAY, urgent=10 * DAY),
            severity=1,
            basis=(
                "unfed first instars dry and mould easily (raisingbutterflies.org): no interval is"
                f" published, our estimate. {REFRIGERATOR}"
            ),
        ),
        Rule(
            WINTER,
            "larva",
            LATE_FIRST_INSTAR,
            **hours(3 * DAY, late=5 * DAY, urgent=7 * DAY),
            severity=1,
            basis=(
                "first instars of regal fritillaries in a refrigerator died slowly all winter, the"
                " rest at once in late March (keepers' account of 2009-2010): no interval is"
                f" published, our estimate. {REFRIGERATOR}"
            ),
        ),
        Rule(
            WINTER,
            "egg",
            **hours(5 * DAY, late=7 * DAY, urgent=10 * DAY),
            severity=1,
            basis=(
                "eggs in diapause of Neophasia terlooii lost 2 % in ten days of dry cold air"
                " (abstract, authors not shown): no interval is published, our estimate"
            ),
        ),
        Rule(
            WINTER,
            "adult",
            **hours(7 * DAY, late=10 * DAY, urgent=14 * DAY),
            severity=1,
            basis=ESTIMATE,
        ),
    ),
    needs=needs,
    reckon=reckon,
    glance=glance,
    question=Question(
        "What do you see?",
        tuple({answer.key: answer for looks in LOOKS.values() for answer in looks}.values()),
    ),
    ask=ask,
    through_lid=lambda question, container: seen_through_lid(
        question, "What do you see through the lid?"
    ),
    helped=(Helped("Look.", outside=True),),
    cautions=("said",),
)
