"""Refusing what no formula should be given: one line that says what is wrong and what would be
right."""

from __future__ import annotations

import math

NEXT_TO_NOTHING = 1e-6  # a bound so small stands for 'more than nought'


def within(name: str, value: float, low: float, high: float, unit: str = "") -> float:
    """The value, where it is finite and within bounds.

    Raises:
        ValueError: one line.
    """
    unit = f" {unit}" if unit else ""
    if not isinstance(value, int | float) or not math.isfinite(value):
        raise ValueError(f"{name} is {value}; it must be a finite number")
    if value < low:
        least = "more than 0" if 0 < low <= NEXT_TO_NOTHING else f"at least {low:g}"
        raise ValueError(f"{name} is {value:g}{unit}; it must be {least}{unit}")
    if value > high:
        raise ValueError(f"{name} is {value:g}{unit}; it must be at most {high:g}{unit}")
    return value
