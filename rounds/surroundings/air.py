"""Humidity: saturation vapour pressure, deficit, dew point, and what they mean for a cup
tonight."""

from __future__ import annotations

import math
from typing import Literal

from rounds.limits import within

# Magnus coefficients over water of Tetens as FAO-56 gives them (Allen, Pereira, Raes & Smith 1998,
# eq. 11).
TETENS_KPA, TETENS_A, TETENS_B = 0.6108, 17.27, 237.3
# Lawrence 2005, Bull. Am. Meteorol. Soc. 86:225-233, after Alduchov & Eskridge 1996.
LAWRENCE_A, LAWRENCE_B = 17.625, 243.04
DRYING_KPA, DAMP_KPA = 1.2, 0.3  # where leaves dry and where walls fog; common practice, no source

Feel = Literal["drying", "comfortable", "damp", "condensing tonight"]


def saturation_vapour_pressure_kpa(*, temperature_c: float) -> float:
    """Vapour pressure of saturated air over water [kPa] at an air temperature [C, -40 to 60].

    Source: FAO-56 (Allen et al. 1998) eq. 11, after Tetens 1930.
    """
    within("temperature", temperature_c, -40, 60, "C")
    return TETENS_KPA * math.exp(TETENS_A * temperature_c / (temperature_c + TETENS_B))


def vapour_pressure_kpa(*, temperature_c: float, humidity_percent: float) -> float:
    """Actual vapour pressure [kPa] from temperature [C] and relative humidity [%, 0 to 100].

    FAO-56 eq. 10 turned.
    """
    within("humidity", humidity_percent, 0, 100, "%")
    return saturation_vapour_pressure_kpa(temperature_c=temperature_c) * humidity_percent / 100


def vapour_pressure_deficit_kpa(*, temperature_c: float, humidity_percent: float) -> float:
    """How much more vapour the air would take [kPa]: what dries a leaf, a cup, a moat.

    FAO-56 (Allen et al. 1998), eq. 11 and 10.
    """
    return saturation_vapour_pressure_kpa(temperature_c=temperature_c) - vapour_pressure_kpa(
        temperature_c=temperature_c, humidity_percent=humidity_percent
    )


def dew_point_c(*, temperature_c: float, humidity_percent: float) -> float:
    """The temperature [C] at which this air begins to leave water on a wall.

    Source: Lawrence 2005 eq. 8 with the coefficients of Alduchov & Eskridge 1996; over water, 0 to
        60 C.

    Raises:
        ValueError: humidity of 0 % has no dew point.
    """
    within("temperature", temperature_c, -40, 60, "C")
    within("humidity", humidity_percent, 0.1, 100, "%")
    gamma = math.log(humidity_percent / 100) + LAWRENCE_A * temperature_c / (
        LAWRENCE_B + temperature_c
    )
    return LAWRENCE_B * gamma / (LAWRENCE_A - gamma)


def feel_of_air(
    *, temperature_c: float, humidity_percent: float, tonight_low_c: float | None = None
) -> Feel:
    """Whether a cup in this air dries, is comfortable or damp, or will fog in a night that cools to
    a low [C].

    The two bounds (1.2 and 0.3 kPa deficit) are common practice, no source.
    """
    deficit = vapour_pressure_deficit_kpa(
        temperature_c=temperature_c, humidity_percent=humidity_percent
    )
    if tonight_low_c is not None:
        within("tonight's low", tonight_low_c, -40, 60, "C")
        if humidity_percent >= 0.1 and tonight_low_c <= dew_point_c(
            temperature_c=temperature_c, humidity_percent=humidity_percent
        ):
            return "condensing tonight"
    if deficit >= DRYING_KPA:
        return "drying"
    return "damp" if deficit <= DAMP_KPA else "comfortable"
