"""What the fold of an entry yields: which animals came, went from place to place, passed a stage,
or ended how.

A movement says so by itself, without the bench that it was made on: all that looks back adds up
movements.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Protocol, TypeVar

from msgspec import Struct

from rounds.bench.codes import members
from rounds.entries.base import Sex, Stage

A_DAY = timedelta(days=1)
# How animals move, beside the fates that end them: died, escaped, released, preserved, taken.
CAUGHT, PUT_IN, FOUND, COUNTED = "caught", "put in", "found", "counted"  # they come from outside
MOVED = "moved"
HATCHED, MOULTED, PUPATED, EMERGED = "hatched", "moulted", "pupated", "emerged"
GROWN = (HATCHED, MOULTED, PUPATED, EMERGED)
# nobody can tell them from others any more, or they are told apart again; or their sex
RENAMED = "renamed"
INSTAR_KNOWN, INSTAR_UNKNOWN = "instar known", "instar not known"
NOT_SEEN, SEEN_AGAIN = "not seen", "seen again"
LOST = "lost on the way"  # not seen, of those that were moved
ESCAPED, BACK = "escaped", "back"  # some that escaped are found again
ESTIMATED = "fewer by an estimate"
NOT_DATED = "not dated"  # evidence of a change of which nobody knows when it was
GIVEN_UP = "missing"
MISCOUNTED = "miscounted"  # never there: a count, or the number that was put in, was wrong


class Numbered(Protocol):
    """So many of something."""

    @property
    def number(self) -> int:
        """How many."""


AnyNumbered = TypeVar("AnyNumbered", bound=Numbered)


def shares(items: Iterable[AnyNumbered], number: int) -> list[tuple[AnyNumbered, int]]:
    """How many of each it takes to make up a number, the first ones first; fewer in all where there
    are not as many."""
    found = []
    for item in items:
        share = min(item.number, number)
        number -= share
        if share > 0:
            found.append((item, share))
    return found


class Group(Struct, frozen=True, omit_defaults=True):
    """Animals that are alike and in one place; ``missing`` where they were not seen there any more.

    ``brood`` is that of a founder or brood, or names several (``W2 or W3``). A container holds one
    lot of each group.
    """

    container: str
    brood: str
    stage: Stage
    instar: int = 0
    sex: Sex = ""
    missing: bool = False
    crippled: bool = False

    @property
    def stage_name(self) -> str:
        """``egg``, ``L3``, ``larva`` where the instar is not known, ``pupa``, ``adult``."""
        return stage_name(self.stage, self.instar)


class Movement(Struct, frozen=True, tag_field="what", tag="movement", omit_defaults=True):
    """So many animals go from one group to another.

    Attributes:
        entry: the line that says so.
        how: one of the words above, or the fate that ended them.
        before: which they were; None if they came from outside.
        after: which they are now; None if they are no longer on the bench.
        laid: of those that came, between when they were laid, if that is known.
        places: where temperatures that hold for them now may have been read, the nearest first.
        plants: the host plants that stand where they are now, or stood where they ended.
        rested: of those that ended a stage, whether they were in diapause in it, of larvae in their
            instar.
        instars: of larvae whose instar is not known any more, which it may be.
        at_least: more may have gone the same way: how many did, nobody wrote down.
        days: how long the stage that they ended took [days], where that was said though not when it
            began.
        by_hatching: how many of eggs that hatched came on record at the very look that took it from
            their signs.
        first: they are taken for those that began their stage first; else nobody knows which.
    """

    entry: str
    at: datetime
    how: str
    number: int
    before: Group | None = None
    after: Group | None = None
    cause: str = ""
    evidence: str = "seen"
    laid: tuple[datetime, datetime] | None = None
    places: tuple[str, ...] = ()
    plants: tuple[str, ...] = ()
    rested: bool = False
    instars: tuple[int, ...] = ()
    at_least: bool = False
    first: bool = False
    days: float | None = None
    by_hatching: int = 0


class Adults(Struct, frozen=True):
    """So many adults of one founder or brood that are females, or (``female`` is False) of which
    nobody knows."""

    brood: str
    taxon: str
    number: int
    female: bool

    @property
    def codes(self) -> tuple[str, ...]:
        """The founder or brood that these are of; several where nobody knows which of them."""
        return members(self.brood)


class Stems(Struct, frozen=True):
    """Stems of a host plant, put in at a time."""

    plant: str
    put_in: datetime


class AdultsWithStems(Struct, frozen=True, tag_field="what", tag="stood with", omit_defaults=True):
    """These adults stood with these stems, in the light, in a container in which females lay."""

    container: str
    since: datetime
    until: datetime
    adults: tuple[Adults, ...]
    stems: tuple[Stems, ...]

    @property
    def days(self) -> float:
        """How long [days]."""
        return (self.until - self.since) / A_DAY


class Carried(Struct, frozen=True, tag_field="what", tag="carried", omit_defaults=True):
    """A container was put elsewhere with all that stands in it: readings of these places hold for
    its animals from then on."""

    at: datetime
    container: str
    places: tuple[str, ...]


def stage_name(stage: str, instar: int) -> str:
    """``egg``, ``L3``, ``larva`` where the instar is not known, ``pupa``, ``adult``."""
    return f"L{instar}" if stage == "larva" and instar else stage
