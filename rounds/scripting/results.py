"""What the door for scripts gives back: plain records that do not change when the book does."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from msgspec import Struct


class Refused(Exception):
    """What was asked for cannot be done; the text is one line that says why and what would be
    right."""


class Recorded(Struct, frozen=True):
    """Entries that are on disk.

    ``ids`` are theirs, in order; ``text`` is how they read in the daybook.
    """

    ids: tuple[str, ...]
    text: str
    at: datetime


class Due(Struct, frozen=True):
    """One check of one place.

    ``where`` is a container's or shelf's name, 'room' or 'book'. All instants carry the bench's
    offset. ``late``, ``urgent`` and ``danger`` are when it turns so; None if it never does.
    ``state`` is how it stands: ahead, due, late, urgent or in danger. ``reason`` is why: rule, last
    answer, arithmetic, source.
    """

    where: str
    check: str
    subject: str
    due: datetime
    late: datetime | None
    urgent: datetime | None
    danger: datetime | None
    state: str
    reason: str


class Forecast(Struct, frozen=True):
    """One change that is coming: of how many of which brood, and when.

    ``first``, ``half`` and ``last`` are of all of them; ``low`` and ``high`` bound one animal with
    9 in 10. ``basis`` is what it rests on. Without a date ``why_not`` says why.
    """

    container: str
    change: str
    brood: str
    number: int
    first: datetime | None
    half: datetime | None
    last: datetime | None
    low: datetime | None
    high: datetime | None
    basis: str
    why_not: str


class KeptStems(Struct, frozen=True):
    """One lot of kept stems: the chance (0 to 1) that it bears live eggs, until when to keep it
    (None where no date can be told, as over the winter), how often it was searched."""

    container: str
    plant: str
    batch: str
    stems: int | None
    chance: float
    keep_until: datetime | None
    searches: int


class Stock(Struct, frozen=True):
    """Animals of one brood, stage, instar (0 if not known) and sex in a container."""

    brood: str
    stage: str
    instar: int
    sex: str
    number: int


class Container(Struct, frozen=True):
    """A container as it stands: what it is for, where, what it holds."""

    code: str
    purpose: str
    shelf: str
    place: int
    stock: tuple[Stock, ...]
    plants: tuple[str, ...]
    barrier: str
    moat: str
    do_not_disturb_until: datetime | None


class Supply(Struct, frozen=True):
    """One thing to have ready: how much of what, for when, with its arithmetic."""

    what: str
    of: str
    number: float
    unit: str
    by: datetime
    arithmetic: str


class PlannedCheck(Struct, frozen=True):
    """One check of a round that is planned: the seconds that it takes, how many are lost on the
    average if it is left out until the next round, and why in words."""

    where: str
    check: str
    seconds: float
    lost_if_left: float
    worth: str


class RoundPlan(Struct, frozen=True):
    """What a round takes in some minutes, in the order of the walk, and what it leaves out;
    ``may_cost`` is how many animals or eggs that may cost on the average."""

    taken: tuple[PlannedCheck, ...]
    left: tuple[PlannedCheck, ...]
    seconds: float
    may_cost: float


class Answer(Struct, frozen=True):
    """One answer of the question that a round asks; ``number`` is '', 'may' or 'must'."""

    key: str
    label: str
    number: str
    usual: bool


class Question(Struct, frozen=True):
    """What a round asks now; ``check`` is '' where it only waits for clean hands or for its end."""

    check: str
    text: str
    answers: tuple[Answer, ...]


class Stop(Struct, frozen=True):
    """Where a round stands: the place, its hygiene group, its number of how many, and the checks
    still open there."""

    where: str
    group: str
    number: int
    of: int
    open_checks: tuple[str, ...]


Fields = dict[str, Any]
