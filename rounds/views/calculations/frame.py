"""The frame that every calculation fits into: named inputs in, figures with their formula and
source out.

The shell's ``rounds calc`` and the Calculator screen both read this frame, so a calculation is
described once.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Literal, Protocol, cast

from msgspec import Struct

from rounds.bench.measures import METRIC, Measures
from rounds.limits import within
from rounds.surroundings.units import in_unit
from rounds.word_tables import table_rows

if TYPE_CHECKING:
    from rounds.forecasts.foresight import Forecasts

FORESIGHT = "foresight"  # under which ``work`` is given what a bench knows; None without a book
Shape = Literal["number", "count", "text", "choice", "yes or no", "numbers", "pairs", "time"]


class Input(Struct, frozen=True):
    """One input of a calculation.

    ``name`` is the long option (`lower-threshold`), ``unit`` stands after the value on screen,
    ``low`` and ``high`` bound a number (both allowed). ``default`` None means that the input must
    be given unless ``optional``. ``numbers`` is a comma-separated list; ``pairs`` a comma-separated
    list of ``a:b``, the first of ``left`` if that is a unit, the second of ``unit``; ``time`` an
    RFC 3339 instant with offset. A number may be typed with its unit,
    as ``72F`` or ``0.9in``.
    """

    name: str
    about: str
    shape: Shape = "number"
    unit: str = ""
    low: float | None = None
    high: float | None = None
    choices: tuple[str, ...] = ()
    default: Any = None
    optional: bool = False
    example: str = ""
    left: str = ""

    def told_unit(self, measures: Measures) -> str:
        """Its unit as the keeper's; of pairs with one on each side both."""
        units = (self.left, self.unit) if self.left else (self.unit,)
        return ":".join(measures.unit(unit) for unit in units)


_INPUT = re.compile(
    r"(?P<name>\S+?)(?P<optional>\??)"
    r"(?: (?P<shape>count|text|choice|yes or no|numbers|pairs|time))?"
    r"(?: (?P<choices>\w+(?:/\w+)+))?(?: (?P<low>\S*)\.\.(?P<high>\S*))?(?: (?P<unit>[^=]+?))?"
    r"(?: = (?P<default>.*))?"
)


def inputs(table: str) -> tuple[Input, ...]:
    """Inputs, a line each, as ``name? shape low..high unit = default | about | example``.

    Only the name and what it is about must stand there; ``?`` makes it optional, the shape is a
    number where none is said. What has no room goes on in lines set in.
    """
    return tuple(_input(*row) for row in table_rows(table))


def _input(head: str, about: str, example: str = "") -> Input:
    said = _INPUT.fullmatch(head)
    assert said is not None, head
    shape = cast("Shape", said["shape"] or "number")
    default: Any = said["default"]
    if default is not None and shape in ("number", "count"):
        default = float(default) if shape == "number" else int(default)
    elif shape == "yes or no":
        default = default == "yes"
    left, _, unit = (said["unit"] or "").rpartition(":")
    return Input(
        said["name"],
        about,
        shape,
        unit,
        float(said["low"]) if said["low"] else None,
        float(said["high"]) if said["high"] else None,
        tuple(said["choices"].split("/")) if said["choices"] else (),
        default,
        bool(said["optional"]),
        example,
        left,
    )


class Estimate(Protocol):
    """A value between two limits, as a share or a rate."""

    @property
    def value(self) -> float: ...

    @property
    def low(self) -> float: ...

    @property
    def high(self) -> float: ...


class Figure(Struct, frozen=True):
    """One figure of a result: a value with its unit and, where it has one, its interval."""

    label: str
    value: float | int | str | None
    unit: str = ""
    low: float | None = None
    high: float | None = None
    interval: str = ""  # what low and high are, e.g. "95 % exact Poisson"
    digits: int = 3


def with_limits(label: str, estimate: Estimate, interval: str, digits: int = 3) -> Figure:
    """The figure of an estimate, between the limits that it has."""
    return Figure(label, estimate.value, "", estimate.low, estimate.high, interval, digits)


class CalculationResult(Struct, frozen=True):
    """A worked result: the figures, what they mean in words, and how they were got where that is
    another way than the calculation's own."""

    figures: Sequence[Figure]
    words: Sequence[str] = ()
    formula: str = ""


class Calculation(Struct, frozen=True):
    """A calculation that a keeper can ask for by name, its formula and who says so."""

    name: str
    about: str
    inputs: tuple[Input, ...]
    work: Callable[[Mapping[str, Any]], CalculationResult]
    formula: str
    source: str
    example: str = ""  # the options of a run that works, shown in help and run by the tests
    of_bench: bool = False  # goes by the bench too: ``work`` is given its forecasts as FORESIGHT


class InputRefused(ValueError):
    """An input that cannot be used; the text is one line: what is wrong and what would be right."""


def read_inputs(
    calculation: Calculation, given: Mapping[str, str], measures: Measures = METRIC
) -> dict[str, Any]:
    """Turn the typed inputs into values, or refuse with one line; a number without its unit is in
    the keeper's.

    Raises:
        InputRefused: unknown or missing input, wrong shape, not finite, out of range.
    """
    known = {one.name: one for one in calculation.inputs}
    for name in given:
        if name not in known:
            raise InputRefused(
                f"{calculation.name} has no input '{name}'; it takes {', '.join(known)}"
            )
    for one in calculation.inputs:
        if one.name not in given and one.default is None and not one.optional:
            unit = f" [{one.told_unit(measures)}]" if one.unit else ""
            raise InputRefused(
                f"--{one.name} is missing: {one.about}{unit}; as {calculation.example}"
            )
    return {
        one.name: _read_shape(one, given[one.name].strip(), measures)
        if one.name in given
        else one.default
        for one in calculation.inputs
    }


def _read_shape(one: Input, typed: str, measures: Measures) -> Any:
    match one.shape:
        case "text" | "time":
            return typed
        case "choice":
            if typed not in one.choices:
                raise InputRefused(f"{one.name} is '{typed}'; it can be {', '.join(one.choices)}")
            return typed
        case "yes or no":
            if typed.lower() not in {"yes", "no", "true", "false"}:
                raise InputRefused(f"{one.name} is '{typed}'; it can be yes or no")
            return typed.lower() in {"yes", "true"}
        case "numbers":
            return tuple(_number(one, part, measures) for part in typed.split(",") if part.strip())
        case "pairs":
            return tuple(_pair(one, part, measures) for part in typed.split(",") if part.strip())
        case "count":
            value = _number(one, typed, measures)
            if value != int(value):
                raise InputRefused(f"{one.name} is {typed}; it must be a whole number")
            return int(value)
        case _:
            return _number(one, typed, measures)


def _pair(one: Input, part: str, measures: Measures) -> tuple[float, float]:
    left, colon, right = part.partition(":")
    if not colon:
        raise InputRefused(
            f"{one.name} has '{part.strip()}'; each item must be two numbers with a colon, as 12:3"
        )
    return (
        _number(one, left, measures, bounded=False, unit=one.left),
        _number(one, right, measures, bounded=False),
    )


def _number(
    one: Input, typed: str, measures: Measures, *, bounded: bool = True, unit: str | None = None
) -> float:
    unit = one.unit if unit is None else unit
    other = in_unit(typed, unit)
    try:
        value = measures.meant(float(typed), unit) if other is None else other
    except ValueError:
        raise InputRefused(f"{one.name} is '{typed.strip()}'; it must be a number") from None
    low = one.low if bounded and one.low is not None else -math.inf
    high = one.high if bounded and one.high is not None else math.inf
    try:
        within(one.name, value, low, high, one.unit)
    except ValueError as refused:
        told = float(typed) if other is None else measures.told(value, unit)
        least, most = (
            measures.told(end, unit) if math.isfinite(end) else end for end in (low, high)
        )
        try:
            within(one.name, told, least, most, measures.unit(unit))
        except ValueError as trouble:
            raise InputRefused(str(trouble)) from None
        raise InputRefused(str(refused)) from None
    return value


def work_out(
    calculation: Calculation,
    given: Mapping[str, str],
    foresight: Forecasts | None = None,
    measures: Measures = METRIC,
) -> tuple[dict[str, Any], CalculationResult]:
    """Read the typed inputs and run the calculation, beside what a bench knows.

    Raises:
        InputRefused: with one line, also where the pure function itself refuses (its ValueError's
            text).
    """
    values = read_inputs(calculation, given, measures)
    try:
        known = {FORESIGHT: foresight} if calculation.of_bench else {}
        return values, calculation.work(values | known)
    except InputRefused:
        raise
    except (ValueError, OverflowError, ZeroDivisionError) as trouble:
        raise InputRefused(measures.in_words(str(trouble))) from trouble


def named(calculations: Sequence[Calculation], name: str) -> Calculation:
    """The calculation of that name.

    Raises:
        InputRefused: no such name; the line lists those there are.
    """
    for calculation in calculations:
        if calculation.name == name:
            return calculation
    raise InputRefused(
        f"no calculation is called '{name}'; there are"
        f" {', '.join(one.name for one in calculations)}"
    )
