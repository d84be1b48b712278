"""Every check of the bench with its hours: when due, late, urgent, and when an animal is in danger.

The hours are absolute and do not depend on now, but for rounds that went by; words are only made
when asked.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date

from msgspec.structs import replace

from rounds.bench.diapause import out_of_place, purpose_of
from rounds.bench.folding.not_seen import as_if_seen, may_hide
from rounds.bench.plants_of import PlantsOnRecord
from rounds.bench.state import Bench, Container, Lot, Shortfall
from rounds.bench.winter import LATE_WINTER_FROM, LATE_WINTER_TO, is_southern
from rounds.checks.due_state import Due, PlaceKind
from rounds.checks.facts import (
    LEFT_BE,
    OTHERS_MOVE,
    STAGE_BITS,
    ContainerContext,
    DueContext,
    Facts,
    Species,
    facts_of,
)
from rounds.checks.kept_dues import Held, KeptDues
from rounds.checks.moult import waits_for_moult
from rounds.checks.plan import Plan, plan_of
from rounds.checks.reckon import Reckoner, TimedRule, asked_since_known, known_since
from rounds.checks.registry import CHECKS, timed
from rounds.checks.round_clock import Moment, WatchedMoment
from rounds.checks.rule import Rule
from rounds.entries.registry import PutOff
from rounds.forecasts.foresight import Forecasts

SET_UP_FOR = {
    "overwintering": "awake, but the cup is set up for winter",
    "host store": "animals live here, but the cup is set up as a host store",
}


def all_dues(
    bench: Bench,
    moment: Moment,
    foresight: Forecasts | None = None,
    kept: KeptDues | None = None,
) -> list[Due]:
    """Every check of the bench, due or ahead, in no particular order.

    Args:
        foresight: what is coming on this very bench, where it was made before.
        kept: what was reckoned before of each container under the plan of the bench, and is kept.
    """
    plan = plan_of(bench)
    foresight = foresight or Forecasts(bench, moment.zone)
    watched = WatchedMoment(moment)
    reckoning = _reckoning(bench, watched, plan, foresight)
    kept = kept or KeptDues()
    kept.begin(bench, moment, tuple(bench.plan), foresight, reckoning.late_winter)
    kept.of_bench.append(Held(watched.until, watched.moves))
    own = plan.own_codes
    dues: list[Due] = []
    tables: dict[object, tuple[tuple[Reckoner, TimedRule], ...]] = {}

    def of_container(container: Container) -> list[Due]:
        context, facts = facts_of(reckoning, container)
        key: object = (context.code, facts) if own and context.code in own else facts
        table = tables.get(key)
        if table is None:
            table = tables[key] = _table(reckoning, plan, container, Facts(*facts))
        return [due for reckon, rule in table if (due := reckon(context, rule)) is not None]

    def of_all_in(container: Container) -> list[Due]:
        animals = out_of_place(bench, container)
        if not animals:
            return of_container(container)
        return _of_those_out_of_place(container, animals, of_container)

    hidden = may_hide(bench)
    for code, container in bench.containers.items():
        if container.closed is not None:
            continue
        known = kept.of(code, moment.now)
        if known is None:
            watched.begin()
            found = of_all_in(container)
            if code in hidden:
                found += _of_those_not_seen(container, hidden[code], of_all_in)
            for off in reckoning.put_off.get(code, {}).values():
                watched.passed(off.until)
            asked = list(_asked_since_known(found, bench, watched))
            until, by_the_hour, moves = watched.until, watched.asked, watched.moves
            known = kept.keep(code, asked, moment.now, until, by_the_hour=by_the_hour, moves=moves)
        dues += known
    watched.begin()
    for due in _of_bench(reckoning, plan):
        dues += _asked_since_known([due], bench, watched)
    kept.of_bench.append(Held(watched.until, watched.moves))
    return dues


def _asked_since_known(dues: list[Due], bench: Bench, moment: Moment) -> Iterator[Due]:
    """The same checks of one place, none of which nobody said when due before that was written
    down; a clock that was ahead may have written it down."""
    known = known_since(dues[0], bench, moment) if dues else None
    for due in dues:
        yield asked_since_known(due, known, bench)


def _of_those_out_of_place(
    container: Container, animals: list[Lot], of_container: Callable[[Container], list[Due]]
) -> list[Due]:
    """The checks of a container with animals that it was not set up for: theirs as they are
    anywhere, then of what it was set up for what is not asked already."""
    began = min((lot.since for lot in animals if lot.since is not None), default=container.since)
    as_if = replace(
        container,
        purpose=purpose_of(animals),
        lots=animals,
        purpose_since=began,
        purpose_before=container.purpose,
    )  # what they need, they need since they woke, hatched or came
    theirs = [_told_too(due, SET_UP_FOR[container.purpose]) for due in of_container(as_if)]
    asked = {due.check for due in theirs}
    rest = [lot for lot in container.lots if lot not in animals]
    if not rest and container.purpose != "host store":
        return theirs
    others = of_container(replace(container, lots=rest))
    return theirs + [due for due in others if due.check not in asked]


def _of_those_not_seen(
    container: Container, missed: list[Shortfall], of_all_in: Callable[[Container], list[Due]]
) -> list[Due]:
    """What the plant may hide lives on until it is known what became of it: food and a look, where
    nobody else there asks."""
    there = as_if_seen(container, missed)
    if there is None:
        return []
    number = sum(shortfall.number for shortfall in missed if not container.count(shortfall.stage))
    words = f"{number} not seen may be {'in the plant' if container.hosts else 'there'} still"
    asked = {due.check for due in of_all_in(container)}
    return [
        _told_too(due, words)
        for due in of_all_in(there)
        if CHECKS[due.check].of_unseen and due.check not in asked
    ]


def _told_too(due: Due, words: str) -> Due:
    """A check that says that too among what makes it pressing."""
    return replace(due, reason="; ".join(filter(None, (due.reason, words))))


def _reckoning(bench: Bench, moment: Moment, plan: Plan, foresight: Forecasts) -> DueContext:
    put_off: dict[str, dict[str, PutOff]] = {}
    for off in bench.put_off:
        if not moment.passed(off.until):
            put_off.setdefault(off.container or off.shelf, {})[off.check] = off
    species, on_record, is_late = (
        Species(bench),
        PlantsOnRecord(bench),
        is_late_winter(bench, moment),
    )
    return DueContext(
        bench, moment, put_off, species, is_late, foresight, plan.rules_for, on_record
    )


def is_late_winter(bench: Bench, moment: Moment) -> bool:
    """Whether resting stock is past midwinter, by the bench's latitude; in the north where none is
    set."""
    today: date = moment.today
    late_in_north = LATE_WINTER_FROM <= (today.month, today.day) < LATE_WINTER_TO
    return late_in_north != is_southern(bench)


def _table(
    reckoning: DueContext, plan: Plan, container: Container, facts: Facts
) -> tuple[tuple[Reckoner, TimedRule], ...]:
    """What is asked of containers that are alike: one rule a check."""
    fitting = [rule for rule in plan.rules_for(container) if fits(rule, facts)]
    usual = _best(rule for rule in fitting if rule.when.began is None)
    return tuple(
        (_reckoner(rule, usual.get(rule.check)), timed(rule)) for rule in _best(fitting).values()
    )


def _best(rules: Iterable[Rule]) -> dict[str, Rule]:
    """The rule of each check."""
    best: dict[str, Rule] = {}
    for rule in rules:
        known = best.get(rule.check)
        if known is None or _preference(rule) < _preference(known):
            best[rule.check] = rule
    return best


def _reckoner(rule: Rule, usual: Rule | None) -> Reckoner:
    """How a rule is reckoned; one that counts from a keeper's word asks no later than the usual
    one would."""
    check = CHECKS[rule.check]
    reckon: Reckoner = check.reckon
    if rule.when.began is not None and usual is not None:
        reckon = _no_later_than(timed(usual), reckon)
    return waits_for_moult(reckon) if check.disturbs and rule.stage == "larva" else reckon


def _no_later_than(usual: TimedRule, reckon: Reckoner) -> Reckoner:
    """The one that is urgent first, due no later than the other."""

    def sooner(context: ContainerContext, rule: TimedRule) -> Due | None:
        dues = [due for one in (rule, usual) if (due := reckon(context, one))]
        first = min(dues, key=lambda due: due.urgent or due.late or due.due, default=None)
        return first and replace(first, due=min(due.due for due in dues))

    return sooner


def fits(rule: Rule, facts: Facts) -> bool:
    """Whether a rule applies to a container with those facts."""
    check = CHECKS[rule.check]
    if check.of_bench is not None or (rule.stage and not facts.stages & STAGE_BITS[rule.stage]):
        return False
    around = check.around and facts.flags & OTHERS_MOVE
    if facts.flags & LEFT_BE and check.disturbs and not around:
        return False
    return rule.when.holds(facts) and check.needs(facts)


def _preference(rule: Rule) -> tuple[bool, float]:
    """One with a condition before one without, then the one that asks most often."""
    return rule.condition == "", rule.period_h or 0.0


def _of_bench(reckoning: DueContext, plan: Plan) -> Iterator[Due]:
    """Every check that goes by no container's facts: barriers, limits, room and air, what was not
    seen."""
    for check in CHECKS.values():
        if check.of_bench is not None:
            yield from check.of_bench(reckoning, _RuleOf(plan, check.name))


class _RuleOf:
    """The rules of a check, ready for each container, shelf, room and book."""

    def __init__(self, plan: Plan, check: str) -> None:
        self._plan, self._check = plan, check
        self._known: dict[tuple[str, str, str], TimedRule | None] = {}

    def __call__(self, condition: str, container: Container | None = None) -> TimedRule | None:
        purpose = container.purpose if container is not None else ""
        code = container.code if container is not None else ""
        key = condition, purpose, code if code in self._plan.own_codes else ""
        if key not in self._known:
            rule = self._plan.rule(self._check, condition, container)
            self._known[key] = timed(rule) if rule is not None else None
        return self._known[key]


def chosen(bench: Bench, dues: Iterable[Due], moment: Moment, check: str, code: str) -> Due:
    """The check of that name for a container: the one the plan asks, else one made for the
    occasion.

    A barrier is asked of whatever guards the container.
    """
    kind: PlaceKind = "container"
    where, container, asked_of = code, bench.at(code), CHECKS[check].asked_of
    if asked_of is not None and container is not None:
        kind, where = asked_of(bench, container)
    for due in dues:
        if (due.check, due.where, due.place_kind) == (check, where, kind):
            return due
    return Due(where, kind, check, moment.now, severity=CHECKS[check].severity)
