"""Air: humidity as a keeper meets it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rounds.surroundings import air
from rounds.views.calculations.frame import Calculation, CalculationResult, Figure, inputs

WORDS = {
    "drying": "drying: leaves and small larvae lose water",
    "comfortable": "comfortable",
    "damp": "damp: walls fog easily, mould likes it",
    "condensing tonight": (
        "condensing tonight: water on the walls drowns small larvae; open or vent"
    ),
}


def _air(given: Mapping[str, Any]) -> CalculationResult:
    temperature, humidity, low = given["temperature"], given["humidity"], given["tonight-low"]
    saturated = air.saturation_vapour_pressure_kpa(temperature_c=temperature)
    dew = air.dew_point_c(temperature_c=temperature, humidity_percent=humidity)
    feel = air.feel_of_air(temperature_c=temperature, humidity_percent=humidity, tonight_low_c=low)
    deficit = air.vapour_pressure_deficit_kpa(temperature_c=temperature, humidity_percent=humidity)
    return CalculationResult(
        (
            Figure("saturation vapour pressure", saturated, "kPa"),
            Figure("vapour pressure deficit", deficit, "kPa"),
            Figure("dew point", dew, "C", digits=1),
        ),
        (WORDS[feel],),
    )


CALCULATIONS = (
    Calculation(
        "air",
        "humidity: deficit, dew point, drying or condensing tonight",
        inputs("""
            temperature -40..60 C | of the air
            humidity 0.1..100 % | relative
            tonight-low? -40..60 C | how cool the coming night gets
            """),
        _air,
        "es = 0.6108 exp(17.27 T / (T + 237.3)); deficit = es (1 - RH/100); dew point by the Magnus"
        " formula turned round",
        "FAO-56 (Allen et al. 1998) eq. 11; Lawrence 2005, Bull. Am. Meteorol. Soc. 86:225-233;"
        " bounds of comfort: common practice, no source",
        "--temperature 21.4C --humidity 62 --tonight-low 12C",
    ),
)
