"""Published thermal constants of butterflies and moths, and what they say of a species that has
none of its own.

``published_lines.py`` holds one published line a row (lower threshold [C], thermal constant [C
day]) or, where a study gives no line, its durations, with population, diet, source, and how it was
read: most were quoted by a compilation, the rest read in an abstract. A row that is ``left_out``
says why and enters no median.

Thresholds and constants trade off against each other, so lines are never averaged as such: what is
combined is the days that they foretell. At two temperatures the median of the rates is taken, and
the line goes through both. How far such a line is off is measured, by leaving out one study of a
species, or one species of a group, and foretelling it from the others (Stone 1974, J. R. Statist.
Soc. B 36:111-147, from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from math import inf, sqrt
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from rounds.grouping import grouped

# of individuals within a stage, as a share of the constant; our estimate, own broods better it
SPREAD = 0.10
LOW_C, HIGH_C = 18.0, 26.0  # where lines are combined: between them lie most rearing rooms
Z90 = 1.6448536269514722  # standard normal deviate of the 95th percentile
# where a straight line holds for most temperate species, where a study does not say; from memory
LINEAR_C = 15.0, 30.0
WHOLE = ("egg", "larva", "pupa", "egg to adult")  # stages for which any species may stand in
Whose = Literal["own", "genus", "any"]
_CENTURIES = ("18", "19", "20")


class Constants(Struct, frozen=True):
    """Lower threshold [C] and thermal constant [C day] of a stage, whose they are, and who says so.

    ``tested`` are the coolest and the warmest temperature of the study [C] where it says them;
    ``left_out`` says why a row enters no median; ``days`` are durations by temperature where a
    study gives those; ``winters_as`` are the stages in which the species is said to winter.
    """

    species: str
    family: str
    stage: str
    lower_c: float
    constant_dd: float
    source: str
    note: str = ""
    printed_as: str = ""
    tested: tuple[float, float] | None = None
    days: tuple[tuple[float, float], ...] = ()
    winters_as: tuple[str, ...] = ()
    left_out: str = ""

    @property
    def study(self) -> str:
        """The first author and the year of its source, by which a study is known again that several
        compilations quote, each in its own way."""
        words = "".join(one if one.isalnum() else " " for one in self.source).split()
        years = (one for one in words if len(one) == 4 and one.isdigit() and one[:2] in _CENTURIES)
        return f"{words[0].casefold()} {next(years, '')}" if words else ""

    def rate(self, temperature_c: float) -> float:
        """Development a day at a temperature [1/day], nought at and under the threshold."""
        return max(0.0, (temperature_c - self.lower_c) / self.constant_dd)


def beyond(
    tested: tuple[float, float] | None,
    mean_c: float,
    warmest_c: float,
    upper_c: float | None = None,
) -> str:
    """What to say where it was colder or warmer than constants were tested at; empty where it was
    not.

    Above the optimum growth falls again, which a straight line does not know; where an upper
    threshold is known it is reckoned with.
    """
    low, high = tested or LINEAR_C
    known = "tested" if tested else "usual for a straight line"
    if warmest_c > high and upper_c is None:
        return (
            f"up to {warmest_c:.1f} C, above the {high:g} C {known}: growth falls there, they may"
            " be later"
        )
    if mean_c < low:
        return (
            f"{mean_c:.1f} C in the mean, below the {low:g} C {known}: the line is drawn out, they"
            " may be off either way"
        )
    return ""


class SpeciesConstants(Struct, frozen=True):
    """Constants found for a species, whose they are, and how far they may be off.

    ``shorter`` and ``longer`` are standard deviations of the logarithm of the days on either side
    of what the line foretells, as measured: 9 in 10 lie within 1.645 of them. ``lines`` of
    ``species`` species were combined.
    """

    constants: Constants
    whose: Whose
    shorter: float
    longer: float
    lines: int
    species: tuple[str, ...]

    @property
    def words(self) -> str:
        """Said on screen beside every number that rests on them."""
        constants = self.constants
        if self.whose == "own":
            which = (
                constants.source
                if self.lines == 1
                else f"median of {self.lines} lines, {constants.source}"
            )
            return (
                f"{constants.species}'s own,"
                f" {which}{f' ({constants.note})' if constants.note else ''}"
            )
        if self.whose == "genus":
            whom = (
                self.species[0]
                if len(self.species) == 1
                else f"{len(self.species)} species of its genus"
            )
            return f"a guess from {whom}, {constants.source}"
        return (
            f"a guess from {len(self.species)} other species of all families"
            f" (median of {self.lines} lines)"
        )


@lru_cache(maxsize=1)
def published() -> tuple[Constants, ...]:
    """Every row that ships, in their order there; a row of durations alone has a constant of
    nought."""
    import csv

    from rounds.biology.published_lines import ROWS

    headings, *rows = csv.reader(ROWS.splitlines())
    return tuple(_row(dict(zip(headings, row, strict=True))) for row in rows)


def _row(row: dict[str, str]) -> Constants:
    days = tuple(
        (float(at), float(took)) for at, took in (pair.split(":") for pair in row["days"].split())
    )
    tested = (
        (float(row["coldest_c"]), float(row["warmest_c"]))
        if row["coldest_c"] and row["warmest_c"]
        else None
    )
    quoted = f", quoted in {row['quoted_by']}" if row["quoted_by"] else ""
    return Constants(
        row["species"],
        row["family"],
        row["stage"],
        float(row["lower_c"] or 0),
        float(row["constant_dd"] or 0),
        f"{row['source']}{quoted}",
        ", ".join(filter(None, (row["population"], row["diet"]))),
        row["printed_as"],
        tested,
        days,
        tuple(row["winters_as"].split()),
        row["left_out"],
    )


@lru_cache(maxsize=4096)
def named(species: str) -> str:
    """Genus and species in small letters, without subspecies; the genus alone where no more is
    said."""
    return " ".join(species.casefold().split()[:2])


@lru_cache(maxsize=64)
def lines_of(stage: str) -> dict[str, tuple[Constants, ...]]:
    """The lines of a stage by species (``named``), each study's line once, none that is left
    out."""
    found: dict[str, list[Constants]] = {}
    for constants in published():
        if constants.stage != stage or constants.left_out or not constants.constant_dd:
            continue
        known = found.setdefault(named(constants.species), [])
        if not any(_same(constants, other) for other in known):
            known.append(constants)
    return {species: tuple(lines) for species, lines in found.items()}


def _same(constants: Constants, other: Constants) -> bool:
    """Whether two rows are one line, read twice and rounded otherwise."""
    close = (
        abs(constants.lower_c - other.lower_c) < 0.06
        and abs(constants.constant_dd / other.constant_dd - 1) < 0.01
    )
    return close and constants.source.split(" ")[0].strip(",.") == other.source.split(" ")[0].strip(
        ",."
    )


def _middle(ordered: Sequence[float]) -> float:
    """The median of numbers in their order."""
    middle = len(ordered) // 2
    return ordered[middle] if len(ordered) % 2 else (ordered[middle - 1] + ordered[middle]) / 2


def combined(lines: Sequence[Constants]) -> Constants:
    """The line through the median rates of some lines at 18 and 26 C, under the name of the first.

    Raises:
        ValueError: no line.
    """
    if not lines:
        raise ValueError("no line to combine; give one or more")
    if len(lines) == 1:
        return lines[0]
    middles = (_middle(sorted(one.rate(at) for one in lines)) for at in (LOW_C, HIGH_C))
    lower, constant = _through(*middles)
    first, others = lines[0], len({constants.study for constants in lines}) - 1
    source = f"{first.source} and {others} more" if others else first.source
    # of several species only what is usual can be said: one of them may bear what others do not
    one_species = len({named(line.species) for line in lines}) == 1
    tested = [line.tested for line in lines if line.tested and one_species]
    span = (min(one for one, _ in tested), max(value for _, value in tested)) if tested else None
    winters = tuple(sorted({stage for one in lines for stage in one.winters_as}))
    return Constants(
        first.species,
        first.family,
        first.stage,
        lower,
        constant,
        source,
        tested=span,
        winters_as=winters,
    )


def _through(low: float, high: float) -> tuple[float, float]:
    """Threshold [C] and constant [C day] of the line through the rates at 18 and 26 C [1/day]."""
    constant = (HIGH_C - LOW_C) / (high - low)
    return LOW_C - low * constant, constant


@lru_cache(maxsize=64)
def _own_lines(stage: str) -> dict[str, Constants]:
    """Each species' own line of a stage."""
    return {species: combined(lines) for species, lines in lines_of(stage).items()}


@lru_cache(maxsize=64)
def _genera(stage: str) -> dict[str, dict[str, Constants]]:
    """Each species' own line of a stage, by genus."""
    found: dict[str, dict[str, Constants]] = {}
    for name, constants in _own_lines(stage).items():
        found.setdefault(name.split(" ")[0], {})[name] = constants
    return found


def _of_genus(species: str, stage: str) -> list[Constants]:
    """The lines of the others of its genus."""
    genus = _genera(stage).get(species.split(" ")[0], {})
    return [constants for name, constants in genus.items() if name != species]


def near_error(stage: str, studies: int = 1) -> tuple[float, float]:
    """How far a species is off from so many studies of it, or from the others of its genus; an
    instar as larvae.

    Measured by foretelling each study of a species, and each species of a genus, from the others,
    all brought to what they are by one study (``of_studies``). A relative is no nearer than that,
    however many there are.
    """
    shorter, longer = _errors(stage)[0]
    less = of_studies(studies)
    return shorter * less, longer * less


def of_studies(studies: int) -> float:
    """How far off the middle of so many studies is, as a part of how far one is.

    Studies of a species differ by population, food and method, each about their mean by as much as
    the brood that is foretold: one by s sqrt(1 + 1), n by s sqrt(1 + 1/n) (the error of predicting
    a new one from a mean of n, from memory).
    """
    return sqrt((1 + 1 / studies) / 2)


def any_error(stage: str) -> tuple[float, float]:
    """How far a species is off from the median of all others, each foretold from the rest; an
    instar as larvae."""
    return _errors(stage)[1]


_Sides = tuple[float, float]
# Measured over all rows that ship: reckoning it takes as long as a command. A test, which has the
# way it is reckoned, holds these to the rows.
_MEASURED: dict[str, tuple[_Sides, _Sides]] = {
    "egg": ((0.2560412211651057, 0.24154950509559142), (0.2560412211651057, 0.4923509920242081)),
    "larva": (
        (0.2878497022264144, 0.3575716287979999),
        (0.2878497022264144, 0.43520840006572836),
    ),
    "pupa": (
        (0.2679022155075795, 0.32339109273298877),
        (0.2679022155075795, 0.33309378992327704),
    ),
    "egg to adult": (
        (0.3879150752470667, 0.3631756191140568),
        (0.3879150752470667, 0.45579234937278906),
    ),
}


def _errors(stage: str) -> tuple[_Sides, _Sides]:
    """How far the near and how far any are off; an instar as larvae."""
    whole = stage if stage in WHOLE else next((one for one in WHOLE if one in stage), "larva")
    return _MEASURED[whole]


@lru_cache(maxsize=4096)
def constants_for(species: str, stage: str) -> SpeciesConstants | None:
    """The constants of that species and stage; else those of its genus, else of any species; None
    for other stages.

    A family's foretell no better than any species' (measured over the collected rows), so none is
    asked for. Names in any case; a name that a source printed counts too.
    """
    return _found(_accepted(named(species)), stage)


@lru_cache(maxsize=1)
def _accepted_names() -> dict[str, str]:
    return {
        named(constants.printed_as): named(constants.species)
        for constants in published()
        if constants.printed_as
    }


def _accepted(name: str) -> str:
    return _accepted_names().get(name, name)


def _found(name: str, stage: str) -> SpeciesConstants | None:
    lines = lines_of(stage)
    if name in lines:
        own = lines[name]
        off = near_error(stage, len({constants.study for constants in own}))
        return SpeciesConstants(combined(own), "own", *off, len(own), (own[0].species,))
    timed = _from_days(name, stage)
    if timed is not None:
        return SpeciesConstants(timed, "own", *near_error(stage), 1, (timed.species,))
    if stage not in WHOLE:
        return None
    near = _of_genus(name, stage)
    those = near or list(_own_lines(stage).values())
    off = near_error(stage) if near else any_error(stage)
    told = tuple(constants.species for constants in those)
    number = sum(len(lines[named(one)]) for one in told)
    return SpeciesConstants(combined(those), "genus" if near else "any", *off, number, told)


@lru_cache(maxsize=1)
def _timed() -> dict[tuple[str, str], list[Constants]]:
    """The rows of durations, by species (``named``) and stage, none that is left out."""
    return grouped(
        ((named(row.species), row.stage), row)
        for row in published()
        if row.days and not row.left_out
    )


def _from_days(name: str, stage: str) -> Constants | None:
    """The constant that a species' own durations give above the usual threshold, where it has no
    line."""
    if stage not in WHOLE:
        return None
    rows = _timed().get((name, stage), [])
    pairs = [pair for row in rows for pair in row.days]
    if not pairs:
        return None
    first, lower = rows[0], combined(list(_own_lines(stage).values())).lower_c
    constant = _middle(sorted(days * (at - lower) for at, days in pairs))
    span = (min(at for at, _ in pairs), max(at for at, _ in pairs))
    temperatures = ", ".join(f"{at:g} C" for at, _ in pairs)
    note = f"{first.note}; durations at {temperatures}, threshold assumed".removeprefix("; ")
    return Constants(
        first.species,
        first.family,
        stage,
        lower,
        constant,
        first.source,
        note,
        tested=span,
        winters_as=first.winters_as,
    )


def share_of(
    whole: Constants,
    stage: str,
    known: Sequence[Constants],
    sharing: Sequence[Constants],
    line: Constants,
) -> Constants | None:
    """The line of a stage of a span of several, at 18 and 26 C: the days of the known ones taken
    off, what is left shared in proportion to ``sharing``, of which ``line`` is the stage's.

    Of one that shares alone it is all that is left. Of a mere share of the whole, never under what
    the shortest published line of that stage takes.

    Returns:
        None where nothing is left at one of the two, or no line goes through both.
    """
    low, high = (
        (days_of([whole], at) - days_of(known, at)) * days_of([line], at) / days_of(sharing, at)
        for at in (LOW_C, HIGH_C)
    )
    if not (0 < low < inf and 0 < high < inf):
        return None
    if not known:
        low, high = max(low, _shortest(stage, LOW_C)), max(high, _shortest(stage, HIGH_C))
    return _taking(low, high, replace(whole, stage=stage))


@lru_cache(maxsize=64)
def _shortest(stage: str, at: float) -> float:
    """The days of the quickest species' own line of a stage at a temperature; nought where none."""
    return min((days_of([one], at) for one in _own_lines(stage).values()), default=0.0)


def in_turn(parts: Sequence[Constants]) -> Constants | None:
    """The line of several stages one after the other, their days added at 18 and 26 C.

    Returns:
        None where one of them does not develop at one of the two, or no line goes through both.

    Raises:
        ValueError: no stage.
    """
    if not parts:
        raise ValueError("no stage to add; give one or more")
    low, high = (days_of(parts, at) for at in (LOW_C, HIGH_C))
    spans = [part.tested for part in parts if part.tested]
    span = (max(one for one, _ in spans), min(one for _, one in spans)) if spans else None
    return _taking(low, high, replace(parts[0], tested=span))


def _taking(low: float, high: float, line: Constants) -> Constants | None:
    """A line that takes so many days at 18 and 26 C; None where there is none."""
    if not 0 < high < low < inf:
        return None
    lower, constant = _through(1 / low, 1 / high)
    return replace(line, lower_c=lower, constant_dd=constant)


def days_of(parts: Iterable[Constants], temperature_c: float) -> float:
    """How long stages take one after the other at a temperature [days]; infinite where one does not
    develop."""
    return sum(1 / rate if (rate := part.rate(temperature_c)) > 0 else inf for part in parts)


@lru_cache(maxsize=1)
def _rows() -> dict[str, list[Constants]]:
    """Every row that ships by its species (``named``), whatever it says."""
    return grouped((named(row.species), row) for row in published())


def _rows_of(species: str) -> list[Constants]:
    return _rows().get(_accepted(named(species)), [])


def every_line(species: str) -> list[Constants]:
    """Every row that ships of a species, then of others of its genus, whatever it says; those left
    out say why."""
    name = _accepted(named(species))
    genus = name.split(" ")[0]
    others = (
        row
        for row in published()
        if (other := named(row.species)) != name and other.split(" ")[0] == genus
    )
    return [*_rows_of(species), *others]


AFTER_WINTER = " after winter"  # how a stage's lines are called that begin when winter is over


@lru_cache(maxsize=512)
def pauses_as(species: str) -> tuple[str, ...]:
    """The stages in which a species pauses until after winter: those of which the collected rows
    have lines from then on alone."""
    stages = {row.stage for row in _rows_of(species)}
    after = {stage.removesuffix(AFTER_WINTER) for stage in stages if stage.endswith(AFTER_WINTER)}
    return tuple(sorted(after - stages))


def winters_as(species: str) -> tuple[str, ...]:
    """The stages in which a species is said to winter, where the collected rows say; empty where
    they do not."""
    return tuple(sorted({stage for row in _rows_of(species) for stage in row.winters_as}))
