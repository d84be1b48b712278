"""How fast own broods developed at what temperature, the line through it, and what was published
beside."""

from __future__ import annotations

from collections.abc import Collection

from msgspec import Struct

from rounds.bench.codes import members
from rounds.bench.state import Bench
from rounds.bench.thermal_needs import known_need, pauses
from rounds.biology.degree_days import Thresholds
from rounds.biology.development import ThermalFit, days_at, x_intercept_fit
from rounds.tallies.cohorts import Course
from rounds.tallies.mean_temperature import CourseTemperatures
from rounds.tallies.stages import durations

FITTED = ("egg", "larva", "pupa", "egg to adult")
INSTARS = ("L1", "L2", "L3", "L4", "L5", "L6", "L7")  # told only where there are constants for them
# those published are 1.1 to 15.9 C, see biology/published_lines.py; our choice
LEAST_LOWER_C, MAX_LOWER_C = -5.0, 25.0
# between the coolest and the warmest brood; closer ones say nothing of the slope; our choice
LEAST_RANGE_C = 2.0


class DevelopmentPoint(Struct, frozen=True):
    """One brood in one stage: mean temperature [C], days; of those for which
    it was read."""

    brood: str
    temperature_c: float
    days: float


class Published(Struct, frozen=True):
    """A threshold [C] and constant [C day] that someone gave, and in words whose they are."""

    lower_c: float
    constant_dd: float
    words: str
    is_own: bool = True  # not those of other species that stand in for it
    above: Thresholds | None = None

    def as_warm_as(self, temperature_c: float) -> float:
        """The temperature at which they develop as fast, below any upper threshold [C]."""
        if self.above is None or temperature_c <= self.lower_c:
            return temperature_c
        return self.lower_c + self.above.heat(temperature_c, temperature_c)


class Development(Struct, frozen=True):
    """One stage of a species: own points, the line through them or why there is none, and what was
    published."""

    stage: str
    points: tuple[DevelopmentPoint, ...]
    fit: ThermalFit | None
    why_no_fit: str
    published: Published | None

    def published_days(self, temperature_c: float) -> float | None:
        """How long the published constants would have it take at a temperature [days]."""
        if self.published is None:
            return None
        return days_at(
            temperature_c=self.published.as_warm_as(temperature_c),
            lower_c=self.published.lower_c,
            constant_dd=self.published.constant_dd,
        )


def development(
    course: Course, broods: Collection[str], taxon: str, warmth: CourseTemperatures
) -> list[Development]:
    """Every stage that some brood of a species ended, or that there are constants for; animals that
    may be of one of the broods or of another are a point of their own."""
    by_stage: dict[str, list[DevelopmentPoint]] = {}
    either = [code for code in course.codes_of_either() if set(broods).issuperset(members(code))]
    for brood in (*broods, *either):
        for duration in durations(course, [brood], warmth):
            if duration.stage in (*FITTED, *INSTARS) and duration.temperature_c is not None:
                by_stage.setdefault(duration.stage, []).append(
                    DevelopmentPoint(brood, duration.temperature_c, duration.mean_read)
                )
    developments = []
    for stage in (FITTED[0], *INSTARS, *FITTED[1:]):
        points = tuple(by_stage.get(stage, ()))
        published = published_for(course.bench, taxon, stage)
        if published or (points and stage in FITTED):
            developments.append(Development(stage, points, *_fitted(points), published))
    return developments


def _fitted(points: tuple[DevelopmentPoint, ...]) -> tuple[ThermalFit | None, str]:
    if len(points) < 2:
        return (
            None,
            (
                f"{'one brood' if points else 'no brood'} with its temperatures; a line needs two"
                " or more at different ones"
            ),
        )
    range_c = max(point.temperature_c for point in points) - min(
        point.temperature_c for point in points
    )
    if range_c < LEAST_RANGE_C:
        return (
            None,
            (
                f"the broods were within {range_c:.1f} C degrees of each other; a line"
                f" needs {LEAST_RANGE_C:g} C degrees or more"
            ),
        )
    try:
        fit = x_intercept_fit([(point.temperature_c, point.days) for point in points])
    except ValueError as refused:
        return None, str(refused)
    if not LEAST_LOWER_C <= fit.lower_c <= MAX_LOWER_C:
        return (
            None,
            (
                f"the line would have them develop from {fit.lower_c:.1f} C on, which no moth or"
                " butterfly does; they differ by something else than warmth"
            ),
        )
    return fit, ""


def published_for(bench: Bench, taxon: str, stage: str) -> Published | None:
    """What forecasts take for a stage before any own brood: the keeper's constants, else published
    ones of the species, else a relative's, said so; None where it pauses until after winter."""
    need = known_need(bench, taxon, stage)
    if need is None or pauses(bench, taxon, stage):
        return None
    return Published(
        need.lower_c, need.constant_dd, need.words, need.whose == "own", need.thresholds
    )
