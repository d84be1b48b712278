"""Units in which keepers read, in those that are reckoned in."""

from __future__ import annotations

import re
from collections.abc import Callable

from rounds import late

ML_PER_FLUID_OUNCE = 29.5735295625  # US, exactly: 231 cubic inches / 128
MM_PER_INCH = 25.4  # exactly


def celsius_of(fahrenheit: float) -> float:
    """F as C, to a hundredth."""
    return round((fahrenheit - 32) * 5 / 9, 2)


def celsius_days_of(fahrenheit_days: float) -> float:
    """Degree-days of F as those of C, to a millionth, that they come back as they were typed."""
    return round(fahrenheit_days * 5 / 9, 6)


_OTHERS: dict[str, dict[str, Callable[[float], float]]] = {
    "C": {"c": float, "f": celsius_of},
    "C day": {"c": float, "f": celsius_days_of},
    "mm": {"mm": float, "in": lambda inches: inches * MM_PER_INCH},
    "ml": {"ml": float, "fl oz": lambda ounces: ounces * ML_PER_FLUID_OUNCE},
}
_WITH_UNIT = late.pattern(r"\s*(-?[\d.]+)\s*\u00b0?(C|F|mm|in|ml|fl oz)\s*", re.IGNORECASE)


def in_unit(typed: str, unit: str) -> float | None:
    """A number that was typed with a unit of its own, as ``72F``, in a unit that measures the same;
    None where it has none, or another."""
    found = _WITH_UNIT.fullmatch(typed)
    others = _OTHERS.get(unit, {})
    if found is None or found[2].lower() not in others:
        return None
    try:
        return others[found[2].lower()](float(found[1]))
    except ValueError:
        return None
