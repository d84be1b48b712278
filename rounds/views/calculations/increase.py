"""Increase and the stage life table."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from math import isfinite
from typing import Any

from rounds.biology.increase import increase
from rounds.biology.life_table import stage_table
from rounds.views.calculations.frame import (
    Calculation,
    CalculationResult,
    Figure,
    InputRefused,
    inputs,
)


def _increase(given: Mapping[str, Any]) -> CalculationResult:
    pairs = given["daughters"]
    ages = [age for age, _ in pairs]
    twice = next((age for age in ages if ages.count(age) > 1), None)
    if twice is not None:
        raise InputRefused(f"age {twice:g} is given twice; give each age once")
    result = increase([age for age, _ in pairs], [number for _, number in pairs])
    return CalculationResult(
        (
            Figure("net reproductive rate R0", result.r0, "daughters"),
            Figure("rate of increase r", result.r, "a day", digits=4),
            Figure("generation time", result.generation_time, "days", digits=1),
            Figure("doubling time", result.doubling_time, "days", digits=1),
            Figure("cohort time", result.cohort_time, "days", digits=1),
            Figure("growth a day", result.growth, "fold"),
            Figure("r by the shortcut", result.r_shortcut, "a day", digits=4),
        ),
        ("the shortcut ln(R0) / cohort time can be far off: compare",),
    )


def _finite(value: float) -> float | None:
    return value if isfinite(value) else None


def _life_table(given: Mapping[str, Any]) -> CalculationResult:
    table = stage_table(
        [
            (f"stage {position}", entered, died)
            for position, (entered, died) in enumerate(given["stages"], start=1)
        ]
    )
    figures = []
    for row in table.rows:
        limits = row.q_limits
        low, high = (limits.low, limits.high) if limits else (None, None)
        dead = f"{row.stage}: {row.died:g} of {row.entered:g}, share dead"
        base_10 = f"(base 10: {row.k_ten:.3f})" if isfinite(row.k_ten) else ""
        figures += [
            Figure(dead, row.q, "", low, high, "95 % exact"),
            Figure(f"{row.stage}: k, natural log", _finite(row.k_natural), base_10),
        ]
    figures += [
        Figure("through all stages", table.survival),
        Figure("total k, natural log", _finite(table.total_k_natural)),
    ]
    words = [
        "k here is the natural logarithm; much of the literature uses base 10, shown beside it"
    ]
    words += [f"all died in {row.stage}: its k has no bound" for row in table.rows if row.q == 1]
    words += [
        f"{before.entered - before.died - after.entered:g} that came through {before.stage} did not"
        f" enter {after.stage}: not accounted for, and in no share"
        for before, after in pairwise(table.rows)
        if after.entered < before.entered - before.died
    ]
    words += [
        f"{after.entered:g} entered {after.stage}, but {before.entered - before.died:g} came"
        f" through {before.stage}: count again"
        for before, after in pairwise(table.rows)
        if after.entered > before.entered - before.died
    ]
    return CalculationResult(figures, words)


CALCULATIONS = (
    Calculation(
        "increase",
        "net reproductive rate, generation time and rate of increase",
        inputs("daughters pairs days | as age:daughters per new-born female | 30:4,31:10,32:6"),
        _increase,
        "r solves sum of exp(-r x) l(x) m(x) = 1; T = ln(R0) / r",
        "Lotka 1907; Birch 1948, J. Anim. Ecol. 17:15-26",
        "--daughters 30:4,31:10,32:6,33:2",
    ),
    Calculation(
        "life-table",
        "stage life table: share dead with limits, k-values",
        inputs("stages pairs | as entered:died, in order | 154:82,72:4,68:35"),
        _life_table,
        "q = died / entered; k = -ln(1 - q)",
        "Varley & Gradwell 1960, J. Anim. Ecol. 29:399-401; Clopper & Pearson 1934, Biometrika"
        " 26:404-413",
        "--stages 154:82,72:4,68:35",
    ),
)
