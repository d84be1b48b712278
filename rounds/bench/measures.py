"""The units in which a keeper reads and types; the daybook itself is always metric."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Literal

from msgspec import Struct

from rounds import late
from rounds.surroundings.units import (
    ML_PER_FLUID_OUNCE,
    MM_PER_INCH,
    RECKONED,
    celsius_days_of,
    celsius_of,
)

_WARMTH = late.pattern(
    r"(?:(-?\d+(?:\.\d+)?) to )?(-?\d+(?:\.\d+)?) C\b( days?\b| degrees\b| degree-days\b)?"
)
_KEPT_IN = {"c": "C", "dd": "C day", "mm": "mm", "ml": "ml"}
_BULK = late.pattern(r"(\d+(?:\.\d+)?) ml\b")


class Measures(Struct, frozen=True):
    """How warmth, depth and volume are told and typed."""

    temperature: Literal["C", "F"] = "C"
    volume: Literal["ml", "fl oz"] = "ml"
    length: Literal["mm", "in"] = "mm"

    def warmth(self, celsius: float) -> str:
        """A temperature, as ``21.4 C`` or ``70.5 F``."""
        return f"{self.warmth_number(celsius)} {self.temperature}"

    def warmth_number(self, celsius: float) -> str:
        """A temperature without its unit."""
        if self.temperature == "C":
            return f"{celsius:g}"
        return f"{round(celsius * 9 / 5 + 32, 1):g}"

    def tenths(self, celsius: float) -> float:
        """A temperature in C that is told to a tenth, though it was typed in F."""
        return round(celsius, 1) if self.temperature == "C" else celsius

    def span(self, low_c: float, high_c: float) -> str:
        """Lowest to highest, as ``15 to 24 C``."""
        return f"{self.warmth_number(low_c)} to {self.warmth(high_c)}"

    def heat(self, degree_days: float, digits: int = 0) -> str:
        """Degree-days, as ``75 C degree-days`` or ``135 F degree-days``."""
        return f"{self.heat_number(degree_days, digits)} {self.temperature} degree-days"

    def heat_number(self, degree_days: float, digits: int = 0) -> str:
        """Degree-days without their unit."""
        return f"{self.told(degree_days, 'C day'):.{digits}f}"

    def celsius(self, typed: float) -> float:
        """A temperature as typed, in C."""
        return typed if self.temperature == "C" else celsius_of(typed)

    def celsius_days(self, typed: float) -> float:
        """Degree-days as typed, of C."""
        return typed if self.temperature == "C" else celsius_days_of(typed)

    def depth(self, millimetres: float) -> str:
        """A depth, as ``22 mm`` or ``0.87 in``."""
        if self.length == "mm":
            return f"{millimetres:g} mm"
        return f"{round(millimetres / MM_PER_INCH, 2):g} in"

    def millimetres(self, typed: float) -> float:
        """A depth as typed, in mm."""
        return typed if self.length == "mm" else round(typed * MM_PER_INCH, 2)

    def bulk(self, millilitres: float) -> str:
        """A volume, as ``250 ml`` or ``8.5 fl oz``."""
        if self.volume == "ml":
            return f"{millilitres:g} ml"
        return (
            f"{round(millilitres / ML_PER_FLUID_OUNCE, 1 if millilitres >= ML_PER_FLUID_OUNCE else 2):g}"  # noqa: E501
            " fl oz"
        )

    def millilitres(self, typed: float) -> float:
        """A volume as typed, in ml."""
        return typed if self.volume == "ml" else round(typed * ML_PER_FLUID_OUNCE, 2)

    def told(self, value: float, unit: str) -> float:
        """A number of a metric unit in the keeper's, as 5 mm a day in inches; of others as it
        is."""
        match self._kept(unit):
            case "F" if unit.startswith(("C day", "C degree")):
                return round(value * 9 / 5, 4)
            case "F":
                return round(value * 9 / 5 + 32, 2)
            case "in":
                return round(value / MM_PER_INCH, 3)
            case "fl oz":
                return round(value / ML_PER_FLUID_OUNCE, 2)
        return value

    def meant(self, typed: float, unit: str) -> float:
        """A number typed without its unit where one of a metric unit is wanted, in that; of others
        as it is."""
        kept = {
            "C": lambda one: one if self.temperature == "C" else celsius_of(one, RECKONED),
            "C day": self.celsius_days,
            "mm": self.millimetres,
            "ml": self.millilitres,
        }.get(unit)
        return typed if kept is None else kept(typed)

    def unit(self, unit: str) -> str:
        """A metric unit as the keeper's, as ``in a day`` for ``mm a day``."""
        kept = self._kept(unit)
        return unit.replace(unit.split(" ")[0], kept, 1) if kept else unit

    def _kept(self, unit: str) -> str:
        """The keeper's own unit in place of a metric one; empty where it is told as it is."""
        first = unit.partition(" ")[0]
        own = {"C": self.temperature, "mm": self.length, "ml": self.volume}.get(first, first)
        return "" if own == first else own

    def in_words(self, text: str) -> str:
        """The program's own words with their temperatures and volumes in the keeper's units; never
        for a keeper's words."""
        if self.temperature != "C":
            text = _WARMTH.sub(self._warmth_or_heat, text)
        if self.volume != "ml":
            text = _BULK.sub(lambda found: self.bulk(float(found[1])), text)
        return text

    def _warmth_or_heat(self, found: re.Match[str]) -> str:
        """A temperature, how far two are apart (degrees) or degree-days, one or from one to
        another, in the keeper's unit."""
        unit = f"C{found[3] or ''}"
        numbers = [f"{round(self.told(float(one), unit), 1):g}" for one in found.group(1, 2) if one]
        return f"{' to '.join(numbers)} {self.temperature}{found[3] or ''}"

    def metric(self, field: str, typed: float) -> float:
        """A number typed without its unit, as the field of that name keeps it."""
        unit = unit_of(field)
        return self.celsius(typed) if unit == "C" else self.meant(typed, unit)


def unit_of(field: str) -> str:
    """The metric unit that a field keeps its number in, by the end of its name; empty where it is
    of none that keepers differ in."""
    return _KEPT_IN.get(field.rpartition("_")[2], "")


METRIC = Measures()
TOO_HOT_C = 50.0  # no butterfly or moth lives long above it: common practice, no source
WARMEST_F = 120.0  # typed without a unit it may have been meant in F up to there; our choice


def too_hot(celsius: float, measures: Measures = METRIC) -> str:
    """What is odd about a temperature at which nothing lives, and what may have been meant; empty
    where it is none."""
    if celsius <= TOO_HOT_C:
        return ""
    return f"hotter than anything lives in{meant_in_f(celsius, measures)}"


def meant_in_f(number: float, measures: Measures = METRIC) -> str:
    """What a number taken for C is if it was meant in F; empty where that is not likely."""
    if measures.temperature == "F" or not TOO_HOT_C < number <= WARMEST_F:
        return ""
    return if_meant(number, measures)


def in_other_unit(celsius: float, measures: Measures) -> float | None:
    """How warm it was [C] if the number was meant in the unit that is not the keeper's; None where
    it was typed with its unit, as far as its digits tell."""
    if measures.temperature == "C":
        return celsius_of(celsius) if round(celsius, 1) == celsius else None
    number = round(celsius * 9 / 5 + 32, 1)
    return number if number.is_integer() or round(celsius, 1) != celsius else None


def if_meant(celsius: float, measures: Measures) -> str:
    """What is right if a number was meant in the unit that is not the keeper's, as it ends a
    question; empty where it was typed with its unit."""
    other = in_other_unit(celsius, measures)
    if other is None:
        return ""
    unit = "F" if measures.temperature == "C" else "C"
    told = measures.warmth(round(other, 1))
    return f"; if {unit} was meant, {measures.warmth_number(celsius)}{unit} ({told})"


def measures_of(settings: Mapping[str, str]) -> Measures:
    """The book's units; what it does not say is metric."""
    return Measures(
        "F" if settings.get("temperature") == "F" else "C",
        "fl oz" if settings.get("volume") == "fl oz" else "ml",
        "in" if settings.get("length") == "in" else "mm",
    )
