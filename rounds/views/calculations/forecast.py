"""Forecast: when a stage ends."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import UTC
from math import inf
from typing import TYPE_CHECKING, Any

from rounds.bench.plurals import count, in_a_row
from rounds.biology.degree_days import CUTOFFS, Thresholds
from rounds.biology.forecast import MAX_DAYS_AHEAD, forecast, steady_trace, trace_of
from rounds.biology.thermal_constants import SPREAD, WHOLE, beyond, every_line, near_error
from rounds.biology.thermal_time import half_took
from rounds.views.calculations.frame import (
    FORESIGHT,
    Calculation,
    CalculationResult,
    Figure,
    InputRefused,
    inputs,
)

if TYPE_CHECKING:
    from rounds.bench.state import Bench
    from rounds.bench.thermal_needs import ThermalNeed
    from rounds.forecasts.foresight import Forecasts

# how own broods draw a constant, said beside each that may be drawn
OWN_BROODS = (
    "drawn towards own broods: ln of the constant is off by species (as far as collected studies"
    " lie apart), then by brood, then by animal; each part weighs by the inverse of its variance,"
    " that of broods as large as their own scatter allows (95 %), so that one or two draw it little"
)
INSTARS = tuple(f"L{instar}" for instar in range(1, 8))
# What knows of a bench is loaded by the calculation that asks for it: the others begin sooner.


def _forecast(given: Mapping[str, Any]) -> CalculationResult:
    from rounds.bench.thermal_needs import (
        USUAL_INSTARS,
        ThermalNeed,
        pauses,
    )
    from rounds.forecasts.needs import bettered
    from rounds.forecasts.stage_ends import need_of

    lower, constant = given["lower"], given["constant"]
    if (constant is None) != (lower is None):
        raise InputRefused(
            "--lower and --constant belong together; give both, or neither and a --species that is"
            " known"
        )
    if given["readings"] and given["temperature"] is not None:
        raise InputRefused("--readings and --temperature are both given; give one of them")
    stage = given["stage"]
    if constant is None or lower is None:
        foresight = _foresight(given)
        bench, species = foresight.bench, _as_written(foresight.bench, given["species"] or "")
        why_not = pauses(bench, species, stage)
        if why_not:
            raise InputRefused(f"{why_not}; give --lower and --constant of what follows winter")
        known = need_of(bench, species, stage)
        if known is None:
            raise InputRefused(
                f"'{stage}' is no stage of which anything is known; give egg, larva, pupa, L1 to"
                f" L{USUAL_INSTARS} or egg to adult, or --lower and --constant"
            )
        on_bench = foresight.need(species, stage)
        rests = _rests(bench, species, stage)
    elif stage not in {*WHOLE, *INSTARS, "egg to adult"}:
        raise InputRefused(
            f"'{stage}' is no stage; give egg, larva, pupa, L1 to {INSTARS[-1]} or egg to adult"
        )
    else:
        shorter, longer = near_error(stage)
        known = ThermalNeed(lower, constant, SPREAD, shorter, "given", longer=longer)
        rests = ""
        on_bench = None
    if given["upper"] is not None and given["upper"] <= known.lower_c:
        raise InputRefused(
            f"upper cutoff {given['upper']:g} C is not above the lower threshold"
            f" {known.lower_c:g} C; raise it"
        )
    # as the forecasts of a bench have it: by its own broods, or by those that are given instead
    broods = [half_took(one, known.spread) for one in given["own"] or ()]
    need = bettered(known, stage, broods) if broods or on_bench is None else on_bench
    above = need.thresholds
    if given["upper"] is not None:
        above = Thresholds(need.lower_c, given["upper"], given["cutoff"])
    words = [
        f"constants: {need.words}{_not_begun(need)}",
        f"how far off: {need.off_words}",
        *([rests] if rests else []),
    ]
    if above.words and above.words not in need.words:
        words.append(above.words)
    if given["readings"]:
        trace = trace_of(given["readings"], above=above)
        heat = f"{len(given['readings'])} readings, then the mean of the last days"
    elif given["temperature"] is not None:
        trace = steady_trace(temperature_c=given["temperature"], above=above)
        heat = f"assumed {given['temperature']:g} C throughout"
    else:
        raise InputRefused("give --temperature, or --readings day:degrees,day:degrees")
    worked = forecast(
        trace,
        begun_from=given["begun-from"],
        begun_to=given["begun-to"],
        constant_dd=need.constant_dd,
        spread=need.spread if given["spread"] is None else given["spread"],
        uncertainty=need.uncertainty,
        longer=need.longer,
        number=given["number"],
    )
    words.append(f"temperatures: {heat}")
    if given["readings"]:
        read = [degrees for _, degrees in given["readings"]]
    else:
        read = [given["temperature"]]
    text = beyond(need.tested, sum(read) / len(read), max(read), above.upper_c)
    words += [text] if text else []
    words += [f"a hole in the readings: day {gap.start:g} to {gap.end:g}" for gap in trace.gaps]
    if worked.half is None:
        never = "at these temperatures it never comes: no heat above the threshold"
        words.append(
            never
            if trace.rate_ahead <= 0
            else f"at these temperatures it does not come within {MAX_DAYS_AHEAD:.0f} days"
        )
    return CalculationResult(
        (
            *(
                Figure(label, at, "days", low, high, interval, 1)
                for label, at, low, high, interval in (
                    ("first", worked.first, worked.not_before, worked.first_by, "90 %"),
                    ("half", worked.half, worked.low, worked.high, "90 % of single animals"),
                    ("last", worked.last, worked.last_after, worked.last_by, "90 %"),
                )
            ),
            Figure("thermal constant used", need.constant_dd, "C day", digits=1),
            Figure("lower threshold used", need.lower_c, "C", digits=1),
        ),
        words,
    )


def _foresight(given: Mapping[str, Any]) -> Forecasts:
    """What the bench knows; without a book that of an empty one."""
    from rounds.bench.state import Bench
    from rounds.forecasts.foresight import Forecasts

    known: Forecasts | None = given[FORESIGHT]
    return Forecasts(Bench(), UTC) if known is None else known


def _as_written(bench: Bench, species: str) -> str:
    """The name as the book has it, which may be in another case."""
    name = species.strip()
    names = {*bench.taxa, *(bench.taxon_of(brood) for brood in bench.broods)}
    return next((one for one in sorted(names) if one.casefold() == name.casefold()), name)


def _constants(given: Mapping[str, Any]) -> CalculationResult:
    from rounds.bench.thermal_needs import pauses

    foresight = _foresight(given)
    species = _as_written(foresight.bench, given["species"])
    figures, words = [], []
    for stage in WHOLE:
        one, why_not = foresight.need(species, stage), pauses(foresight.bench, species, stage)
        if one is not None and not why_not:
            figures.append(
                Figure(
                    stage,
                    one.constant_dd,
                    f"C day above {one.lower_c:.1f} C; {one.off_words}",
                    digits=1,
                )
            )
        words += [f"{stage}: {why_not or one.words + _not_begun(one)}"] if one is not None else []
    words += _own_broods(foresight, species)
    lines = every_line(species)
    words.append(
        f"{count(len(lines), 'line')} of it and its genus:"
        if lines
        else "no line of it or of its genus: assumed throughout"
    )
    for line in lines:
        if line.constant_dd:
            text = f"{line.constant_dd:g} C day above {line.lower_c:g} C"
        else:
            text = "days alone: " + ", ".join(f"{days:g} at {at:g} C" for at, days in line.days)
        extra = "; ".join(
            filter(None, (line.note, f"left out: {line.left_out}" if line.left_out else ""))
        )
        words.append(
            f"  {line.species}, {line.stage}: {text}{f' ({extra})' if extra else ''}, {line.source}"
        )
    return CalculationResult(figures, words)


def _rests(bench: Bench, species: str, stage: str) -> str:
    """That the keeper says that the species rests in a stage, for which the bench gives no date."""
    from rounds.bench.thermal_needs import TOGETHER

    known = bench.taxa.get(species)
    rests = [
        f"as {one} {when}"
        for one in TOGETHER.get(stage, (stage,))
        if known is not None and (when := known.rests_as(one))
    ]
    if not rests:
        return ""
    return (
        f"it rests {', '.join(rests)}, as the keeper says: the bench gives no date, this holds only"
        " where it does not pause"
    )


def _not_begun(need: ThermalNeed) -> str:
    """That it is not what the bench says of a brood by its own animals."""
    return "; for a brood not begun" if need.broods else ""


def _own_broods(foresight: Forecasts, species: str) -> Iterator[str]:
    """What each brood of the book took in each stage and instar, a line each."""
    for stage in (*WHOLE, *INSTARS):
        need = foresight.need(species, stage)
        for brood, ends in foresight.own_broods(species, stage).items() if need else ():
            done = [one for one in ends if one.high < inf]
            waiting = [one for one in ends if one.high == inf]
            parts = []
            if done:
                low, high = min(one.low for one in done), max(one.high for one in done)
                parts.append(
                    f"{sum(one.number for one in done)} took {low:.1f} to {high:.1f} C day"
                )
            if waiting:
                waited: Counter[str] = Counter()
                for one in sorted(waiting, key=lambda one: one.low):
                    waited[f"{one.low:.1f}"] += one.number
                each = [f"{n} not yet after {looked} C day" for looked, n in waited.items()]
                parts.append(f"{in_a_row(each)}, when last looked at")
            assert need is not None
            above = f"above {need.lower_c:.1f} C"
            yield f"own brood {brood}, {stage} {above}: {', '.join(parts)}"


CALCULATIONS = (
    Calculation(
        "constants",
        "what is known of the warmth that a species needs, by own broods, papers and relatives",
        inputs("species text | scientific name, in any case | orthosia hibisci"),
        _constants,
        "the keeper's constants, else its own lines combined, else its genus', else any species';"
        f" {OWN_BROODS}; how far off: each study or species left out and foretold",
        "as listed; own broods Gelman et al. 2013, 5.4",
        "--species 'Orthosia hibisci'",
        of_bench=True,
    ),
    Calculation(
        "forecast",
        "when a stage ends: first, half and last of n",
        inputs(
            f"""
            species? text | scientific name, to look constants up
            stage text = egg | egg, larva, pupa, L1 ...
            lower? -20..40 C | lower threshold
            constant? 0.001..20000 C day | thermal constant
            upper? -20..60 C | upper cutoff
            cutoff choice {"/".join(CUTOFFS)} = horizontal | what heat above it does
            begun-from -10000..10000 days = 0.0 | not before this day
            begun-to -10000..10000 days = 0.0 | not after this day
            number count 1..1000000 = 1 | how many animals
            spread? 0..1 | of animals, share of the constant; {SPREAD:g} if no own broods show it
            own? numbers 0.001..20000 C day | degree-days that half of each own brood took
            temperature? -40..60 C | assumed throughout
            readings? pairs C | as day:degrees
            """
        ),
        _forecast,
        "the day on which heat above the threshold since laying reaches the constant; spread of"
        " animals and of the laying time (who began late is slower: half of twice their product"
        " besides), of the constant, and of the days ahead as far as days differed before, added in"
        f" squares; first and last of n at 0.625 / (n + 0.25); {OWN_BROODS}",
        "straight-line model D = K / (T - T0), 15 to 30 C; Campbell et al. 1974; Blom 1958; own"
        " broods Gelman et al. 2013, 5.4; how far off: the collected studies, each left out",
        "--species 'Orthosia hibisci' --stage egg --temperature 15C --begun-to 0.5 --number 40",
        of_bench=True,
    ),
)
