"""Units in which keepers read, in those that are reckoned in."""

from __future__ import annotations

import re
from collections.abc import Callable

from rounds import late

ML_PER_FLUID_OUNCE = 29.5735295625  # US, exactly: 231 cubic inches / 128
MM_PER_INCH = 25.4  # exactly
RECKONED = 6  # digits behind the point of what was typed in F, that sums of it are right


def celsius_of(fahrenheit: float, digits: int = 2) -> float:
    """F as C, to a hundredth as it is read; what is reckoned with takes ``RECKONED`` digits."""
    return round((fahrenheit - 32) * 5 / 9, digits)


def celsius_days_of(fahrenheit_days: float) -> float:
    """Degree-days of F as those of C, to a millionth, that they come back as they were typed."""
    return round(fahrenheit_days * 5 / 9, RECKONED)


_OTHERS: dict[str, dict[str, Callable[[float], float]]] = {
    "C": {"c": float, "f": lambda fahrenheit: celsius_of(fahrenheit, RECKONED)},
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
