"""Humidity: saturation vapour pressure, deficit, dew point, and what they mean for a cup tonight."""

from __future__ import annotations

import math
from typing import Literal

from rounds.surroundings.limits import within

# Magnus coefficients over water of Tetens as FAO-56 gives them (Allen, Pereira, Raes & Smith 1998, eq. 11).
TETENS_KPA, TETENS_A, TETENS_B = 0.6108, 17.27, 237.3
# Lawrence 2005, Bull. Am. Meteorol. Soc. 86:225-233, after Alduchov & Eskridge 1996.
LAWRENCE_A, LAWRENCE_B = 17.625, 243.04
PSYCHROMETER_PER_C = 0.000662  # ventilated (Asmann) psychrometer, FAO-56 eq. 16
DRYING_KPA, DAMP_KPA = 1.2, 0.3  # where leaves dry and where walls fog; common practice, no source

Feel = Literal["drying", "comfortable", "damp", "condensing tonight"]


def saturation_vapour_pressure_kpa(*, temperature_c: float) -> float:
    """Vapour pressure of saturated air over water [kPa] at an air temperature [C, -40 to 60].

    Source: FAO-56 (Allen et al. 1998) eq. 11, after Tetens 1930.
    """
    within("temperature", temperature_c, -40, 60, "C")
    return TETENS_KPA * math.exp(TETENS_A * temperature_c / (temperature_c + TETENS_B))


def mean_saturation_vapour_pressure_kpa(*, low_c: float, high_c: float) -> float:
    """Mean saturation vapour pressure of a day [kPa] from its lowest and highest temperature [C].

    Source: FAO-56 eq. 12: the mean of the two pressures, not the pressure at the mean.

    Raises:
        ValueError: lowest above highest, or out of range.
    """
    if low_c > high_c:
        raise ValueError(f"lowest {low_c:g} C is above highest {high_c:g} C; swap them")
    return (saturation_vapour_pressure_kpa(temperature_c=low_c) + saturation_vapour_pressure_kpa(temperature_c=high_c)) / 2


def vapour_pressure_kpa(*, temperature_c: float, humidity_percent: float) -> float:
    """Actual vapour pressure [kPa] from temperature [C] and relative humidity [%, 0 to 100]. FAO-56 eq. 10 turned."""
    within("humidity", humidity_percent, 0, 100, "%")
    return saturation_vapour_pressure_kpa(temperature_c=temperature_c) * humidity_percent / 100


def vapour_pressure_deficit_kpa(*, temperature_c: float, humidity_percent: float) -> float:
    """How much more vapour the air would take [kPa]: what dries a leaf, a cup, a moat. FAO-56 (Allen et al. 1998), eq. 11 and 10."""
    return saturation_vapour_pressure_kpa(temperature_c=temperature_c) - vapour_pressure_kpa(
        temperature_c=temperature_c, humidity_percent=humidity_percent
    )


def daily_vapour_pressure_kpa(*, low_c: float, high_c: float, humidity_max_percent: float, humidity_min_percent: float) -> float:
    """Mean actual vapour pressure of a day [kPa]; the highest humidity goes with the lowest temperature.

    Source: FAO-56 eq. 17.
    """
    within("highest humidity", humidity_max_percent, 0, 100, "%")
    within("lowest humidity", humidity_min_percent, 0, humidity_max_percent, "%")
    if low_c > high_c:
        raise ValueError(f"lowest {low_c:g} C is above highest {high_c:g} C; swap them")
    cool = saturation_vapour_pressure_kpa(temperature_c=low_c) * humidity_max_percent
    warm = saturation_vapour_pressure_kpa(temperature_c=high_c) * humidity_min_percent
    return (cool + warm) / 200


def air_pressure_kpa(*, elevation_m: float) -> float:
    """Mean air pressure [kPa] at an elevation [m, -500 to 9000]. FAO-56 eq. 7."""
    within("elevation", elevation_m, -500, 9000, "m")
    return 101.3 * float(((293 - 0.0065 * elevation_m) / 293) ** 5.26)


def vapour_pressure_from_wet_bulb_kpa(*, dry_c: float, wet_c: float, elevation_m: float = 0) -> float:
    """Actual vapour pressure [kPa] from a ventilated wet and dry thermometer [C]. FAO-56 eq. 15 and 16.

    Raises:
        ValueError: the wet one reads above the dry one, or out of range.
    """
    if wet_c > dry_c:
        raise ValueError(f"wet {wet_c:g} C is above dry {dry_c:g} C; the wet one never reads higher")
    factor = PSYCHROMETER_PER_C * air_pressure_kpa(elevation_m=elevation_m)
    return saturation_vapour_pressure_kpa(temperature_c=wet_c) - factor * (dry_c - wet_c)


def dew_point_c(*, temperature_c: float, humidity_percent: float) -> float:
    """The temperature [C] at which this air begins to leave water on a wall.

    Source: Lawrence 2005 eq. 8 with the coefficients of Alduchov & Eskridge 1996; over water, 0 to 60 C.

    Raises:
        ValueError: humidity of 0 % has no dew point.
    """
    within("temperature", temperature_c, -40, 60, "C")
    within("humidity", humidity_percent, 0.1, 100, "%")
    gamma = math.log(humidity_percent / 100) + LAWRENCE_A * temperature_c / (LAWRENCE_B + temperature_c)
    return LAWRENCE_B * gamma / (LAWRENCE_A - gamma)


def feel_of_air(*, temperature_c: float, humidity_percent: float, tonight_low_c: float | None = None) -> Feel:
    """Whether a cup in this air dries, is comfortable or damp, or will fog in a night that cools to a low [C].

    The two bounds (1.2 and 0.3 kPa deficit) are common practice, no source.
    """
    deficit = vapour_pressure_deficit_kpa(temperature_c=temperature_c, humidity_percent=humidity_percent)
    if tonight_low_c is not None:
        within("tonight's low", tonight_low_c, -40, 60, "C")
        if humidity_percent >= 0.1 and tonight_low_c <= dew_point_c(temperature_c=temperature_c, humidity_percent=humidity_percent):
            return "condensing tonight"
    if deficit >= DRYING_KPA:
        return "drying"
    return "damp" if deficit <= DAMP_KPA else "comfortable"
