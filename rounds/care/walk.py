"""One walk along the bench: its stops, what each asks, and what the end of it says.

All of it follows from the bench, so that a walk that was broken off goes on where it was left.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from msgspec import Struct

from rounds.bench.state import Bench, Round
from rounds.care.checks import ANSWERED_BY, CHECKS
from rounds.care.due import Due, PlaceKind, all_dues, standing
from rounds.care.moment import Moment
from rounds.care.order import GROUPS, WASH_BEFORE, group_of, order_key

# Within a stop: animals first, what hurts most first.
_ASKED_IN = (
    "room", "heat", "ants", "release", "look", "still", "wings", "drink", "feeder", "host", "eggs", "change", "leaf",
    "food", "clean", "count", "balance", "frass", "keep", "air", "mist", "hatch late", "emerge late", "quarantine",
    "store", "solution", "permit", "lamp",
)  # fmt: skip


class Stop(Struct, frozen=True):
    """One stop of the walk: a place, what it asks, and what was answered or passed over so far."""

    where: str
    place_kind: PlaceKind
    group: str
    checks: tuple[Due, ...]
    answered: frozenset[str] = frozenset()
    skipped: frozenset[str] = frozenset()
    wash_before: bool = False

    @property
    def open_checks(self) -> tuple[Due, ...]:
        """What is neither answered nor passed over."""
        return tuple(due for due in self.checks if due.check not in self.answered and due.check not in self.skipped)


def asked_by(moment: Moment, walk: Round) -> datetime:
    """Up to when a check must be due to be asked in this walk: the start of the round after it."""
    return moment.next_anchor(max(walk.started, moment.present_round[0]))


def stops(bench: Bench, moment: Moment, walk: Round, dues: Iterable[Due] | None = None) -> tuple[Stop, ...]:
    """The stops of a walk in their order; those passed over come back at the end."""
    until = asked_by(moment, walk)
    asked: dict[tuple[PlaceKind, str], list[Due]] = {}
    for due in all_dues(bench, moment) if dues is None else dues:
        held_back = due.put_off_until is not None and due.put_off_until > moment.now
        if due.due < until and not held_back:
            asked.setdefault((due.place_kind, due.where), []).append(due)
    for where, check in _answered_in(walk):
        kind = _kind_of(bench, where)
        known = asked.setdefault((kind, where), [])
        if all(due.check != check for due in known):
            known.append(_answered_due(bench, kind, where, check, walk))
    made = [_stop(bench, walk, kind, where, checks) for (kind, where), checks in asked.items() if checks]
    made = [stop for stop in made if stop.checks]
    made.sort(key=lambda stop: _place(bench, stop))
    again = [_comes_back(stop) for stop in made if not stop.open_checks and stop.skipped]
    return tuple(_with_washes([stop for stop in made if stop.open_checks or not stop.skipped] + again))


def _kind_of(bench: Bench, where: str) -> PlaceKind:
    if where in bench.containers:
        return "container"
    return "shelf" if where in bench.shelves else "room"


def _answered_in(walk: Round) -> set[tuple[str, str]]:
    """What was answered in this walk that a stop had asked: the first check in order that an entry answers."""
    found: set[tuple[str, str]] = set()
    for where, what in walk.done:
        for check in _ASKED_IN:
            if what in ANSWERED_BY[check] and _told_by(check, what):
                found.add((where, check))
                break
    return found


def _told_by(check: str, what: str) -> bool:
    """Whether that entry alone tells that the check was asked and answered."""
    return CHECKS[check].answered_by[0] == what


def _answered_due(bench: Bench, kind: PlaceKind, where: str, check: str, walk: Round) -> Due:
    container = bench.containers.get(where)
    last = container.last.get(CHECKS[check].answered_by[0]) if container else None
    return Due(where, kind, check, walk.started, last=last, severity=CHECKS[check].severity)


def _stop(bench: Bench, walk: Round, kind: PlaceKind, where: str, checks: list[Due]) -> Stop:
    said = {what for place, what in walk.done if place == where}
    answered = frozenset(due.check for due in checks if ANSWERED_BY[due.check] & said and not _still_pressing(due, walk))
    skipped = frozenset(check for place, check, _ in walk.skipped if place == where)
    put_off = frozenset(due.check for due in checks if due.put_off_until and due.put_off_until > walk.started)
    container = bench.containers.get(where) if kind == "container" else None
    ordered = sorted(checks, key=lambda due: _ASKED_IN.index(due.check))
    once: dict[str, Due] = {}
    for due in ordered:
        once.setdefault(due.check, due)
    return Stop(
        where,
        kind,
        group_of(container) if container else ("host store" if kind == "book" else GROUPS[0]),
        tuple(once.values()),
        answered | put_off,
        skipped - answered,
    )


def _still_pressing(due: Due, walk: Round) -> bool:
    """Answered with something that wants doing at once: a dry moat, a bare plant."""
    pressing = due.check in ("ants", "food", "heat", "leaf") and due.reason
    return bool(pressing and due.red is not None and due.since is not None and due.since >= walk.started)


def _comes_back(stop: Stop) -> Stop:
    return Stop(stop.where, stop.place_kind, stop.group, stop.checks, stop.answered, frozenset())


def _place(bench: Bench, stop: Stop) -> tuple[int, int, str, int, str]:
    container = bench.containers.get(stop.where) if stop.place_kind == "container" else None
    if container:
        return order_key(bench, container)
    shelf = bench.shelves.get(stop.where)
    rank = {"room": -1, "shelf": shelf.place if shelf else 0, "book": 20_000}.get(stop.place_kind, 0)
    return GROUPS.index(stop.group), rank, stop.where, 0, ""


def _with_washes(ordered: list[Stop]) -> list[Stop]:
    """A wash of the hands stands before the first stop of each dirtier group."""
    washed: list[Stop] = []
    before = ""
    for stop in ordered:
        wash = stop.group in WASH_BEFORE and stop.group != before
        washed.append(Stop(stop.where, stop.place_kind, stop.group, stop.checks, stop.answered, stop.skipped, wash))
        before = stop.group
    return washed


def closing_words(bench: Bench, moment: Moment) -> list[str]:
    """What the end of a walk says: what is open, the night's hatches, lamps on, when to be back."""
    dues = all_dues(bench, moment)
    words = _still_open(moment, dues)
    words += _night_watch(bench)
    words += [
        f"A lamp is still on at {one.code}, since {one.lamp_since.astimezone(moment.zone):%H:%M}."
        for one in bench.standing()
        if one.lamp_since
    ]
    ahead = sorted(due.amber or due.due for due in dues if standing(due, moment.now) == "ahead" and due.severity > 1)
    if ahead:
        back = ahead[0].astimezone(moment.zone)
        words.append(f"Be back by {back:%a %H:%M}.")
    return words


def _still_open(moment: Moment, dues: list[Due]) -> list[str]:
    rank = {"red": 0, "late": 1, "due": 2}
    far = timedelta(days=3650)
    now = moment.now
    open_now = [due for due in dues if standing(due, now) != "ahead"]
    open_now.sort(key=lambda due: (rank[standing(due, now)], -due.severity, (due.harm - now) if due.harm else far))
    words = []
    for due in open_now[:3]:
        state = {"red": "LATE!", "late": "LATE", "due": "due"}[standing(due, now)]
        place = f"shelf {due.where}" if due.place_kind == "shelf" else (due.where or "the room")
        words.append(f"Open: {place}, {CHECKS[due.check].verb}, {state}.")
    return words


def _night_watch(bench: Bench) -> list[str]:
    words = []
    for container in bench.standing():
        if container.sign == "darkening" and container.count("egg"):
            food = container.last.get("host in")
            since = container.sign_since
            fed = food is not None and since is not None and food.at >= since - timedelta(hours=12)
            words.append(f"May hatch before morning: {container.code}. Tender leaf {'is in' if fed else 'NOT in yet'}.")
        if container.sign == "colouring":
            words.append(f"May emerge by morning: {container.code}. Is there a free climb?")
    return words
