"""Leave-one-out over the collected species: what each basis would tell of a species, held against its own published lines.

A study of a species is foretold from its other studies, a species from the others of its genus, from all others, and an
instar from larval life, at 17, 21 and 25 C. The rows are those of ``rounds/biology/published_lines.py``, each with its
source; what is left out there is left out here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import log, sqrt
from statistics import correlation

from rounds.bench.thermal_needs import ThermalNeed
from rounds.biology import thermal_constants as lines
from rounds.biology.thermal_constants import WHOLE, Z90, Constants
from rounds.forecasts.stage_ends import SHARE_VARIES, instar_share, left_share, scaled
from tests.published.errors_of_lines import MEASURED_AT, any_error, near_error

INSTARS = tuple(f"L{instar}" for instar in range(1, 8))


@dataclass(frozen=True, slots=True)
class Case:
    """A published line and what its basis told of it: logarithms of true over told days, and both sides of the window."""

    basis: str
    stage: str
    name: str
    errors: tuple[float, ...]
    shorter: float
    longer: float

    @property
    def inside(self) -> float:
        """The share of the temperatures at which it came inside the nine-in-ten window."""
        held = [-Z90 * self.shorter <= error <= Z90 * self.longer for error in self.errors]
        return sum(held) / len(held)


def _errors(true: Constants, told: Constants) -> tuple[float, ...]:
    rates = [(told.rate(at), true.rate(at)) for at in MEASURED_AT]
    return tuple(log(one / other) for one, other in rates if one > 0 and other > 0)


def cases() -> Iterator[Case]:
    """Every species and stage by every basis that it has, itself left out."""
    for stage in WHOLE:
        known = lines.lines_of(stage)
        own = {name: lines.combined(some) for name, some in known.items()}
        for name, some in known.items():
            others = {other: one for other, one in own.items() if other != name}
            genus = [one for other, one in others.items() if other.split()[0] == name.split()[0]]
            if genus:
                off = near_error(stage, name)
                yield Case("genus", stage, name, _errors(own[name], lines.combined(genus)), *off)
            every = lines.combined(list(others.values()))
            yield Case(
                "any species", stage, name, _errors(own[name], every), *any_error(stage, name)
            )
            studies = sorted({one.study for one in some})
            for one_study in studies if len(studies) > 1 else ():
                study = lines.combined([one for one in some if one.study == one_study])
                rest = lines.combined([one for one in some if one.study != one_study])
                off = near_error(stage, name, len(studies) - 1)
                yield Case("its own", stage, name, _errors(study, rest), *off)
                if len(studies) == 2:
                    yield Case("its own, by one", stage, name, _errors(study, rest), *off)


def with_every_instar() -> Iterator[tuple[str, dict[int, Constants]]]:
    """The species with lines of every instar, by instar."""
    names = {name for stage in INSTARS for name in lines.lines_of(stage)}
    for name in sorted(names):
        known = {
            int(stage[1:]): lines.combined(lines.lines_of(stage)[name])
            for stage in INSTARS
            if name in lines.lines_of(stage)
        }
        if sorted(known) == list(range(1, len(known) + 1)):
            yield name, known


def instars() -> Iterator[Case]:
    """Every instar of a species with lines of all of them, as its usual share of these together: how far shares are off."""
    for name, known in with_every_instar():
        for instar, line in known.items():
            share, errors = instar_share(instar, len(known)), []
            for at in MEASURED_AT:
                whole = sum(1 / one.rate(at) for one in known.values())
                errors.append(log(1 / line.rate(at) / (whole * share)))
            off = SHARE_VARIES * (1 - share) ** 0.5
            yield Case("share of larval life", f"L{instar}", name, tuple(errors), off, off)


def rests() -> Iterator[Case]:
    """What is left of larval life from each instar on, told of the same species as of one of which nothing is known."""
    for name, known in with_every_instar():
        larva, (shorter, longer) = _larva_of_others(name), any_error("larva", name)
        whole = ThermalNeed(
            larva.lower_c, larva.constant_dd, 0.1, shorter, "", longer=longer, whose="any"
        )
        for instar in known:
            rest = scaled(whole, left_share(instar, len(known)), "")
            assert rest is not None
            left = [one for other, one in known.items() if other >= instar]
            errors = tuple(
                log(lines.days_of(left, at) * (at - rest.lower_c) / rest.constant_dd)
                for at in MEASURED_AT
            )
            yield Case(
                "rest of larval life", f"L{instar}", name, errors, rest.uncertainty, rest.above
            )


def last_makes_slow() -> float:
    """How far the error of larval life, told from any species', goes with that of the last instar's share of it: their correlation."""
    pairs = []
    for name, known in with_every_instar():
        larva, last = _larva_of_others(name), len(known)
        for at in MEASURED_AT:
            whole = lines.days_of(known.values(), at)
            share = lines.days_of([known[last]], at) / whole
            pairs.append((log(whole * larva.rate(at)), log(share / instar_share(last, last))))
    return correlation(*zip(*pairs, strict=True))


def _larva_of_others(name: str) -> Constants:
    larvae = {other: one for other, one in lines.lines_of("larva").items() if other != name}
    return lines.combined([lines.combined(own) for own in larvae.values()])


def moults() -> Iterator[Case]:
    """Every published instar before the last as any species' larvae take it, as far off as those of the other species are."""
    found = [
        (stage, name, _instar_errors(stage, name))
        for stage in INSTARS[:-1]
        for name in lines.lines_of(stage)
    ]
    known = [one for one in found if one[2]]
    for stage, name, errors in known:
        off = root_mean_square(
            [error for _, other, some in known if other != name for error in some]
        )
        yield Case("instar of any species", stage, name, errors, off, off)


def instars_off() -> float:
    """How far an instar before the last is off that is told from any species' larvae, over all of them."""
    return root_mean_square([error for case in moults() for error in case.errors])


def root_mean_square(errors: list[float]) -> float:
    """Of logarithms of true over told."""
    return sqrt(sum(error * error for error in errors) / len(errors))


def _instar_errors(stage: str, name: str) -> tuple[float, ...]:
    all_of = [one for one in INSTARS if name in lines.lines_of(one)]
    instar, number = int(stage[1:]), len(all_of)
    if instar >= number:
        return ()
    larva = _larva_of_others(name)
    share, known = instar_share(instar, number), lines.combined(lines.lines_of(stage)[name])
    return tuple(log(larva.rate(at) / share / known.rate(at)) for at in MEASURED_AT)


@dataclass(frozen=True, slots=True)
class Score:
    """How many cases, what share of them inside, and the mean of true over told as a logarithm."""

    cases: int
    inside: float
    bias: float


def score(of: list[Case]) -> Score:
    """Each case weighs one, however many temperatures it has."""
    means = [sum(one.errors) / len(one.errors) for one in of]
    return Score(len(of), sum(one.inside for one in of) / len(of), sum(means) / len(of))


def table() -> dict[tuple[str, str], Score]:
    """By basis and stage, and by basis over all stages."""
    every = [*cases(), *instars(), *moults(), *rests()]
    keys = {(one.basis, one.stage) for one in every} | {(one.basis, "") for one in every}
    return {
        (basis, stage): score(
            [one for one in every if one.basis == basis and stage in ("", one.stage)]
        )
        for basis, stage in sorted(keys)
    }


if __name__ == "__main__":
    for (basis, stage), found in table().items():
        print(
            f"{basis:22} {stage or 'all':13} {found.cases:4} cases, inside {found.inside:.1%}, bias {found.bias:+.1%}"
        )
