"""Which adults one that left may have been: those that nobody could tell from it while they stood
together.

Cohorts follow one way in which all could have gone, for the bench counts animals and does not know
one from another. Two that stood in one container at one time may have been the other way round from
then on, and so may, before, those that either of them stood with. A sex or a brood that is known of
the one and is not that of the other tells them apart.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from msgspec import Struct

from rounds.bench.codes import members
from rounds.tallies.cohorts import Cohort, Course


class Trail(Struct, frozen=True):
    """Adults that went the same way: in which container from when to when, and by which line they
    left."""

    cohort: Cohort
    stood: tuple[tuple[str, datetime, datetime], ...]
    entry: str = ""


def trails(course: Course) -> list[Trail]:
    """The trails of all adults that ever stood on the bench."""
    ended = [(one.cohort, one.at, one.entry) for one in course.ended]
    here = [
        (cohort, datetime.max.replace(tzinfo=cohort.begun.tzinfo), "")
        for cohort in (*course.alive, *course.not_seen)
    ]
    return [
        Trail(cohort, tuple(_stood(cohort, until)), entry)
        for cohort, until, entry in (*ended, *here)
        if cohort.stage == "adult"
    ]


def _stood(cohort: Cohort, until: datetime) -> Iterator[tuple[str, datetime, datetime]]:
    ends = [*(stay.since for stay in cohort.stays[1:]), until]
    for stay, end in zip(cohort.stays, ends, strict=True):
        if end >= cohort.begun:
            yield stay.container, max(stay.since, cohort.begun), end


def may_have_been(known: list[Trail], entry: str) -> list[Cohort]:
    """All that those may have been that left by a line, their own cohorts among them."""
    found: list[Cohort] = []
    for own in (one for one in known if one.entry == entry):
        latest = {id(own): max(end for *_, end in own.stood)}
        waiting = [own]
        while waiting:
            one = waiting.pop()
            for other in known:
                at = _together(one, other, latest[id(one)])
                if (
                    at is not None
                    and (id(other) not in latest or latest[id(other)] < at)
                    and _may_be(other.cohort, own.cohort)
                    and _may_be(one.cohort, other.cohort)
                ):
                    latest[id(other)] = at
                    waiting.append(other)
        found += [
            one.cohort for one in known if id(one) in latest and _may_be(one.cohort, own.cohort)
        ]
    return found


def _together(one: Trail, other: Trail, until: datetime) -> datetime | None:
    """When the two stood together last, up to a time."""
    return max(
        (
            last
            for container, since, end in one.stood
            for its, its_since, its_end in other.stood
            if its == container and (last := min(end, its_end, until)) >= max(since, its_since)
        ),
        default=None,
    )


def _may_be(before: Cohort, after: Cohort) -> bool:
    """Whether one that began as the one may have ended as the other."""
    sex = before.was_sex or before.sex
    brood = before.was_brood or before.brood
    return (not sex or not after.sex or sex == after.sex) and not set(members(brood)).isdisjoint(
        members(after.brood)
    )
