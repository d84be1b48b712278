"""How long captive females lived: wild-caught ones since they came in, reared ones since they
emerged."""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec import Struct

from rounds.bench.codes import members
from rounds.biology.survival import SurvivalCurve, kaplan_meier
from rounds.tallies.cohorts import Cohort, Course

A_DAY = timedelta(days=1)


class Lifespan(Struct, frozen=True):
    """Some females with one life behind them: whose, how many, how many days, and how it ended.

    ``code`` names several where nobody knows which of them these are: a death among them counts
    once, and of them she that came first is taken to have died. ``died`` is False for those that
    were released, escaped,
    kept, not seen again or are still alive: no more is known of them than that they lived so long.
    """

    code: str
    taxon: str
    wild: bool
    number: int
    days: float
    died: bool
    end: str


def female_lives(course: Course, now: datetime) -> list[Lifespan]:
    """Every adult female that was on the bench; none of whom no line says how long."""
    lifes = [
        _life(course, ending.cohort, ending.at, died=ending.fate == "died", end=ending.fate)
        for ending in course.ended
        if _is_female(ending.cohort) and (ending.at > ending.cohort.begun or ending.fate == "died")
    ]
    lifes += [
        _life(course, cohort, now, died=False, end="alive")
        for cohort in course.alive
        if _is_female(cohort)
    ]
    lifes += [
        _life(course, one, one.last_known, died=False, end="not seen")
        for one in course.not_seen
        if _is_female(one)
    ]
    return sorted(lifes, key=lambda life: (life.taxon, not life.wild, life.code, life.days))


def _is_female(cohort: Cohort) -> bool:
    return cohort.stage == "adult" and cohort.sex == "female"


def _life(course: Course, cohort: Cohort, until: datetime, *, died: bool, end: str) -> Lifespan:
    days = max(0.0, (until - cohort.begun) / A_DAY)
    wild = all(code in course.bench.founders for code in members(cohort.brood))
    return Lifespan(
        cohort.brood, course.bench.taxon_of(cohort.brood), wild, cohort.number, days, died, end
    )


def curve_of(lives: list[Lifespan]) -> SurvivalCurve | None:
    """Their survival with limits, or None where there is no female."""
    times = [life.days for life in lives for _ in range(life.number)]
    died = [life.died for life in lives for _ in range(life.number)]
    return kaplan_meier(times, died) if times else None
