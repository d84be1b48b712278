"""Barriers against ants: a moat, a sticky band, grease."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from functools import partial

from msgspec.structs import replace

from rounds.bench.measures import Measures, measures_of
from rounds.bench.plurals import count
from rounds.bench.state import NOT_LOW, WANTING, Bench, Container, Moat, Shelf
from rounds.checks.answers import counted_or_one, say
from rounds.checks.base import Check, Helped, RuleOf, Value
from rounds.checks.due_state import Due, PlaceKind
from rounds.checks.facts import DueContext, of_place
from rounds.checks.question import DEPTH, Answer, AnswerContext, Begun, Number, Question, Says
from rounds.checks.reckon import after, make_place_due, next_asked
from rounds.checks.round_clock import Moment, utc
from rounds.checks.rule import COMMON, DANGER, Rule, hours
from rounds.entries import registry as k
from rounds.entries.base import BARRIERS_LOOKED_AT, STICKY, Barrier, Saying
from rounds.forecasts.moats import (
    ANTS_PAST,
    BarrierStanding,
    MoatDuration,
    MoatForecast,
    barrier_standing,
    lasting,
    loss_words,
    state_at,
)

_WATER: dict[Barrier, str] = {"moat": "water", "sticky band": "band"}
WASHED_EVERY = timedelta(days=7)  # common practice, no source
HOW_MANY_ANTS = Number("how many ants", "some")
BARRIER, FAILED = of_place("barrier"), of_place("barrier failed")


def of_bench(reckoning: DueContext, rule_of: RuleOf) -> Iterator[Due]:
    """One check for each barrier that guards something; an ant above the water shows at all that it
    guards."""
    bench = reckoning.bench
    asked = {
        name: shelf for name, shelf in bench.shelves.items() if shelf.barrier in BARRIERS_LOOKED_AT
    }
    first: dict[str, Container] = {}
    guarded, at_large = (partial(one, reckoning, rule_of) for one in (_barrier, _at_large))
    found: list[Due | None] = [
        at_large(name, "shelf", shelf.moat)
        for name, shelf in bench.shelves.items()
        if name not in asked
    ]
    for container in bench.standing():
        own, place = container.moat, (container.code, "container")
        if container.barrier in BARRIERS_LOOKED_AT:
            found.append(guarded(*place, own, container))
            continue
        whose, barrier, moat = bench.moat_of(container)
        if barrier not in BARRIERS_LOOKED_AT:
            found.append(at_large(*place, own, container))
            continue
        known = first.get(whose)
        if not known or (moat.seen is None and _on_shelf(container) < _on_shelf(known)):
            first[whose] = container
        if moat.ants_above:
            found.append(guarded(*place, moat, container, whose))
    for name, container in first.items():
        if name in asked:
            found.append(guarded(name, "shelf", asked[name].moat, container))
    return (due for due in found if due is not None)


def _barrier(
    reckoning: DueContext,
    rule_of: RuleOf,
    where: str,
    kind: PlaceKind,
    moat: Moat,
    container: Container,
    whose: str = "",
) -> Due | None:
    seen = _guarded_since(reckoning.bench, where, kind, moat, container)
    own = container if kind == "container" else None
    last = moat.last
    bad = moat.is_passed
    rule = rule_of((FAILED if bad else BARRIER).words, own)
    if rule is None:
        return None
    barrier = reckoning.bench.barrier_named(*(("", where) if kind == "shelf" else (where, "")))
    due = next_asked(reckoning.moment, rule, seen)
    if moat.seen is None:  # nobody knows yet how it stands
        due = min(due, reckoning.moment.next_unserved(seen))
    start, reason, pressing = seen, "", None
    stands = barrier_standing(reckoning.bench, barrier, moat, reckoning.moment.told_now)
    low = None
    if barrier == "moat" and not bad:
        low = reckoning.foresight.moat(moat, reckoning.moment.told_now)
    wrong = moat.failed_since if bad else moat.wants_since
    if wrong is not None:
        there = _there_since(reckoning.bench, where, kind, container)
        start, pressing = max(utc(wrong), there), seen
        since, newest = reckoning.moment.clock(start), reckoning.moment.clock(seen)
        state = moat.state if stands.is_seen else f"{stands.state} by now, {moat.state}"
        as_seen = f"{barrier} {state}, seen {since}"
        if start < seen:
            as_seen = f"{barrier} {state} since {since}, still so {newest}"
    late, urgent = after(start, rule.late), after(start, rule.urgent)
    if bad:
        reason = _above("ants", barrier) if moat.ants_above else as_seen
    elif moat.state in WANTING:
        due, late, reason = start, start, as_seen
    elif low is not None and low.low_at is not None:
        first = utc(low.low_first or low.low_at)
        if first <= seen < utc(low.low_at):  # seen not low since: looked at again in the next round
            first, low = utc(reckoning.moment.next_anchor(seen)), replace(low, low_first=None)
        measures = measures_of(reckoning.bench.settings)
        reason = (
            f"{_low_words(low, reckoning.moment, measures.depth(low.low_mm), is_so=stands.wants)},"
            f" {depth_words(stands, measures)}, loss {loss_words(low.loss, measures)}"
        )
        low_at = utc(low.low_at or first)
        due, late = min(due, first), low_at if late is None else min(late, low_at)
    if low is not None and low.dry_at is not None:
        dry = utc(low.dry_at)
        if dry <= seen:  # read as hardly more than dry, and left so until the next round
            dry = utc(reckoning.moment.next_anchor(seen))
        urgent = dry if urgent is None else min(urgent, dry)
    in_order = barrier == "moat" and not bad and moat.state not in WANTING
    if in_order and seen - utc(moat.washed or container.since) > WASHED_EVERY:
        reason = f"not washed for a week; {reason}".removesuffix("; ")
    return make_place_due(
        reckoning, rule, kind, where, start, last, due, whose, reason, pressing, late, urgent
    )


def _above(ants: str, barrier: Barrier) -> str:
    """``1 ant above the water``, ``ants above the band``."""
    return f"{ants} above the {_WATER.get(barrier, barrier)}"


def _low_words(low: MoatForecast, moment: Moment, depth: str, *, is_so: bool) -> str:
    """Since when a moat is low, or about when it falls to that depth, with the limits."""
    half = moment.clock(low.low_at) if low.low_at else "-"
    if is_so:
        return f"moat low since {half} ({depth})"
    falls = f"moat falls to {depth} (low) about {half}"
    if low.low_first is None or low.low_first == low.low_at:
        return falls
    last = f", {moment.clock(low.low_last)} at the latest" if low.low_last else ""
    return f"{falls}, {moment.clock(low.low_first)} at the earliest{last}"


def _at_large(
    reckoning: DueContext,
    rule_of: RuleOf,
    where: str,
    kind: PlaceKind,
    moat: Moat,
    own: Container | None = None,
) -> Due | None:
    """Ants that were seen where nothing keeps them out: urgent until they are seen gone, or
    something does."""
    if moat.seen is None or not moat.is_passed or (rule := rule_of(FAILED.words, own)) is None:
        return None
    seen = utc(moat.seen)
    start, due = utc(moat.failed_since or seen), next_asked(reckoning.moment, rule, seen)
    ants = count(moat.ants_above, "ant") if moat.ants_above else "ants"
    return make_place_due(
        reckoning, rule, kind, where, start, moat.last, due, "", f"{ants} seen", seen
    )


def _on_shelf(container: Container) -> datetime:
    """Since when a container stands where it stands."""
    return utc(max(container.since, container.shelf_since or container.since))


def _guarded_since(
    bench: Bench, where: str, kind: PlaceKind, moat: Moat, container: Container
) -> datetime:
    """When a barrier was last seen; or, where that is later or never was, when it came to be
    there."""
    since = _there_since(bench, where, kind, container)
    return max(utc(moat.seen) if moat.seen is not None else _on_shelf(container), since)


def _there_since(bench: Bench, where: str, kind: PlaceKind, container: Container) -> datetime:
    """When a barrier came to be there; the beginning of time where nobody said."""
    since = bench.shelves[where].barrier_since if kind == "shelf" else container.barrier_since
    return datetime.min.replace(tzinfo=UTC) if since is None else utc(since)


def all_moats(bench: Bench) -> Iterator[tuple[str, Moat]]:
    """Every moat of the bench with the shelf or container that it guards, the shelves first."""
    places: list[Shelf | Container] = [*bench.shelves.values(), *bench.standing()]
    for place in places:
        if place.barrier == "moat":
            yield place.name if isinstance(place, Shelf) else place.code, place.moat


def lasts(bench: Bench, due: Due) -> MoatDuration | None:
    """How long the moat lasts once it is filled; of a cup that only stands on a shelf with one
    nothing is said."""
    container = bench.at(due.where)
    if due.place_kind == "shelf":
        return lasting(bench, bench.shelves[due.where].moat)
    if not container or container.barrier != "moat" or due.subject:
        return None
    return lasting(bench, container.moat)


def is_elsewhere(due: Due) -> bool:
    """Whether it is another place's barrier, which is asked about there."""
    return due.place_kind == "container" and bool(due.subject)


def depth_words(stands: BarrierStanding, measures: Measures) -> str:
    """How deep its water is: as it was read, or about so deep by now; empty where it was never
    read."""
    if stands.depth_mm is None:
        return ""
    depth = measures.depth(stands.depth_mm)
    return f"about {depth} by now" if stands.is_reckoned else depth


def barrier_words(bench: Bench, barrier: Barrier, moat: Moat, now: datetime) -> tuple[str, str]:
    """A barrier as it stands, and the same without its depth: ``moat 16 mm, ok``, ``moat ok``.

    What nobody saw is said so: ``moat low by now``.
    """
    stands = barrier_standing(bench, barrier, moat, now)
    state = {"": "not seen yet", "full": "ok", "sound": "ok", NOT_LOW: "ok"}.get(
        stands.state, stands.state
    )
    if stands.is_reckoned and not stands.depth_mm and stands.state not in (ANTS_PAST, "dry"):
        dry = f"{barrier} dry by now"
        return f"{dry}, seen {state}", dry
    depth = depth_words(stands, measures_of(bench.settings))
    short = f"ants past the {barrier}" if stands.state == ANTS_PAST else f"{barrier} {state}"
    if stands.is_reckoned and not stands.is_seen:
        short = f"{short} by now"
    return (f"{barrier} {depth}, {state}" if depth else short), short


def asked_of(bench: Bench, container: Container) -> tuple[PlaceKind, str]:
    """Whatever guards the container: itself, what it stands in, or its shelf."""
    where = bench.moat_of(container)[0]
    is_shelf = where in bench.shelves and where not in bench.containers
    return "shelf" if is_shelf else "container", where


def glance(bench: Bench, due: Due, container: Container, now: datetime) -> str:
    """That the container's own barrier holds, where nothing was seen or reckoned to be wrong with
    it."""
    if due.subject or barrier_standing(bench, container.barrier, container.moat, now).wants:
        return ""
    return "moat not low" if container.barrier == "moat" else f"{container.barrier} sound"


def _seen(state: str, at_depth: str = "") -> Says:
    """What the barrier looked like; a depth that was typed decides what is dry, low and full."""

    def says(context: AnswerContext) -> list[Saying]:
        if context.number is None:
            return [(k.BarrierSeen, context.here | {"state": state})]
        mm = context.measures.millimetres(context.number)
        seen = state_at(context.bench, mm, at_depth or state)
        return [context.saying(k.BarrierSeen, state=seen, depth_mm=mm)]

    return says


def _topped_up(context: AnswerContext) -> list[Saying]:
    given = {"depth_mm": context.measures.millimetres(context.number)} if context.number else {}
    return [(k.ToppedUp, context.here | given)]


def _ants_above(context: AnswerContext) -> list[Saying]:
    number = counted_or_one(context)
    return [context.saying(k.BarrierSeen, state="breached", ants_above=number)]


_TOPPED_UP = "p"  # the key of what puts a barrier right


def _barrier_set(context: AnswerContext) -> Begun:
    """The line that says what keeps ants out from now, begun."""
    whose, is_shelf = context.due.where, context.due.place_kind == "shelf"
    return Begun(f"shelf set up '{whose}' " if is_shelf else f"{whose} changed barrier=", "moat")


def _ants_there(context: AnswerContext) -> list[Saying]:
    number = {"ants_above": context.whole} if context.whole else {}
    return [(k.BarrierSeen, context.here | {"state": "ants"} | number)]


_NO_BARRIER = Question(
    "Are ants there? No barrier is on record.",
    (
        Answer("0", "none", say(k.BarrierSeen, state="no ants")),
        Answer("a", "ants there", _ants_there, HOW_MANY_ANTS),
        Answer("b", "barrier set", lambda context: [], prompt=_barrier_set),
    ),
)
_DRY = Answer("e", "dry", _seen("dry"))
_DIRTY = Answer("r", "dirty", _seen("dirty"))
_BRIDGED = Answer("b", "bridged", _seen("bridged"))
_STICKY = (
    Answer("space", "sound all round", _seen("sound"), usual=True),
    Answer("p", "renewed", _topped_up),
    _DRY,
    _DIRTY,
    _BRIDGED,
    Answer("a", "ant above it", _ants_above, HOW_MANY_ANTS),
)


def ask(bench: Bench, due: Due, container: Container | None, now: datetime | None) -> Question:
    """Of a sticky band or grease; of a barrier that is not in order, which nobody takes for sound
    unseen: the usual answer is that it stands as it did, the likeliest that it was put right."""
    is_shelf = due.place_kind == "shelf"
    barrier = bench.barrier_named(*("", due.where) if is_shelf else (due.where, ""))
    question = Question(f"How is the {barrier}?", _STICKY) if barrier in STICKY else CHECK.question
    if is_shelf:
        moat = bench.shelves[due.where].moat
    elif container is not None:
        moat = bench.moat_of(container)[2]
    else:
        return question
    if barrier not in BARRIERS_LOOKED_AT:
        return _of_no_barrier(moat)
    stands = barrier_standing(bench, barrier, moat, now or moat.seen or due.due)
    return _not_in_order(question, stands, moat, barrier) if stands.wants else question


def _of_no_barrier(moat: Moat) -> Question:
    """Whether ants are there; of those that were seen the usual answer is that they are."""
    if not moat.is_passed:
        return _NO_BARRIER
    number = {"ants_above": moat.ants_above} if moat.ants_above else {}
    as_before = say(k.BarrierSeen, state="ants", **number)
    usual = Answer("space", "ants as before", as_before, usual=True)
    return replace(_NO_BARRIER, answers=(usual, *_NO_BARRIER.answers), first=("0",))


def _not_in_order(
    question: Question, stands: BarrierStanding, moat: Moat, barrier: Barrier
) -> Question:
    """The question about a barrier that is low, dry, dirty or passed: 'full' is not offered but
    as a depth that is read."""
    if moat.ants_above:
        stood = _above(count(moat.ants_above, "ant"), barrier)
        as_before = say(k.BarrierSeen, state="breached", ants_above=moat.ants_above)
    else:
        stood, as_before = stands.state, _seen(stands.state)
    usual = Answer("space", f"{stood} as before", as_before, usual=True)
    read = [
        replace(answer, key="enter", label="read", must=True, usual=False)
        for answer in question.answers
        if answer.by_enter
    ]
    others = [answer for answer in question.answers if not answer.usual]
    if not stands.is_seen:  # a forecast is no reading: Space says nothing that nobody read
        likeliest = (_DRY.key, _TOPPED_UP) if stands.state == "dry" else (_TOPPED_UP,)
        return replace(question, answers=(*others, *read), first=likeliest)
    same = next((one for one in others if f"{one.label} as before" == usual.label), None)
    if same is not None:  # one answer with both keys, not two that say the same
        usual = replace(same, label=usual.label, usual=True)
        others.remove(same)
    return replace(question, answers=(usual, *others, *read), first=(_TOPPED_UP,))


CHECK = Check(
    name="ants",
    help="Full or sticky, clean, nothing bridging it; an ant past it is the alarm.",
    value=Value(15, 0.15, 0.004),
    severity=3,
    place=30,
    answered_by=("barrier", "topped up"),
    closes="better",
    once_more=True,
    rules=(
        Rule(
            when=BARRIER,
            daily=True,
            **hours(late=30, urgent=48),
            basis=(
                f"seen once a day, a moat topped up every day or two: {COMMON}; sooner if its"
                " own loss says that it is low; late and urgent hours: our estimate"
            ),
        ),
        Rule(
            when=FAILED,
            **hours(0, late=0, urgent=0, danger=2),
            basis=f"dry, bridged or with an ant past it: {COMMON}; {DANGER}",
        ),
    ),
    of_bench=of_bench,
    elsewhere=is_elsewhere,
    glance=glance,
    asked_of=asked_of,
    lasts=lasts,
    question=Question(
        "How is the ant barrier?",
        (
            # a look tells 'not low'; how full it is, a depth or that it was filled
            Answer("space", "not low", _seen(NOT_LOW, "full"), DEPTH, by_enter=True, usual=True),
            Answer("p", "topped up", _topped_up, DEPTH),
            Answer("k", "low", _seen("low"), DEPTH),
            _DRY,
            _DIRTY,
            _BRIDGED,
            Answer("a", "ant above the water", _ants_above, HOW_MANY_ANTS),
        ),
    ),
    ask=ask,
    helped=(Helped("", outside=True),),
    cautions=("insecticide",),
)
