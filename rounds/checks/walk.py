"""One walk along the bench: its stops, and what each asks.

All of it follows from the bench, so that a walk that was broken off goes on where it was left.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime

from msgspec import Struct, structs

from rounds.bench.codes import counted
from rounds.bench.state import Bench, Container, Round
from rounds.checks.due import all_dues
from rounds.checks.due_state import (
    Due,
    PlaceKind,
    container_of,
    how_bad,
    pressing,
    standing,
    worst_first,
)
from rounds.checks.facts import left_be_until
from rounds.checks.glance import asked_along
from rounds.checks.registry import ANSWERED_BY, CHECKS, asked_elsewhere
from rounds.checks.round_clock import Moment
from rounds.checks.walking_order import GROUPS, OrderKey, group_of, order_key, wash_before

_GROUP_OF_KIND: dict[PlaceKind, str] = {"room": GROUPS[0], "shelf": GROUPS[0], "book": "host store"}
_LAST = 20_000  # the book's own checks come last among the room and shelves
# passed over once it comes back at the end of the walk, twice it waits for the next one
SKIPS_THAT_END_IT = 2

Place = tuple[PlaceKind, str]


class Stop(Struct, frozen=True):
    """One stop of the walk: a place, what it asks, and what was answered or passed over so far.

    ``left_out``: what the round in some minutes asks last, passed over or not. ``out_of_turn``: it
    comes before others of its group because an animal is in danger there. ``comes_back``: it was
    passed over once in this walk.
    """

    where: str
    place_kind: PlaceKind
    group: str
    checks: tuple[Due, ...]
    answered: frozenset[str] = frozenset()
    skipped: frozenset[str] = frozenset()
    left_out: frozenset[str] = frozenset()
    wash_before: bool = False
    out_of_turn: bool = False
    comes_back: bool = False

    @property
    def open_checks(self) -> tuple[Due, ...]:
        """What is neither answered nor passed over."""
        closed = self.answered | self.skipped
        return tuple(due for due in self.checks if due.check not in closed)


class LeftRound(Struct, frozen=True):
    """A walk that was left, which ended at its last answer, the stops where something stayed open
    then, and whether any of that was not answered since."""

    walk: Round
    open: tuple[Stop, ...]
    stays: bool


class _Said(Struct):
    """What was said so far in a walk, since it began: kinds of entry, checks put off, and how often
    a check was skipped and each kind was said, by place."""

    begun: datetime
    kinds: dict[str, set[str]]
    put_off: set[tuple[str, str]]
    skips: dict[tuple[str, str], int]
    times: Counter[tuple[str, str]]


def asked_by(moment: Moment, walk: Round) -> datetime:
    """Up to when a check must be due to be asked in this walk: the start of the round after it."""
    return moment.next_anchor(moment.round_of(walk.started))


def left_before(
    bench: Bench, moment: Moment, as_it_stood: Callable[[datetime], Bench]
) -> LeftRound | None:
    """The walk that was left before now, up to the first answer in the next one; None where none
    was.

    Args:
        as_it_stood: the bench as it stood at an instant, under the names and rules of now.
    """
    walks = bench.rounds[-1:]
    if walks and walks[0].goes_on(moment.now) and not walks[0].done:
        walks = bench.rounds[-2:-1]
    if not walks or walks[0].finished is not None or walks[0].goes_on(moment.now):
        return None
    ended = walks[0].ended
    then = Moment(ended, moment.zone, moment.anchors)
    left, stay = (
        tuple(stop for stop in stops(one, then, walks[0]) if _was_open(stop, ended))
        for one in (as_it_stood(ended), bench)
    )
    return LeftRound(walks[0], left, bool(stay))


def _was_open(stop: Stop, ended: datetime) -> bool:
    """Whether a stop had something to do when a walk ended: not asked, passed over, or answered but
    not done."""
    return bool(stop.open_checks) or any(standing(due, ended) != "ahead" for due in stop.checks)


def stops(
    bench: Bench, moment: Moment, walk: Round, dues: Iterable[Due] | None = None
) -> tuple[Stop, ...]:
    """The stops of a walk in their order; those passed over come back at the end."""
    said = _said_in(bench, walk)
    until = asked_by(moment, walk)
    asked: dict[Place, dict[str, Due]] = {}
    waiting: dict[Place, list[Due]] = {}
    for due in all_dues(bench, moment) if dues is None else dues:
        place: Place = due.place_kind, due.where
        if asked_elsewhere(due):
            continue
        if _is_asked(due, said, moment.now, until):
            asked.setdefault(place, {}).setdefault(due.check, due)
        elif due.place_kind == "container" and due.put_off_until is None:
            waiting.setdefault(place, []).append(due)
    asked = {
        (kind, where): checks
        for (kind, where), checks in asked.items()
        if where in said.kinds
        or not all(_waits_for_company(due, moment.now, until) for due in checks.values())
    }
    for place, checks in asked.items():
        here = [*checks.values()]
        along = asked_along(
            bench, waiting.get(place, ()), here, moment.now, moment.next_anchor(until)
        )
        checks.update((due.check, due) for due in along)
    for where in said.kinds:
        kind = _kind_of(bench, where)
        if kind is not None:
            asked.setdefault((kind, where), {})
    made = [_stop(bench, moment, walk, place, checks, said) for place, checks in asked.items()]
    made = _danger_first(bench, made, said, moment.now)
    first = [stop for stop in made if stop.open_checks or not stop.skipped]
    again = [_coming_back(stop, said) for stop in made if not stop.open_checks and stop.skipped]
    return tuple(_with_washes([*first, *again]))


def to_wash(bench: Bench, walk: Round, stop: Stop) -> bool:
    """Whether hands are to be washed before a stop: by all that was touched in this walk since they
    last were, whatever it left out or put off."""
    touched: set[str] = set()
    for where, kind in reversed(walk.done):
        if kind == "hands washed":
            return any(wash_before(stop.group, group) for group in touched)
        if where in bench.containers:
            touched.add(group_of(bench.containers[where]))
    return any(wash_before(stop.group, group) for group in touched or {""})


def _said_in(bench: Bench, walk: Round) -> _Said:
    said = _Said(walk.started, {}, set(), {}, Counter(walk.done))
    for where, kind in walk.done:
        said.kinds.setdefault(where, set()).add(kind)
    put_off = [one for one in bench.put_off if one.round == walk.id]
    said.put_off = {(one.container or one.shelf, one.check) for one in put_off}
    for where, check, _ in walk.skipped:
        said.skips[where, check] = said.skips.get((where, check), 0) + 1
    return said


def _is_asked(due: Due, said: _Said, now: datetime, until: datetime) -> bool:
    """Due before the next round begins and not put off since before this one; or answered in it."""
    if (due.where, due.check) in said.put_off:
        return True
    if due.put_off_until is not None and due.put_off_until > now:
        return False
    if due.due < until:
        return True
    kinds = said.kinds.get(due.where)
    return bool(kinds and not CHECKS[due.check].in_passing and ANSWERED_BY[due.check] & kinds)


def _waits_for_company(due: Due, now: datetime, until: datetime) -> bool:
    """Whether nobody goes to a place for a check alone in this round, though it is asked where
    something else is: what takes a moment or is answered in passing, as long as it is not late by
    the next round. What takes a moment is gone for in the round that is nearest to its hour."""
    check = CHECKS[due.check]
    if due.put_off_until is not None or (due.late is not None and due.late < until):
        return False
    if check.along:
        return due.due - now > until - due.due
    return check.in_passing and due.late is not None


def _kind_of(bench: Bench, where: str) -> PlaceKind | None:
    if bench.at(where) is not None:
        return "container"
    return "shelf" if where in bench.shelves else None


def _stop(
    bench: Bench, moment: Moment, walk: Round, place: Place, checks: dict[str, Due], said: _Said
) -> Stop:
    kind, where = place
    container = bench.at(where) if kind == "container" else None
    answered = {
        check for check, due in checks.items() if _is_answered(bench, due, container, moment, said)
    }
    left_out = {check for check, due in checks.items() if _waits(walk, due, moment.now)}
    skipped = ({check for check in checks if _skips(said, where, check)} | left_out) - answered
    group = group_of(container) if container is not None else _GROUP_OF_KIND[kind]
    in_order = _in_order(checks, moment.now)
    return Stop(
        where, kind, group, in_order, frozenset(answered), frozenset(skipped), frozenset(left_out)
    )


def _in_order(checks: dict[str, Due], now: datetime) -> tuple[Due, ...]:
    """The worst first, but what goes before others no later than those: one missing before anything
    is discarded."""
    worst = {name: worst_first(due, now) for name, due in checks.items()}
    for check in [CHECKS[name] for name in checks if CHECKS[name].goes_before is not None]:
        later = [
            worst[name] for name in checks if check.goes_before and check.goes_before(CHECKS[name])
        ]
        worst[check.name] = min([worst[check.name], *later])
    return tuple(
        sorted(checks.values(), key=lambda due: (worst[due.check], CHECKS[due.check].place))
    )


def _danger_first(bench: Bench, made: list[Stop], said: _Said, now: datetime) -> list[Stop]:
    """In the order of the walk; within a group what is in danger goes first, and a stop that was
    begun is finished."""

    def in_danger(stop: Stop) -> bool:
        return any(pressing(due, now) == "in danger" for due in stop.open_checks)

    def key(stop: Stop) -> tuple[int, bool, OrderKey]:
        place = _place_of(bench, stop)
        begun = stop.place_kind in ("container", "shelf") and stop.where in said.kinds
        return place[0], not (begun or in_danger(stop)), place

    in_turn = sorted(made, key=lambda stop: _place_of(bench, stop))
    waits = {
        stop.group: place for place, stop in reversed([*enumerate(in_turn)]) if stop.open_checks
    }
    later = {id(stop) for at, stop in enumerate(in_turn) if at > waits.get(stop.group, at)}
    return [
        structs.replace(stop, out_of_turn=id(stop) in later and in_danger(stop))
        for stop in sorted(made, key=key)
    ]


def worst_elsewhere(stops: Sequence[Stop], place: int, now: datetime) -> tuple[int, Due] | None:
    """The worst check of all that are in danger or urgent, and its stop's position, before it what
    was not passed over; None where that is this stop."""
    graves = [
        (position, due)
        for position, stop in enumerate(stops)
        for due in stop.open_checks
        if pressing(due, now) in ("in danger", "urgent")
    ]
    worst = min(
        graves, key=lambda one: (stops[one[0]].comes_back, how_bad(one[1], now)), default=None
    )
    return None if worst is None or worst[0] == place else worst


def _waits(walk: Round, due: Due, now: datetime) -> bool:
    """Whether a check is left for what is left of the time; what cannot wait is not."""
    return (
        bool(walk.later)
        and f"{due.where}: {due.check}" in walk.later
        and pressing(due, now) not in ("in danger", "urgent")
    )


def _skips(said: _Said, where: str, check: str) -> int:
    return said.skips.get((where, check), 0) + said.skips.get((where, ""), 0)


def _is_answered(
    bench: Bench, due: Due, container: Container | None, moment: Moment, said: _Said
) -> bool:
    if (due.where, due.check) in said.put_off:
        return True
    check = CHECKS[due.check]
    kinds = said.kinds.get(due.where, set())
    if kinds.intersection(check.closed_by):
        return True
    if not ANSWERED_BY[due.check] & kinds or check.closes == "gone":
        return False
    if container and check.partly and check.partly(bench, container, due, moment):
        return False
    looks = sum(said.times[due.where, kind] for kind in ANSWERED_BY[due.check])
    seen_late = due.reason and due.late is not None and said.begun <= due.late <= moment.now
    if check.once_more and seen_late and looks == 1:
        return False
    if container is not None and left_be_until(container, moment.now) is not None:
        return True  # it is only looked at, and nothing can be put right before
    # Urgent by what was seen stays open until it is put right; by age alone it is answered by a
    # look: eyes beat the clock.
    return not (
        check.closes == "better"
        and due.reason
        and due.urgent is not None
        and due.urgent <= moment.now
    )


def _coming_back(stop: Stop, said: _Said) -> Stop:
    """A stop at the end of the walk asks again what was passed over once."""
    for_good = frozenset(
        check for check in stop.skipped if _skips(said, stop.where, check) >= SKIPS_THAT_END_IT
    )
    was_passed_over = any(_skips(said, stop.where, check) for check in stop.skipped)
    return structs.replace(stop, skipped=for_good, comes_back=was_passed_over)


def _place_of(bench: Bench, stop: Stop) -> OrderKey:
    container = container_of(bench, stop)
    if container is not None:
        return order_key(bench, container)
    shelf = bench.shelves.get(stop.where)
    rank = {"room": -1, "shelf": shelf.place if shelf else 0, "book": _LAST}.get(stop.place_kind, 0)
    return GROUPS.index(stop.group), rank, counted(stop.where), 0, (), False, 0, (), ""


def _with_washes(ordered: list[Stop]) -> list[Stop]:
    """A wash of the hands stands before the first stop of each dirtier group, and before going back
    from one."""
    before = ["", *(stop.group for stop in ordered)]
    return [
        structs.replace(stop, wash_before=wash_before(stop.group, group))
        for stop, group in zip(ordered, before, strict=False)
    ]
