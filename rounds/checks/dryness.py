"""How dry the air of a container was read to be, and what that makes longer or shorter.

Water goes by the deficit of the air (Dalton's law): hours are for air that just begins to dry
(``DRYING_KPA``), shorter where it was read to be drier and longer where damper.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from typing import NamedTuple

from msgspec.structs import replace

from rounds.bench.measures import measures_of
from rounds.checks.facts import ContainerContext
from rounds.checks.reckon import TimedRule
from rounds.entries.registry import Air
from rounds.surroundings.air import DRYING_KPA, vapour_pressure_deficit_kpa

HOUR = timedelta(hours=1)
USUAL_C = 20.0
LEAST_KPA = 0.01  # air as damp as that takes up next to nothing
HOLDS = timedelta(days=7)  # so long a reading of the air tells of it; our estimate
# a stem in water keeps up to so many times as long in damp air: two to three days; our estimate
KEEPS_IN_DAMP = 1.5


class AirRead(NamedTuple):
    """The newest reading of how humid the air of a container is, and how warm it was there: of
    lowest and highest the mean, the usual warmth where none was read."""

    temperature_c: float
    humidity_percent: float
    span_c: tuple[float, float] | None = None

    @property
    def deficit_kpa(self) -> float:
        """How much more vapour it takes [kPa]."""
        return vapour_pressure_deficit_kpa(
            temperature_c=self.temperature_c, humidity_percent=self.humidity_percent
        )


def air_read(context: ContainerContext) -> AirRead | None:
    """How humid the air of a container was read to be; None where nobody read it lately."""
    bench = context.bench
    for place in bench.places_of(context.code):
        airs = reversed(bench.air.get(place, ()))
        read = next((air for air in airs if air.humidity_percent is not None), None)
        if read is None or read.humidity_percent is None:
            continue
        if not context.moment.passed(read.at + HOLDS):
            return _as_warm(read, bench.air[place])
    return None


def _as_warm(read: Air, airs: Sequence[Air]) -> AirRead:
    """A reading of humidity with the warmth that was read with it, else nearest to it in time."""
    humid = read.humidity_percent or 0.0
    near = [air for air in airs if _warmth(air) and abs(air.at - read.at) <= HOLDS]
    warm = read if _warmth(read) else min(near, key=lambda air: abs(air.at - read.at), default=None)
    found = _warmth(warm) if warm else (USUAL_C,)
    return AirRead(sum(found) / len(found), humid, (found[0], found[1]) if found[1:] else None)


def _warmth(air: Air) -> tuple[float, ...]:
    """What was read of the warmth: now, or the lowest and the highest; empty where neither."""
    if air.temperature_c is not None:
        return (air.temperature_c,)
    return () if air.low_c is None or air.high_c is None else (air.low_c, air.high_c)


def deficit_kpa(context: ContainerContext) -> float | None:
    """How much more vapour that air takes [kPa]; None where nobody read it."""
    read = air_read(context)
    return None if read is None else read.deficit_kpa


def by_the_air(context: ContainerContext, times: float, hours: timedelta) -> str:
    """In words by which air hours are so many times as long, and how long that is."""
    read = air_read(context)
    by_air = times if read is None else DRYING_KPA / max(read.deficit_kpa, LEAST_KPA)
    bound = f" (by the air {by_air:.2f}, at {'least' if times > by_air else 'most'} {times:.2f})"
    long = f"hours x {times:.2f}{bound * (abs(times - by_air) >= 0.005)} = {hours / HOUR:.1f} h"
    if read is None:
        return f"nobody read how damp the air is: {long}"
    measures = measures_of(context.bench.settings)
    warmth = measures.warmth(read.temperature_c)
    warmth += f" (mean of {measures.span(*read.span_c)})" if read.span_c else ""
    return (
        f"air of {warmth} and {read.humidity_percent:g} %, {read.deficit_kpa:.2f} kPa deficit"
        f" ({DRYING_KPA:g} as the hours are for): {long}"
    )


def times_as_long(context: ContainerContext, least: float, most: float) -> float | None:
    """How many times as long it takes to dry as in air that just begins to; None where nobody read
    it."""
    deficit = deficit_kpa(context)
    return None if deficit is None else min(most, max(least, DRYING_KPA / max(deficit, LEAST_KPA)))


def keeps_longer(context: ContainerContext, rule: TimedRule) -> TimedRule:
    """A rule about cut plants in water, each of its hours later by what they keep longer in damp
    air; the same where nobody read it, or a keeper gave the hours."""
    if not rule.rule.adapts:
        return rule
    times = times_as_long(context, 1.0, KEEPS_IN_DAMP) or 1.0
    later = (times - 1) * (rule.every or rule.late or timedelta(0))
    late, urgent = (None if at is None else at + later for at in (rule.late, rule.urgent))
    return replace(rule, every=rule.every and rule.every + later, late=late, urgent=urgent)
