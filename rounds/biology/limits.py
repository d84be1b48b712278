"""Refusing what no formula should be given: one line that says what is wrong and what would be right."""

from __future__ import annotations

import math


def within(name: str, value: float, low: float, high: float, unit: str = "") -> float:
    """The value, where it is finite and within bounds.

    Raises:
        ValueError: one line.
    """
    unit = f" {unit}" if unit else ""
    if not isinstance(value, int | float) or not math.isfinite(value):
        raise ValueError(f"{name} is {value}; it must be a finite number")
    if value < low:
        raise ValueError(f"{name} is {value:g}{unit}; it must be at least {low:g}{unit}")
    if value > high:
        raise ValueError(f"{name} is {value:g}{unit}; it must be at most {high:g}{unit}")
    return value
