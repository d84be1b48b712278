"""Which host plants animals had in a stage: those that stood with them meanwhile, wherever that
was."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from itertools import zip_longest
from typing import Protocol

from msgspec import Struct

from rounds.entries import registry as k
from rounds.tallies.stems_in import StemsIn

# A plant that is changed at the visit at which a moult is seen, or soon after, stood there for part
# of that visit alone; rounds are twelve hours apart. Our choice.
A_FEW_HOURS = timedelta(hours=6)


class Stayed(Protocol):
    """In which container from when on."""

    @property
    def container(self) -> str:
        """Its code."""

    @property
    def since(self) -> datetime:
        """From when on."""


class _Stood(Struct):
    plant: str
    batch: str
    since: datetime
    until: datetime | None = None
    partly: bool = False  # some stems of it were taken out, perhaps not all


class PlantsHad:
    """Knows which plants stood where, from when to when."""

    def __init__(self) -> None:
        self._stood: dict[str, list[_Stood]] = {}

    def take(self, one: StemsIn | k.HostOut | k.Closed) -> None:
        """Add stems that come or go."""
        there = self._stood.setdefault(one.container, [])
        if isinstance(one, StemsIn):
            there.append(_Stood(one.plant, one.batch, one.at))
            return
        for stood in there:
            is_it = isinstance(one, k.Closed) or (
                one.plant in ("", stood.plant) and one.batch in ("", stood.batch)
            )
            if is_it and (stood.until is None or stood.partly):
                stood.until = one.at
                stood.partly = isinstance(one, k.HostOut) and one.sprigs is not None

    def during(
        self, stays: Sequence[Stayed], since: datetime, until: datetime, last: Iterable[str]
    ) -> tuple[str, ...]:
        """The plants that stood with animals between two times.

        One that stood there for a few hours alone is told only where no other stood longer: of
        such those that stood there last.

        Args:
            stays: where the animals were.
            last: the plants that stood with them at the end.
        """
        standing = set(last)
        found: dict[str, tuple[datetime, datetime]] = {}
        for stay, following in zip_longest(stays, stays[1:]):
            begin = max(stay.since, since)
            end = min(following.since, until) if following else until
            for stood in self._stood.get(stay.container, ()):
                is_here = stood.until is None or (stood.partly and stood.plant in standing)
                first = max(stood.since, begin)
                gone = end if is_here or stood.until is None else min(stood.until, end)
                if first <= gone:
                    known = found.get(stood.plant, (first, gone))
                    found[stood.plant] = min(known[0], first), max(known[1], gone)
        long = [plant for plant, (first, gone) in found.items() if gone - first > A_FEW_HOURS]
        return tuple(sorted(set(long or standing or found)))
