"""Development: threshold and constant from durations."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rounds.biology.development import days_at, ikemoto_takai_fit, x_intercept_fit
from rounds.views.calculations.frame import Calculation, CalculationResult, Figure, inputs


def _development(given: Mapping[str, Any]) -> CalculationResult:
    points = given["points"]
    fit = x_intercept_fit(points)
    lower, constant = ikemoto_takai_fit(points)
    none: tuple[float | None, float | None] = (None, None)
    lower_limits, constant_limits = fit.limits_lower_c or none, fit.limits_constant_dd or none
    figures = [
        Figure("lower threshold", fit.lower_c, "C", *lower_limits, "95 %", 2),
        Figure("thermal constant", fit.constant_dd, "C day", *constant_limits, "95 %", 1),
        Figure("r squared", fit.r_squared),
        Figure("threshold by the reduced axis", lower, "C", digits=2),
        Figure("constant by the reduced axis", constant, "C day", digits=1),
    ]
    words = (
        ["two temperatures give a line but no standard error"] if fit.limits_lower_c is None else []
    )
    if given["at"] is not None:
        days = days_at(temperature_c=given["at"], lower_c=fit.lower_c, constant_dd=fit.constant_dd)
        figures.append(Figure(f"at {given['at']:g} C", days, "days", digits=1))
        if days is None:
            words.append(f"at {given['at']:g} C it never comes: no heat above the threshold")
    return CalculationResult(figures, words)


CALCULATIONS = (
    Calculation(
        "development",
        "lower threshold and thermal constant from durations at several temperatures",
        inputs("""
            points pairs C:days | temperature:days | 20C:25.8,25C:19.6,30C:12.9
            at? -20..50 C | a temperature to foretell
            """),
        _development,
        "1/D = a + b T by least squares, T0 = -a/b, K = 1/b; reduced axis: D T = K + T0 D",
        "Campbell et al. 1974, J. Appl. Ecol. 11:431-438; Ikemoto & Takai 2000, Environ. Entomol."
        " 29:671-682",
        "--points 20C:25.8,22.5C:23.6,25C:19.6,27.5C:15.5,30C:12.9 --at 24C",
    ),
)
