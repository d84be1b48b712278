"""A moat: how fast it loses water, and when it will be low."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from rounds.limits import within
from rounds.surroundings.air import vapour_pressure_deficit_kpa

SPREAD_OF_STILL_AIR = 0.4  # a small dish departs this much from the formula; from memory, no source
READ_TO_MM = 1.0  # a depth is read to the millimetre
# how much the loss of one day differs from that of another, as a share; our estimate, no source
DAYS_DIFFER = 0.3
LEAST_APART = 0.2  # days between two readings that tell a loss
DEFAULT_LOSS_MM_A_DAY = 3.0  # where nothing is known of the room; our estimate


@dataclass(frozen=True, slots=True)
class Loss:
    """How fast a moat loses water [mm a day], between a low and a high, and what that rests on."""

    mm_a_day: float
    low: float
    high: float
    rests_on: Literal["own readings", "temperature and humidity", "assumed"]
    readings: int = 0


def open_water_loss_mm_a_day(
    *, temperature_c: float, humidity_percent: float, wind_m_s: float = 0.0
) -> float:
    """Evaporation of open water by the air's drying power alone [mm a day].

    Source: Penman 1948 (Proc. R. Soc. A 193:120-145) in the metric form of Shuttleworth 1993
        (Handbook of
    Hydrology, ch. 4), E = 6.43 (1 + 0.536 u) D / lambda with lambda = 2.501 - 0.002361 T MJ/kg;
    coefficients from memory. It was made for extended water; a small dish loses more by its edge,
    less below its
    rim.

    Args:
        temperature_c: of water and air, 0 to 45.
        humidity_percent: 0 to 100.
        wind_m_s: 0 to 20; still air in a closed room is 0.
    """
    within("temperature", temperature_c, 0, 45, "C")
    within("wind", wind_m_s, 0, 20, "m/s")
    deficit = vapour_pressure_deficit_kpa(
        temperature_c=temperature_c, humidity_percent=humidity_percent
    )
    latent_heat = 2.501 - 0.002361 * temperature_c
    return 6.43 * (1 + 0.536 * wind_m_s) * deficit / latent_heat


def loss_from_air(*, temperature_c: float, humidity_percent: float) -> Loss:
    """The loss of a moat in still air, with the spread that small dishes show."""
    rate = open_water_loss_mm_a_day(temperature_c=temperature_c, humidity_percent=humidity_percent)
    return Loss(
        rate,
        rate * (1 - SPREAD_OF_STILL_AIR),
        rate * (1 + SPREAD_OF_STILL_AIR),
        "temperature and humidity",
    )


def loss_from_readings(readings: Sequence[tuple[float, float]]) -> Loss | None:
    """The loss from a keeper's own depth readings: what was lost from one topping-up to the next,
    over that time; 95 % limits.

    Where days differ at random, first and last reading of a run tell all that there is to know of
    its mean (the increments of a random walk; Wald 1947 for its drift, from memory). A rise in
    depth is a topping-up and
    ends a run. A depth is read to the millimetre, so that each end is off by up to half of one (a
    standard deviation of 1 /
    sqrt(12)), and days differ: over T days in k runs the standard deviation is sqrt(k / 6 + (share
    x loss)^2 T) / T. A moat
    never gains by itself: the normal distribution that this makes is cut at nought, and its median
    is told, so that two equal
    readings do not mean that it loses nothing.

    Args:
        readings: (time in days, depth in mm), in any order.

    Returns:
        None where no run has two readings some hours apart.
    """
    runs: list[list[tuple[float, float]]] = [[]]
    for day, depth in sorted(readings):
        within("depth", depth, 0, 500, "mm")
        if runs[-1] and depth > runs[-1][-1][1] + 0.5:
            runs.append([])
        runs[-1].append((day, depth))
    whole = [(run[-1][0] - run[0][0], run[0][1] - run[-1][1]) for run in runs if run]
    told = [(days, lost) for days, lost in whole if days >= LEAST_APART]
    if not told:
        return None
    total = sum(days for days, _ in told)
    rate = max(0.0, sum(lost for _, lost in told) / total)
    off = math.sqrt(len(told) * 2 * READ_TO_MM**2 / 12 + (DAYS_DIFFER * rate) ** 2 * total) / total
    low, middle, high = (_above_nought(rate, off, share) for share in (0.025, 0.5, 0.975))
    return Loss(middle, low, high, "own readings", len(readings))


def _above_nought(mean: float, spread: float, share: float) -> float:
    """Where a normal distribution that is cut at nought has that share below."""
    curve = statistics.NormalDist(mean, spread)
    under = curve.cdf(0.0)
    return max(0.0, curve.inv_cdf(under + share * (1 - under)))


def days_until(*, depth_mm: float, low_mm: float, loss_mm_a_day: float) -> float | None:
    """How many days until a moat of that depth is at its low mark; 0 where it is; None where it
    loses nothing.

    Args:
        depth_mm, low_mm: 0 to 500.
        loss_mm_a_day: 0 to 100.
    """
    within("depth", depth_mm, 0, 500, "mm")
    within("low mark", low_mm, 0, 500, "mm")
    within("loss", loss_mm_a_day, 0, 100, "mm a day")
    if depth_mm <= low_mm:
        return 0.0
    return None if loss_mm_a_day == 0 else (depth_mm - low_mm) / loss_mm_a_day
