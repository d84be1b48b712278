"""The units that temperatures come in, and what makes them Celsius."""

from __future__ import annotations

from collections.abc import Callable

from rounds.bench.measures import TOO_HOT_C, too_hot
from rounds.exchange.loggers.cells import number_of, unit_in
from rounds.exchange.loggers.unclear import UnclearFile

# 273.15 and 1.8 by definition: The International System of Units, 9th ed., 2.3.1; NIST SP 811, B.8.
TO_CELSIUS: dict[str, Callable[[float], float]] = {
    "c": lambda value: value,
    "f": lambda value: round((value - 32) / 1.8, 3),
    "k": lambda value: round(value - 273.15, 3),
}


def celsius_of(cell: str, otherwise: Callable[[float], float]) -> float | None:
    """The temperature [C] in a cell: in the unit beside its number, else as ``otherwise`` has it;
    None where it holds no number."""
    number = number_of(cell)
    if number is None:
        return None
    unit = "" if cell[-1:].isdecimal() else unit_in(cell)
    return (TO_CELSIUS[unit] if unit else otherwise)(number)


UNIT_NAMES = {"c": "Celsius", "f": "Fahrenheit", "k": "Kelvin"}
MOST_CELSIUS = 60.0  # a usual reading above this is no room in Celsius
MOST_FAHRENHEIT = 140.0  # the same in Fahrenheit


def unit_by_size(reading: float) -> tuple[str, str]:
    """The unit in which a usual reading can be a room's, where it is one only, and why."""
    if reading > MOST_FAHRENHEIT:
        return "k", f"for {reading:g} in Celsius or Fahrenheit would be no room"
    return ("f", f"for {reading:g} C would be no room") if reading > MOST_CELSIUS else ("", "")


def refuse_too_hot(by_heading: str, middle: float) -> None:
    """Ask about readings whose heading says C, where nothing would live.

    Raises:
        UnclearFile: half of them are as hot as that.
    """
    if by_heading == "c" and too_hot(middle):
        raise UnclearFile(
            f"its heading says Celsius, but half of them are above {TOO_HOT_C:g} C; say which they"
            " are with --unit c, f or k",
            "unit",
            ("c", "f", "k"),
        )


def unit_not_told(low: float, high: float, where: str = "") -> UnclearFile:
    """What is asked where neither the file nor its numbers tell the unit."""
    return UnclearFile(
        f"the file does not say whether {low:g} to {high:g}{where} are Celsius or Fahrenheit; say"
        " which with --unit c or f",
        "unit",
        ("c", "f"),
    )
