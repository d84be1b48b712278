"""One of the calculations told in words or as data: its inputs, result, formula and source."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile
from typing import TYPE_CHECKING, Any, TextIO

from msgspec.structs import asdict, replace

from rounds.bench.measures import METRIC, Measures
from rounds.views.calculations import all_calculations
from rounds.views.calculations.frame import (
    Calculation,
    CalculationResult,
    Figure,
    InputRefused,
    named,
    work_out,
)
from rounds.views.json_out import as_json
from rounds.views.words import literal

if TYPE_CHECKING:
    from rounds.forecasts.foresight import Forecasts


def calc(
    arguments: Sequence[str],
    *,
    out: TextIO,
    err: TextIO,
    measures: Measures = METRIC,
    foresight: Forecasts | None = None,
) -> int:
    """Do it, told in the keeper's units, data and what was published as they are, beside what a
    bench knows; 0 done, 1 refused, 2 wrong use."""
    words = list(arguments)
    if not words or words[0] in ("-h", "--help"):
        print("\n".join(listing(all_calculations())), file=out)
        return 0
    if words == ["--json"]:
        print(as_json("calc", all_data(all_calculations())), file=out)
        return 0
    if words[0] == "--json":
        words = [*words[1:], "--json"]
    try:
        calculation = named(all_calculations(), words[0])
    except InputRefused as refused:
        print(f"rounds: {literal(str(refused))}", file=err)
        return 2
    if "--help" in words or "-h" in words:
        print("\n".join(explained(calculation, measures)), file=out)
        return 0
    as_data = "--json" in words
    given, trouble = _given([word for word in words[1:] if word != "--json"], calculation)
    if trouble:
        print(f"rounds: {literal(trouble)}", file=err)
        return 2
    try:
        values, worked = work_out(calculation, given, foresight, measures)
    except InputRefused as refused:
        print(f"rounds: {literal(str(refused))}", file=err)
        return 1
    if as_data:
        lines = [as_json("calc", data(calculation, values, worked))]
    else:
        lines = told(calculation, values, worked, measures)
    print("\n".join(lines), file=out)
    return 0


def asks_bench(name: str) -> bool:
    """Whether the calculation of that name goes by what a bench knows too."""
    return any(one.of_bench for one in all_calculations() if one.name == name)


def _given(words: list[str], calculation: Calculation) -> tuple[dict[str, str], str]:
    """The inputs by name; words before any name are the one text that must be given."""
    given: dict[str, str] = {}
    names = {one.name for one in calculation.inputs}
    texts = [
        one.name
        for one in calculation.inputs
        if one.shape == "text" and one.default is None and not one.optional
    ]
    position = 0
    if len(texts) == 1:
        before = list(takewhile(lambda word: not word.startswith("--"), words))
        position = len(before)
        given |= {texts[0]: " ".join(before)} if before else {}
    while position < len(words):
        word = words[position]
        name, equals, value = word.removeprefix("--").partition("=")
        if not word.startswith("--") or name not in names:
            takes = ", ".join(f"--{one}" for one in sorted(names))
            return {}, f"'{word}' is no input of {calculation.name}; it takes {takes}"
        if not equals:
            position += 1
            if position >= len(words):
                return {}, f"--{name} has no value; give one after it"
            value = words[position]
        if name in given:
            return {}, f"--{name} is given twice; give it once"
        given[name] = value
        position += 1
    return given, ""


def listing(calculations: Sequence[Calculation]) -> list[str]:
    """Every calculation with what it is about."""
    lines = ["rounds calc NAME --input value ... [--json]", ""]
    lines += [f"  {calculation.name:<20} {calculation.about}" for calculation in calculations]
    return [*lines, "", "rounds calc NAME --help shows its inputs."]


def all_data(calculations: Sequence[Calculation]) -> dict[str, Any]:
    """Every calculation with its inputs, formula and source, as data."""
    return {
        "calculations": [
            {
                "calculation": one.name,
                "about": one.about,
                "inputs": {
                    taken.name: {
                        "about": taken.about,
                        "unit": taken.told_unit(METRIC),
                        "choices": list(taken.choices),
                        "default": taken.default,
                        "optional": taken.optional,
                    }
                    for taken in one.inputs
                },
                "formula": one.formula,
                "source": one.source,
                "example": one.example,
            }
            for one in calculations
        ]
    }


def explained(calculation: Calculation, measures: Measures = METRIC) -> list[str]:
    """A calculation's inputs, and a run that works."""
    lines = [f"{calculation.name}: {calculation.about}", ""]
    for one in calculation.inputs:
        unit = f" [{one.told_unit(measures)}]" if one.unit else ""
        choices = f" ({', '.join(one.choices)})" if one.choices else ""
        default = (
            f"; {_in(measures, one.unit, one.default)} if not given"
            if one.default is not None
            else ("; may be left out" if one.optional else "")
        )
        example = f", as {one.example}" if one.example else ""
        lines.append(f"  --{one.name:<18} {one.about}{example}{unit}{choices}{default}")
    return [*lines, "", f"as: rounds calc {calculation.name} {calculation.example}"]


def told(
    calculation: Calculation,
    values: dict[str, Any],
    worked: CalculationResult,
    measures: Measures = METRIC,
) -> list[str]:
    """Inputs with units, figures with limits, words, in the keeper's units; the formula as
    published."""
    lines = [calculation.name]
    for one in calculation.inputs:
        if values[one.name] is not None and (
            one.name != "cutoff" or values.get("upper") is not None
        ):
            value = _in(measures, one.unit, values[one.name], one.left)
            lines.append(
                f"  {one.name:<20} {literal(_shown(value))} {one.told_unit(measures)}".rstrip()
            )
    lines.append("result")
    lines += [
        f"  {measures.in_words(figure.label):<34} {figure_words(_figure(measures, figure))}"
        for figure in worked.figures
    ]
    lines += [f"  {measures.in_words(words)}" for words in worked.words]
    formula = worked.formula or calculation.formula
    return [*lines, f"formula  {formula}", f"source   {measures.in_words(calculation.source)}"]


def _in(measures: Measures, unit: str, value: Any, left: str = "") -> Any:
    """What was given of a unit, in the keeper's; of pairs the second has it, the first ``left``."""
    if isinstance(value, tuple):
        return tuple(
            (_in(measures, left, one[0]), _in(measures, unit, one[1]))
            if isinstance(one, tuple)
            else _in(measures, unit, one)
            for one in value
        )
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return measures.told(value, unit) if is_number else value


def _figure(measures: Measures, figure: Figure) -> Figure:
    unit = measures.unit(figure.unit)
    if unit == figure.unit:
        return replace(figure, unit=measures.in_words(unit))
    value, low, high = (
        _in(measures, figure.unit, one) for one in (figure.value, figure.low, figure.high)
    )
    # an inch is 25 millimetres: two digits more tell as much
    more = 2 if unit.startswith("in") else 0
    told = measures.in_words(unit)
    return replace(figure, value=value, low=low, high=high, unit=told, digits=figure.digits + more)


def figure_words(figure: Figure) -> str:
    """A figure with its unit and limits; a dash where there is none."""
    value = _number(figure.value, figure.digits)
    limits = ""
    if figure.low is not None or figure.high is not None:
        high = _number(figure.high, figure.digits) if figure.high is not None else "no limit"
        low = _number(figure.low, figure.digits)
        if {low, high} != {value}:  # no '2.7 (2.7 to 2.7)'
            limits = f"  ({low} to {high}; {figure.interval})"
    return (f"{value} {figure.unit}".rstrip() if figure.value is not None else value) + limits


def _number(value: float | int | str | None, digits: int) -> str:
    if value is None:
        return "-"
    if isinstance(value, str):
        return value
    if -1e-9 < value <= 0:  # what rounding leaves of nought
        return "0"
    if 0 < value < 10**-digits:
        return f"under {10**-digits:.{digits}f}"
    if isinstance(value, float) and abs(value) >= 10**-digits:
        return f"{value:.{digits}f}"
    return f"{value:g}"


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return ",".join(
            ":".join(f"{part:g}" for part in one) if isinstance(one, tuple) else f"{one:g}"
            for one in value
        )
    return f"{value:g}" if isinstance(value, float) else str(value)


def data(
    calculation: Calculation, values: dict[str, Any], worked: CalculationResult
) -> dict[str, Any]:
    """The same as data."""
    return {
        "calculation": calculation.name,
        "inputs": {
            one.name: {"value": values[one.name], "unit": one.unit} for one in calculation.inputs
        },
        "figures": [
            {name: value for name, value in asdict(figure).items() if name != "digits"}
            for figure in worked.figures
        ],
        "words": list(worked.words),
        "formula": worked.formula or calculation.formula,
        "source": calculation.source,
    }
