"""A check of one place with its hours, and how it stands at an instant."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Literal, Protocol, TypeVar

from msgspec import Struct

if TYPE_CHECKING:  # how a check stands is told without any of these
    from rounds.bench.state import Bench, Container
    from rounds.checks.rule import Rule
    from rounds.entries.base import Entry

PlaceKind = Literal["container", "shelf", "room", "book"]
DueState = Literal["ahead", "due", "late", "urgent"]
Pressing = Literal["in danger", "urgent", "late", "due", "ahead"]
PRESSING: tuple[Pressing, ...] = ("in danger", "urgent", "late", "due", "ahead")  # the worst first
AHEAD = PRESSING.index("ahead")


FAR = timedelta(days=3650)  # of what can do no harm


class Due(Struct, frozen=True, gc=False):
    """One check of one place.

    All instants are in UTC. ``since`` is what the hours count from. ``last`` is the entry that
    answered it last. ``subject`` is the founder, brood, plant or food that it is about; of a
    barrier, whose it is where it is not the container's own. ``reason`` is what was seen that makes
    it pressing; ``lasts`` why it is due at another time than by the rule, with the hours that hold.
    Nothing it holds refers back to it, so that it need not be tracked by the garbage collector.
    """

    where: str
    place_kind: PlaceKind
    check: str
    due: datetime
    late: datetime | None = None
    urgent: datetime | None = None
    danger: datetime | None = None
    severity: int = 1
    rule: Rule | None = None
    since: datetime | None = None
    last: Entry | None = None
    put_off_until: datetime | None = None
    subject: str = ""
    reason: str = ""
    lasts: str = ""

    @property
    def is_limit(self) -> bool:
        """Whether it is of what must be over by a time, as a permit or a promise."""
        return self.rule is not None and self.rule.before_limit


class AtPlace(Protocol):
    """What is about one place: a due check, a stop of a walk."""

    @property
    def where(self) -> str: ...
    @property
    def place_kind(self) -> PlaceKind: ...


class Timed(AtPlace, Protocol):
    """What has the hours of a check: the check, or the line that tells it."""

    @property
    def check(self) -> str: ...
    @property
    def due(self) -> datetime: ...
    @property
    def late(self) -> datetime | None: ...
    @property
    def urgent(self) -> datetime | None: ...
    @property
    def danger(self) -> datetime | None: ...
    @property
    def severity(self) -> int: ...
    @property
    def since(self) -> datetime | None: ...
    @property
    def put_off_until(self) -> datetime | None: ...
    @property
    def is_limit(self) -> bool: ...


AnyTimed = TypeVar("AnyTimed", bound=Timed)


def place_name(of: AtPlace) -> str:
    """What its place is called: a container by its code, ``shelf sill``, ``the room``, ``the
    book``."""
    return f"shelf {of.where}" if of.place_kind == "shelf" else of.where or f"the {of.place_kind}"


def standing(due: Timed, now: datetime) -> DueState:
    """Whether a check is ahead, due, late or urgent.

    One put off is ahead until then.
    """
    if now.tzinfo is not UTC:
        now = now.astimezone(UTC)
    if due.put_off_until is not None and due.put_off_until > now:
        return "ahead"
    if due.urgent is not None and now >= due.urgent:
        return "urgent"
    if due.late is not None and now >= due.late:
        return "late"
    return "due" if now >= due.due else "ahead"


def container_of(bench: Bench, of: AtPlace) -> Container | None:
    """The standing container that a check or stop is about; None if it is about another place."""
    return bench.at(of.where) if of.place_kind == "container" else None


def past_limit(due: Timed, now: datetime) -> bool:
    """Whether a limit, of a permit or a promise, has gone by: said before anything else."""
    return due.is_limit and standing(due, now) == "urgent"


def pressing(due: Timed, now: datetime) -> Pressing:
    """How pressing a check is: late, urgent, in danger once harm is likely.

    One put off is ahead until then.
    """
    state = standing(due, now)
    if state == "ahead":
        return state
    return "in danger" if due.danger is not None and due.danger <= now else state


def worst_first(due: Timed, now: datetime) -> int:
    """Sorts checks by how pressing they are; what is only due or ahead keeps its own order."""
    return min(PRESSING.index(pressing(due, now)), PRESSING.index("due"))


def how_bad(due: Timed, now: datetime) -> tuple[int, timedelta, int, str]:
    """Sorts checks the worst first: by how pressing they are, then by the time left until harm."""
    left = time_left(due, now)
    return (
        PRESSING.index(pressing(due, now)),
        FAR if left is None else left,
        -due.severity,
        due.where,
    )


def comes(due: Timed, now: datetime) -> datetime:
    """When it is asked: as the rule has it, or when it was put off until."""
    is_put_off = due.put_off_until is not None and due.put_off_until > now
    return due.put_off_until if is_put_off and due.put_off_until else due.due


def urgency(due: Timed | None, now: datetime) -> tuple[int, int, datetime]:
    """Sorts what is worst first: past a limit, in danger, urgent, late, due, then what comes next;
    the graver check first in each."""
    if due is None:
        return len(PRESSING), 0, now
    state = pressing(due, now)
    if state == "ahead":
        return AHEAD, 0, comes(due, now)
    if past_limit(due, now):
        return -1, -due.severity, due.since or now
    return PRESSING.index(state), -due.severity, due.danger or comes(due, now)


def time_left(due: Timed, now: datetime) -> timedelta | None:
    """How long until harm is likely; below zero where that has passed; None where no harm is
    expected."""
    return None if due.danger is None else due.danger - now
