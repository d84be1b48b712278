"""Survival of captive females and broods."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rounds.biology.survival import kaplan_meier, log_rank
from rounds.views.calculations.frame import (
    Calculation,
    CalculationResult,
    Figure,
    InputRefused,
    inputs,
)


def _fates(
    died: tuple[float, ...] | None, alive: tuple[float, ...] | None
) -> tuple[list[float], list[bool]]:
    gone, left = list(died or ()), list(alive or ())
    return [*gone, *left], [True] * len(gone) + [False] * len(left)


def _survival(given: Mapping[str, Any]) -> CalculationResult:
    times, fates = _fates(given["died"], given["alive"])
    curve = kaplan_meier(times, fates)
    figures = [
        Figure(
            f"day {one.time:g}: {one.died} of {one.at_risk} died",
            one.survival,
            "",
            one.low,
            one.high,
            "95 %",
        )
        for one in curve.steps
    ]
    median_limits = curve.median_low, curve.median_high
    figures.append(Figure("median life", curve.median, "days", *median_limits, "95 %", 1))
    words = ["half have not died: the median is not reached"] if curve.median is None else []
    if given["died-2"] or given["alive-2"]:
        other = _fates(given["died-2"], given["alive-2"])
        if not other[0]:
            raise InputRefused("the second group is empty; give --died-2 or --alive-2")
        test = log_rank(times, fates, *other)
        figures.append(Figure("log-rank chi-square", test.chi_square))
        figures.append(Figure("p", test.p, digits=4))
    return CalculationResult(figures, words)


CALCULATIONS = (
    Calculation(
        "survival",
        "survival curve with limits; released or alive count until then",
        inputs("""
            died? numbers 0.. days | days at which they died
            alive? numbers 0.. days | days at which they were last alive
            died-2? numbers 0.. days | of a second group
            alive-2? numbers 0.. days | of a second group
            """),
        _survival,
        "S = product of (1 - deaths / at risk); limits on the scale log(-log S) with Greenwood's"
        " error",
        "Kaplan & Meier 1958, J. Am. Stat. Assoc. 53:457-481; Greenwood 1926; Mantel 1966",
        "--died 6,6,7,10,13 --alive 9,10,17",
    ),
)
