"""How much warmth a stage needs: the keeper's own constants, else what ships, bettered by the bench's finished broods."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct

from rounds.bench.state import Bench, Passed
from rounds.biology.forecast import Trace, calibrated
from rounds.biology.thermal_constants import SPREAD, UNCERTAINTY, constants_for
from rounds.record.warmth import day_of

RELATIVES_UNCERTAINTY = 0.25  # a relative's constants may be this far off, as a share; our estimate, no source
ASSUMED_LOWER_C = 8.0  # below this nothing is taken to develop where only own broods tell; our estimate, no source
OWN_UNCERTAINTY = 0.15  # of one own brood where nothing was published; our estimate, no source


class Need(Struct, frozen=True):
    """What a stage needs, how sure that is, and whose words they are.

    ``lower_c`` in C, ``constant_dd`` in degree-days, ``spread`` of individuals and ``uncertainty`` of the constant as shares of
    it; ``broods`` is how many own broods it rests on besides.
    """

    lower_c: float
    constant_dd: float
    spread: float
    uncertainty: float
    words: str
    broods: int = 0


def published_need(bench: Bench, taxon: str, stage: str) -> Need | None:
    """The keeper's constants for a species and stage, else what ships for it, else a relative's; None where there are none."""
    own = bench.constants.get(taxon, {}).get(stage)
    if own is not None:
        words = f"the keeper's constants ({own.source or 'no source given'})"
        return Need(own.lower_c, own.constant_dd, SPREAD, UNCERTAINTY, words)
    known = bench.taxa.get(taxon)
    found = constants_for(taxon, stage, known.family if known else "")
    if found is None:
        return None
    unsure = UNCERTAINTY if found.whose == "own" else RELATIVES_UNCERTAINTY
    return Need(found.constants.lower_c, found.constants.constant_dd, SPREAD, unsure, found.words)


def own_degree_days(passages: list[Passed], warmth: Callable[[Passed], Trace]) -> float:
    """Mean degree-days that the animals of one brood took, from the middle of when they began to when the end was seen.

    Args:
        warmth: the heat along all places where such animals stood, above one threshold [C day].
    """
    total = sum(one.number for one in passages)
    taken = 0.0
    for one in passages:
        middle = (day_of(one.begun_from) + day_of(one.begun_to)) / 2
        trace = warmth(one)
        taken += one.number * (trace.heat_at(day_of(one.at)) - trace.heat_at(middle))
    return taken / total


def bettered(need: Need | None, own_dd: list[float]) -> Need | None:
    """The need drawn toward the bench's own finished broods, the more the more there are."""
    own_dd = [one for one in own_dd if one > 1]
    if not own_dd:
        return need
    if need is None:
        mean = sum(own_dd) / len(own_dd)
        words = f"own broods only, above an assumed {ASSUMED_LOWER_C:g} C; no published constants"
        return Need(ASSUMED_LOWER_C, mean, SPREAD, OWN_UNCERTAINTY / len(own_dd) ** 0.5, words, len(own_dd))
    found = calibrated(published_dd=need.constant_dd, published_uncertainty=need.uncertainty, own_dd=own_dd)
    own = "own brood" if len(own_dd) == 1 else "own broods"
    words = f"{need.words}, drawn {found.weight_of_own:.0%} of the way to {len(own_dd)} {own}"
    return Need(need.lower_c, found.constant_dd, need.spread, found.uncertainty, words, len(own_dd))
