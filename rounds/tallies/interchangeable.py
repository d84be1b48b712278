"""Which adults one that left may have been: those that nobody could tell from it while they stood
together.

Cohorts follow one way in which all could have gone, for the bench counts animals and does not know
one from another. Two that stood in one container at one time, and were known as the same then, may
have been the other way round from then on, and so may, before, those that either of them stood
with. A sex that is told later does not tell who emerged when; one that is known of the one before
and is not that of the other afterwards tells them apart, and so do a brood and failed wings.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime

from msgspec import Struct

from rounds.bench.codes import members
from rounds.entries.base import Sex
from rounds.tallies.cohorts import Cohort, Course, Name


class _Stood(Struct, frozen=True):
    """Where some adults stood from when to when, under which of their names."""

    container: str
    name: int
    since: datetime
    until: datetime


class _Trail(Struct, frozen=True):
    """Adults that went the same way."""

    cohort: Cohort
    names: tuple[Name, ...]  # that they went by, the first first
    stood: tuple[_Stood, ...]


_Group = tuple[str, str, Sex, bool]
_Known = frozenset[tuple[str, Sex]]


class Interchangeable:
    """All adults that ever stood on the bench, by how they went."""

    def __init__(self, course: Course) -> None:
        self._course = course
        self._together: defaultdict[_Group, list[tuple[_Trail, _Stood]]] = defaultdict(list)
        # which adults that were last known alike at one time may have been is found out once
        self._found: dict[tuple[_Group, datetime, _Known], list[Cohort]] = {}
        ends = [(one.cohort, one.at) for one in course.ended]
        ends += [(one, datetime.max.replace(tzinfo=one.begun.tzinfo)) for one in _here(course)]
        for cohort, until in ends:
            if cohort.stage == "adult":
                trail = _trail(cohort, until)
                for stood in trail.stood:
                    self._together[_group(trail, stood)].append((trail, stood))

    def of_line(self, entry: str) -> list[Cohort]:
        """All that those may have been that left by a line, their own cohorts among them."""
        return [
            cohort
            for one in self._course.ended
            if one.entry == entry and one.cohort.stage == "adult"
            for cohort in self.may_have_been(one.cohort, one.at)
        ]

    def may_have_been(self, cohort: Cohort, until: datetime) -> list[Cohort]:
        """All that adults may have been that are followed up to a time, their own cohort among
        them."""
        own = _trail(cohort, until)
        if not own.stood:
            return [cohort]
        key = (_group(own, own.stood[-1]), until, _known(own.names))
        if key not in self._found:
            self._found[key] = self._alike(own, until)
        return self._found[key] or [cohort]

    def _alike(self, own: _Trail, until: datetime) -> list[Cohort]:
        latest, trails, waiting = {id(own): until}, [own], [own]
        told: dict[tuple[_Group, _Known], tuple[datetime, datetime]] = {}
        while waiting:
            one = waiting.pop()
            for other, at in self._that_stood_with(one, latest[id(one)], own.names[-1], told):
                if id(other) not in latest:
                    trails.append(other)
                if id(other) not in latest or latest[id(other)] < at:
                    latest[id(other)] = at
                    waiting.append(other)
        return [one.cohort for one in trails if _may_be(one.names[:1], own.names[-1:])]

    def _that_stood_with(
        self,
        one: _Trail,
        until: datetime,
        now: Name,
        told: dict[tuple[_Group, _Known], tuple[datetime, datetime]],
    ) -> Iterator[tuple[_Trail, datetime]]:
        """The others that it may have been the other way round with, and when last up to a time.

        Args:
            now: what the adult is known as for which it is asked.
            told: between when one that was known alike stood in each group that was looked through.
        """
        for stood in one.stood:
            group, before = _group(one, stood), one.names[: stood.name + 1]
            last = min(stood.until, until)
            known = (group, _known(before))
            first, end = told.get(known, (last, last))
            if last < stood.since or (known in told and first <= stood.since and last <= end):
                continue
            if known not in told or (stood.since <= first and end <= last):
                told[known] = (stood.since, last)
            for other, its in self._together.get(group, ()):
                at = min(last, its.until)
                if (
                    other is not one
                    and at >= max(stood.since, its.since)
                    and _may_be(other.names[: its.name + 1], (now,))
                    and _may_be(before, other.names[its.name :])
                ):
                    yield other, at


def _here(course: Course) -> list[Cohort]:
    return [*course.alive, *course.not_seen]


def _trail(cohort: Cohort, until: datetime) -> _Trail:
    names = (*cohort.named, Name(until, cohort.brood, cohort.sex, cohort.crippled))
    return _Trail(cohort, names, tuple(_stood(cohort, names, until)))


def _stood(cohort: Cohort, names: tuple[Name, ...], until: datetime) -> Iterator[_Stood]:
    ends = [*(stay.since for stay in cohort.stays[1:]), until]
    for stay, end in zip(cohort.stays, ends, strict=True):
        known_since = cohort.begun
        for position, name in enumerate(names):
            since, last = max(stay.since, known_since), min(end, name.until)
            if since <= last:
                yield _Stood(stay.container, position, since, last)
            known_since = max(known_since, name.until)


def _group(trail: _Trail, stood: _Stood) -> _Group:
    """What nobody could tell apart."""
    name = trail.names[stood.name]
    return stood.container, name.brood, name.sex, name.crippled


def _known(names: tuple[Name, ...]) -> _Known:
    return frozenset((name.brood, name.sex) for name in names)


def _may_be(before: tuple[Name, ...], after: tuple[Name, ...]) -> bool:
    """Whether one that was known as all the one may be known as all the other afterwards."""
    return all(
        (not one.sex or not other.sex or one.sex == other.sex)
        and not set(members(one.brood)).isdisjoint(members(other.brood))
        for one in before
        for other in after
    )
