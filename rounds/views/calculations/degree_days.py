"""Degree-days."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rounds.biology import degree_days as dd
from rounds.views.calculations.frame import (
    Calculation,
    CalculationResult,
    Figure,
    InputRefused,
    inputs,
)

SOURCE = (
    "Baskerville & Emin 1969, Ecology 50:514-517; Allen 1976, Environ. Entomol. 5:388-396;"
    " Sevacherian et al. 1977, J. Econ. Entomol. 70:399-402; Roltsch et al. 1999 (intermediate);"
    " quarter rule McVicker 1946"
)


def _degree_days(given: Mapping[str, Any]) -> CalculationResult:
    lower, upper, cutoff = given["lower"], given["upper"], given["cutoff"]
    limit = tuple(filter(None, [dd.Thresholds(lower, upper, cutoff).words]))
    if given["readings"]:
        if given["min"] is not None or given["max"] is not None:
            raise InputRefused(
                "readings and a day's --min and --max are both given; give one of them"
            )
        integral = dd.integral_over_readings(
            given["readings"], lower_c=lower, upper_c=upper, cutoff=cutoff
        )
        if not integral.days:
            raise InputRefused(
                "all readings lie more than 6 h apart; give closer ones, or --min and --max of"
                " each day"
            )
        words = (
            *limit,
            *(f"left out: day {gap.start:g} to {gap.end:g}, no reading" for gap in integral.gaps),
        )
        figures: tuple[Figure, ...] = (
            Figure("degree-days", integral.degree_days, "C day"),
            Figure("days covered", integral.days, "days"),
        )
        return CalculationResult(
            figures,
            words,
            "area between the threshold and straight lines from reading to reading, exactly",
        )
    if given["min"] is None or given["max"] is None:
        raise InputRefused("give --min and --max of a day, or --readings day:degrees,day:degrees")
    day = {"low_c": given["min"], "high_c": given["max"], "lower_c": lower}
    methods: dict[str, Callable[..., float]] = {
        "single sine": dd.single_sine_1969,
        "single triangle": dd.single_triangle_1977,
    }
    rows = [
        Figure(name, method(**day, upper_c=upper, cutoff=cutoff), "C day")
        for name, method in methods.items()
    ]
    rows.append(Figure("simple average", dd.simple_average(**day), "C day"))
    if upper is not None:
        rows.append(
            Figure("average of clipped extremes", dd.clipped_average(**day, upper_c=upper), "C day")
        )
    rows.append(Figure("quarter rule", dd.quarter_rule(**day), "C day"))
    cutoff_words = (
        "the simple average and the quarter rule of meteorological services know no cutoff"
    )
    return CalculationResult(rows, (*limit, cutoff_words))


CALCULATIONS = (
    Calculation(
        "degree-days",
        "heat above a threshold, from a day's extremes or from readings",
        inputs(f"""
            min? -60..70 C | lowest of the day
            max? -60..70 C | highest of the day
            readings? pairs C | as day:degrees | 0:12C,0.25:18C,0.5:21C
            lower -20..40 C | lower threshold
            upper? -20..60 C | upper cutoff
            cutoff choice {"/".join(dd.CUTOFFS)} = horizontal | what heat above it does
            """),
        _degree_days,
        "heat above the threshold under one wave a day",
        SOURCE,
        "--min 6C --max 22C --lower 10C --upper 30C",
    ),
)
