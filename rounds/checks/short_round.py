"""A round in the minutes there are: which checks of its stops save most in that time, and what
leaving out the others may cost.

What is in danger or urgent is always taken, whatever it takes. Of the rest the checks that save
most a minute are taken, the way to a stop included, until the time is used; where time is left
then, what is not due yet goes along, as it does in a round without a limit. The walk keeps its
order, hygiene first.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import timedelta

from msgspec import Struct, structs

from rounds.bench.folding.looks_made import STEP_S
from rounds.bench.state import Bench, Round
from rounds.checks.due_state import Due, pressing
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.checks.walk import Stop, stops
from rounds.checks.worth import Worth, worth_of
from rounds.forecasts.foresight import Forecasts

WASH_S = 40.0  # hands washed on the way; our estimate
# of the minutes, for what a round brings up besides (those that hatched, a wet cup): who is out of
# time loses the end of the walk, where the females are; our estimate
SPARE = 0.12
CANNOT_WAIT = frozenset({"in danger", "urgent"})
EARLY = timedelta(hours=2)  # a round is begun so long before its hour; our estimate


class WeighedCheck(Struct, frozen=True):
    """One check of a stop with what it is worth."""

    stop: Stop
    due: Due
    worth: Worth


class ShortRound(Struct, frozen=True):
    """What a round takes in so many minutes, and what it leaves out, each in the order of the walk.

    ``seconds`` is what it takes with the ways, ``all_seconds`` what all of it would take.
    """

    minutes: float
    taken: tuple[WeighedCheck, ...]
    left: tuple[WeighedCheck, ...]
    seconds: float
    all_seconds: float
    stops: int

    @property
    def is_longer(self) -> bool:
        """Whether what cannot wait takes longer than there is time."""
        return self.seconds > self.minutes * 60

    @property
    def taken_stops(self) -> int:
        """At how many stops something is asked."""
        return len({id(weighed_check.stop) for weighed_check in self.taken})

    @property
    def may_cost(self) -> float:
        """How many animals are lost, on the average, by what is left out."""
        return sum(weighed_check.worth.lost for weighed_check in self.left)

    @property
    def later(self) -> tuple[str, ...]:
        """The checks that are left out, as the line that begins the round names them."""
        return tuple(f"{one.due.where}: {one.due.check}" for one in self.left)


def short_round(
    bench: Bench, moment: Moment, minutes: float, dues: Iterable[Due], foresight: Forecasts
) -> ShortRound:
    """The round that begins now, in so many minutes; 0 takes all of it."""
    walk = Round("", "", moment.now, "", answered=moment.now)
    asked = stops(bench, moment, walk, dues)
    weighed = [
        weigh(bench, stop, due, moment, foresight) for stop in asked for due in stop.open_checks
    ]
    chosen = _chosen(weighed, (1 - SPARE) * minutes * 60, moment) if minutes else weighed
    ids = {id(one) for one in chosen}
    left = tuple(one for one in weighed if id(one) not in ids)
    takes, all_of_it = seconds_for(chosen), seconds_for(weighed)
    return ShortRound(minutes, tuple(chosen), left, takes, all_of_it, len(asked))


def weigh(bench: Bench, stop: Stop, due: Due, moment: Moment, foresight: Forecasts) -> WeighedCheck:
    """A check with its worth; of one that is not due yet, and in no danger before the next round,
    nothing is lost."""
    worth = worth_of(bench, due, moment, foresight)
    in_danger = due.danger is not None and due.danger <= moment.round_after
    is_due = due.due <= moment.now + EARLY or in_danger
    return WeighedCheck(stop, due, worth if is_due else structs.replace(worth, each=0.0))


def seconds_for(checks: Sequence[WeighedCheck]) -> float:
    """How long some checks take with the ways to their stops."""
    ways = {id(weighed_check.stop): _way(weighed_check.stop) for weighed_check in checks}
    return sum(check.worth.seconds for check in checks) + sum(ways.values())


def _way(stop: Stop) -> float:
    return STEP_S + (WASH_S if stop.wash_before else 0.0)


def _chosen(weighed: Sequence[WeighedCheck], limit: float, moment: Moment) -> list[WeighedCheck]:
    """What cannot wait, then what saves most a minute, in the order of the walk."""
    taken = {id(one): one for one in weighed if pressing(one.due, moment.now) in CANNOT_WAIT}
    for one in list(taken.values()):
        taken |= {id(other): other for other in _goes_before(one, weighed)}
    at = {id(weighed_check.stop) for weighed_check in taken.values()}
    used = seconds_for(list(taken.values()))

    def take(*together: WeighedCheck) -> None:
        """Take these, the first with what goes before it, where there is time for them."""
        nonlocal used
        more = sum(other.worth.seconds for other in together) + _extra(together[0], at)
        if used + more <= limit:
            taken.update((id(other), other) for other in together)
            at.add(id(together[0].stop))
            used += more

    # Twice: once a stop is walked to, what else is asked there costs no way any more.
    for _ in range(2):
        in_order = sorted(
            weighed, key=lambda one: -one.worth.lost / (one.worth.seconds + _extra(one, at))
        )
        for one in in_order:
            if id(one) in taken or one.worth.lost <= 0:
                continue
            take(one, *(other for other in _goes_before(one, weighed) if id(other) not in taken))
    for one in weighed:  # what is not due yet goes along where there is time, as in a whole round
        if id(one) in taken or one.worth.lost > 0:
            continue
        if all(id(other) in taken for other in _goes_before(one, weighed)):
            take(one)
    return [check for check in weighed if id(check) in taken]


def _extra(weighed_check: WeighedCheck, at: set[int]) -> float:
    return 0.0 if id(weighed_check.stop) in at else _way(weighed_check.stop)


def _goes_before(
    weighed_check: WeighedCheck, weighed: Sequence[WeighedCheck]
) -> list[WeighedCheck]:
    """The checks of the same stop that must be asked before it."""
    return [
        other
        for other in weighed
        if other.stop is weighed_check.stop
        and other is not weighed_check
        and (before := CHECKS[other.due.check].goes_before) is not None
        and before(CHECKS[weighed_check.due.check])
    ]
