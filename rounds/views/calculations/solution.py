"""Sugar solution: what to weigh."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rounds.surroundings import solution
from rounds.views.calculations.frame import Calculation, CalculationResult, Figure, inputs


def _solution(given: Mapping[str, Any]) -> CalculationResult:
    weighed = solution.weighing(
        strength_percent=given["strength"], volume_ml=given["volume"], spare_percent=given["spare"]
    )
    return CalculationResult(
        (
            Figure("sugar", weighed.sugar_g, "g", digits=1),
            Figure("water", weighed.water_g, "g", digits=1),
            Figure("gives", weighed.solution_ml, "ml", digits=1),
            Figure("density at 20 C", weighed.density_g_ml, "g/ml", digits=4),
            Figure("grams in a litre", weighed.grams_per_litre, "g", digits=1),
        ),
        (
            "by weight: 10 g in 100 ml of solution is 9.65 % by weight",
            "published for butterflies and moths: 10 to 40 % by weight",
            "made fresh every three days, five at most, as the plan asks; sour: discard",
        ),
    )


def _by_weight(given: Mapping[str, Any]) -> CalculationResult:
    strength = solution.weight_percent_from_volume_percent(grams_per_100_ml=given["grams"])
    density = solution.sucrose_density_g_ml(strength_percent=strength)
    return CalculationResult(
        (
            Figure("strength by weight", strength, "%", digits=2),
            Figure("density at 20 C", density, "g/ml", digits=4),
        )
    )


CALCULATIONS = (
    Calculation(
        "solution",
        "sugar and water to weigh for a strength and a volume",
        inputs("""
            strength 0..60 % | sugar by weight
            volume 0.1..100000 ml | of solution
            spare 0..200 % = 0.0 | more than that
            """),
        _solution,
        "mass = volume x density; sugar = mass x strength / 100; water = the rest",
        "densities: CRC Handbook of Chemistry and Physics, sucrose at 20 C; strength: David &"
        " Gardiner 1961, Gordon & Stevenson of Pieris rapae; keeping: David & Gardiner 1961, older"
        " than 4 to 5 days was unsuitable",
        "--strength 15 --volume 50ml --spare 10",
    ),
    Calculation(
        "strength-by-weight",
        "the strength by weight of a solution given as grams of sugar in 100 ml of it",
        inputs("grams 0..77.2 g | of sugar in 100 ml of solution"),
        _by_weight,
        "strength x density = grams in 100 ml, found by halving",
        "densities: CRC Handbook of Chemistry and Physics, sucrose at 20 C",
        "--grams 10",
    ),
)
