"""Degree-days: heat above a lower threshold, from daily extremes or from readings."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Literal

from msgspec import Struct

from rounds.limits import within

Cutoff = Literal["none", "horizontal", "intermediate", "vertical"]
ABOVE: dict[Cutoff, str] = {
    "none": "the line goes on",
    "horizontal": "no faster than there (horizontal cutoff)",
    "intermediate": "slower by as much as it would be faster (intermediate cutoff)",
    "vertical": "no development (vertical cutoff)",
}
CUTOFFS: tuple[Cutoff, ...] = ("none", "horizontal", "intermediate", "vertical")


class Thresholds(Struct, frozen=True):
    """Between which temperatures animals develop the faster the warmer it is, and what heat above
    the upper one does (``Cutoff``); without an upper one the line goes on."""

    lower_c: float
    upper_c: float | None = None
    cutoff: Cutoff = "horizontal"

    def heat(self, first_c: float, second_c: float) -> float:
        """Mean degrees of development along a straight line from one temperature to another."""
        return _under_line(first_c, second_c, self.lower_c, self.upper_c, self.cutoff)

    @property
    def words(self) -> str:
        """What heat above the upper threshold does; empty where there is none."""
        if self.upper_c is None or self.cutoff == "none":
            return ""
        return f"above {self.upper_c:g} C {ABOVE[self.cutoff]}"


def _checked(low_c: float, high_c: float, lower_c: float, upper_c: float | None) -> None:
    within("lowest temperature", low_c, -60, 70, "C")
    within("highest temperature", high_c, -60, 70, "C")
    within("lower threshold", lower_c, -20, 40, "C")
    if low_c > high_c:
        raise ValueError(f"lowest {low_c:g} C is above highest {high_c:g} C; swap them")
    if upper_c is not None:
        within("upper cutoff", upper_c, -20, 60, "C")
        if upper_c <= lower_c:
            raise ValueError(
                f"upper cutoff {upper_c:g} C is not above the lower threshold {lower_c:g} C;"
                " raise it"
            )


def _cut_off(
    above: Callable[[float], float],
    share: Callable[[float], float],
    lower: float,
    upper: float | None,
    cutoff: Cutoff,
) -> float:
    """The day's degree-days from its heat above a level and the share of the day above it, under
    one of the cutoffs.

    Above the upper threshold the rate stays as it is there (horizontal), falls by as much as the
    line would have risen (intermediate: the heat above it is taken off twice), or is nought
    (vertical).
    """
    if upper is None or cutoff == "none":
        return above(lower)
    if cutoff == "horizontal":
        return above(lower) - above(upper)
    if cutoff == "intermediate":
        return max(0.0, above(lower) - 2 * above(upper))
    return above(lower) - above(upper) - (upper - lower) * share(upper)


def single_sine_1969(
    *,
    low_c: float,
    high_c: float,
    lower_c: float,
    upper_c: float | None = None,
    cutoff: Cutoff = "horizontal",
) -> float:
    """Degree-days of a day from its extremes by one sine wave [C day].

    Source: Baskerville & Emin 1969, Ecology 50:514-517; cutoffs Allen 1976, Environ. Entomol.
        5:388-396, and
    Roltsch et al. 1999, Int. J. Biometeorol. 42:169-176 (intermediate, never below nought here).
    All six ways in which a day can lie across two thresholds follow from the heat above each.

    Raises:
        ValueError: lowest above highest, threshold not under the cutoff, out of range.
    """
    _checked(low_c, high_c, lower_c, upper_c)
    mean, swing = (high_c + low_c) / 2, (high_c - low_c) / 2

    def angle(level: float) -> float:
        return math.asin((level - mean) / swing)

    def above(level: float) -> float:
        if high_c <= level:
            return 0.0
        if low_c >= level:
            return mean - level
        q = angle(level)
        return ((mean - level) * (math.pi / 2 - q) + swing * math.cos(q)) / math.pi

    def share(level: float) -> float:
        if high_c <= level:
            return 0.0
        return 1.0 if low_c >= level else (math.pi / 2 - angle(level)) / math.pi

    return _cut_off(above, share, lower_c, upper_c, cutoff)


def single_triangle_1977(
    *,
    low_c: float,
    high_c: float,
    lower_c: float,
    upper_c: float | None = None,
    cutoff: Cutoff = "horizontal",
) -> float:
    """Degree-days of a day from its extremes by straight lines up and down [C day].

    Source: Lindsey & Newman 1956, Ecology 37:812-823; Sevacherian, Stern & Mueller 1977, J. Econ.
        Entomol. 70:399-402.

    Raises:
        ValueError: as for the sine.
    """
    _checked(low_c, high_c, lower_c, upper_c)
    return _under_line(low_c, high_c, lower_c, upper_c, cutoff)


def simple_average(*, low_c: float, high_c: float, lower_c: float) -> float:
    """Degree-days of a day as its mean less the threshold, never below nought [C day].

    Arnold 1960, common practice.
    """
    _checked(low_c, high_c, lower_c, None)
    return max(0.0, (high_c + low_c) / 2 - lower_c)


def clipped_average(*, low_c: float, high_c: float, lower_c: float, upper_c: float) -> float:
    """Degree-days with the extremes first brought between the thresholds: another method than the
    simple average."""
    _checked(low_c, high_c, lower_c, upper_c)
    low, high = (min(max(value, lower_c), upper_c) for value in (low_c, high_c))
    return max(0.0, (low + high) / 2 - lower_c)


def quarter_rule(*, low_c: float, high_c: float, lower_c: float) -> float:
    """Degree-days by the rule of meteorological services.

    McVicker 1946; Met Eireann, degree-day page, cases I to IV.
    """
    _checked(low_c, high_c, lower_c, None)
    mean = (high_c + low_c) / 2
    if low_c >= lower_c:
        return mean - lower_c
    if high_c <= lower_c:
        return 0.0
    if mean > lower_c:
        return (high_c - lower_c) / 2 - (lower_c - low_c) / 4
    return (high_c - lower_c) / 4


GAP_GRAIN_DAYS = 1e-6  # that rounding may add to a span [days]


def far_apart(start: float, end: float, longest_gap_days: float) -> bool:
    """Whether two readings lie further apart than a gap may be; just so far is not further."""
    return end - start > longest_gap_days + GAP_GRAIN_DAYS


class Gap(Struct, frozen=True):
    """A hole in a series of readings: from, to [days]."""

    start: float
    end: float


class Integral(Struct, frozen=True):
    """Heat over readings: degree-days [C day], days covered, and the holes that were left out."""

    degree_days: float
    days: float
    gaps: tuple[Gap, ...]


def in_order(readings: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Readings by time; several at one time become their mean.

    Raises:
        ValueError: a reading that is no finite number.
    """
    by_time: dict[float, list[float]] = {}
    for day, temperature in readings:
        if not math.isfinite(day) or not math.isfinite(temperature):
            raise ValueError(f"a reading is {day}: {temperature}; both must be finite numbers")
        by_time.setdefault(day, []).append(temperature)
    return [(day, sum(found) / len(found)) for day, found in sorted(by_time.items())]


def integral_over_readings(
    readings: Sequence[tuple[float, float]],
    *,
    lower_c: float,
    upper_c: float | None = None,
    cutoff: Cutoff = "horizontal",
    longest_gap_days: float = 0.25,
) -> Integral:
    """Degree-days exactly under the straight lines between readings: the definition itself, no
    approximation of a day.

    Source: the linear model of development, Arnold 1960, Proc. Am. Soc. Hort. Sci. 76:682-692, from
        memory.

    Args:
        readings: (time in days, temperature in C), in any order.
        longest_gap_days: where two readings lie further apart, what lies between is left out and
            told as a gap.

    Raises:
        ValueError: fewer than two readings, or a threshold not under the cutoff.
    """
    _checked(lower_c, lower_c, lower_c, upper_c)
    within("longest gap", longest_gap_days, 1e-6, 1e4, "days")
    known = in_order(readings)
    if len(known) < 2:
        raise ValueError(f"{len(known)} reading; an integral needs two or more at different times")
    total = covered = 0.0
    gaps = []
    for (start, first), (end, second) in pairwise(known):
        span = end - start
        if far_apart(start, end, longest_gap_days):
            gaps.append(Gap(start, end))
            continue
        total += span * _under_line(first, second, lower_c, upper_c, cutoff)
        covered += span
    return Integral(total, covered, tuple(gaps))


def _under_line(
    first: float, second: float, lower: float, upper: float | None, cutoff: Cutoff
) -> float:
    """Mean degrees above the threshold along a straight line from one temperature to another."""
    low, high = min(first, second), max(first, second)

    def above(level: float) -> float:
        if high <= level:
            return 0.0
        if low >= level:
            return (low + high) / 2 - level
        return (high - level) ** 2 / (2 * (high - low))

    def share(level: float) -> float:
        if high <= level:
            return 0.0
        return 1.0 if low >= level else (high - level) / (high - low)

    return _cut_off(above, share, lower, upper, cutoff)
