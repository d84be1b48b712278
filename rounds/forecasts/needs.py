"""How much warmth a stage needs: the keeper's own constants, else what ships, bettered by the
bench's own broods."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from math import hypot, inf

from msgspec import Struct
from msgspec.structs import replace

from rounds.bench.folding.stage_completions import A_LOOK_BEFORE
from rounds.bench.plurals import count
from rounds.bench.state import Bench, StageCompletion
from rounds.biology.forecast import HeatTrace
from rounds.biology.thermal_constants import (
    SPREAD,
    UNCERTAINTY,
    Constants,
    SpeciesConstants,
    constants_for,
    less,
)
from rounds.biology.thermal_time import NEVER, StageEnds, estimated
from rounds.entries.registry import ThermalConstants
from rounds.tallies.warmth import day_of

# of a species' own constant beside own broods: one brood weighs less than it, ten nine tenths; our
# choice
LEARNING = 0.08
WIDEST_SPREAD, WIDEST_UNCERTAINTY = (
    1.0,
    2.0,
)  # a brood that is unlike any other tells no more than that; as the forecast takes them
NEVER_HATCH = 0.2  # share of eggs that may never hatch; our estimate, no source
TOGETHER = {
    "larva and pupa": ("larva", "pupa"),
    "egg to adult": ("egg", "larva", "pupa"),
}  # stages said together
WIDEST_OFF = 0.6  # no stage of any species is told more uncertain than that; our estimate
LONGEST_STAGE = timedelta(days=400)
# who is longer in a stage without diapause was forgotten, or its date is wrong: it teaches nothing
GRAIN_DD = 0.01  # degree-days are told no finer, so that what was reckoned once stays reckoned


class ThermalNeed(Struct, frozen=True):
    """What a stage needs, how sure that is, and whose words they are.

    ``lower_c`` in C, ``constant_dd`` in degree-days, ``spread`` of individuals as a share of it;
    ``uncertainty`` is the standard deviation of the constant's logarithm, ``longer`` that on the
    longer side where it is another. ``broods`` is how many own broods it rests on besides,
    ``tested`` the coolest and the warmest temperature of the study, where it says them.
    """

    lower_c: float
    constant_dd: float
    spread: float
    uncertainty: float
    words: str
    broods: int = 0
    longer: float | None = None
    tested: tuple[float, float] | None = None

    @property
    def above(self) -> float:
        """The standard deviation of the logarithm on the longer side."""
        return self.uncertainty if self.longer is None else self.longer


class PriorConstants(Struct, frozen=True):
    """Constants as they were known before any own brood; ``learning`` as for ``estimated``."""

    need: ThermalNeed
    learning: float | None


def known_need(bench: Bench, taxon: str, stage: str) -> PriorConstants | None:
    """The keeper's constants for a species and stage, else its own that ship, its genus', any
    species'.

    None for an instar or another part of a stage of which nothing was published.
    """
    own = _keepers(bench, taxon, stage)
    if own is not None:
        words = f"the keeper's constants ({own.source or 'no source given'})"
        return PriorConstants(
            ThermalNeed(own.lower_c, own.constant_dd, SPREAD, UNCERTAINTY, words), LEARNING
        )
    constants = constants_for(taxon, stage)
    whole = (
        _of_whole_life(bench, taxon, stage, constants)
        if constants is None or constants.whose != "own"
        else None
    )
    if whole is not None:
        return whole
    if constants is None:
        return None
    line = constants.constants
    need = ThermalNeed(
        line.lower_c,
        line.constant_dd,
        SPREAD,
        constants.shorter,
        _words(constants, stage),
        longer=constants.longer,
        tested=line.tested,
    )
    return PriorConstants(need, LEARNING if constants.whose == "own" else None)


def _keepers(bench: Bench, taxon: str, stage: str) -> ThermalConstants | None:
    """What the keeper said of a species, in whatever case its name was written."""
    name = taxon.casefold()
    known = (
        stages
        for one, stages in bench.constants.items()
        if one.casefold() == name and stage in stages
    )
    return next((stages[stage] for stages in known), None)


def _of_whole_life(
    bench: Bench, taxon: str, stage: str, other: SpeciesConstants | None
) -> PriorConstants | None:
    """A stage from constants of several together, less what the others of them take.

    The keeper's own are taken; those that ship where they are surer than those of ``other``
    species.
    """
    for together, stages in TOGETHER.items():
        if stage not in stages:
            continue
        own, constants = _keepers(bench, taxon, together), constants_for(taxon, together)
        if own is not None:
            whole, source = (
                Constants(taxon, "", together, own.lower_c, own.constant_dd, own.source),
                "the keeper's constants",
            )
        elif constants is not None and constants.whose == "own" and other is not None:
            whole, source = constants.constants, constants.words
        else:
            continue
        others = [
            known
            for known in (_without_whole_life(bench, taxon, one) for one in stages if one != stage)
            if known
        ]
        parts = [
            Constants(taxon, "", one, known.lower_c, known.constant_dd, "")
            for one, known in zip(stages, others, strict=False)
        ]
        left = less(whole, stage, parts) if len(others) == len(stages) - 1 else None
        if left is not None:
            words = (
                f"{source} of {together} less what"
                f" {' and '.join(one for one in stages if one != stage)} take"
            )
            off = hypot(
                UNCERTAINTY,
                *(known.uncertainty * known.constant_dd / left.constant_dd for known in others),
            )
            longer = hypot(
                UNCERTAINTY,
                *(known.above * known.constant_dd / left.constant_dd for known in others),
            )
            if (
                own is None
                and other is not None
                and (off >= other.shorter or longer >= other.longer)
            ):
                continue
            need = ThermalNeed(
                left.lower_c,
                left.constant_dd,
                SPREAD,
                min(off, WIDEST_OFF),
                words,
                longer=min(longer, WIDEST_OFF),
            )
            return PriorConstants(need, None)
    return None


def _without_whole_life(bench: Bench, taxon: str, stage: str) -> ThermalNeed | None:
    """What is known of a stage by itself; of a relative's or any species' it is as uncertain as
    that is."""
    own = _keepers(bench, taxon, stage)
    if own is not None:
        return ThermalNeed(own.lower_c, own.constant_dd, SPREAD, UNCERTAINTY, "")
    constants = constants_for(taxon, stage)
    if constants is None:
        return None
    return ThermalNeed(
        constants.constants.lower_c,
        constants.constants.constant_dd,
        SPREAD,
        constants.shorter,
        "",
        longer=constants.longer,
    )


def _words(found: SpeciesConstants, stage: str) -> str:
    pauses = stage in found.constants.winters_as and found.whose == "own"
    return (
        f"{found.words}; it can winter as {stage}, where it does this does not hold"
        if pauses
        else found.words
    )


def seen_of(
    passages: Sequence[StageCompletion],
    trace_of: Callable[[StageCompletion], HeatTrace],
    before: datetime | None = None,
) -> tuple[StageEnds, ...]:
    """What the animals of one brood that ended a stage say of the warmth that it takes.

    Args:
        trace_of: the heat along all places where such animals stood, above one threshold.
        before: as it was known before an instant: who ended it later had not ended it then.
    """
    ends = []
    for stage_completion in passages:
        if stage_completion.at - stage_completion.begun_to > LONGEST_STAGE:
            continue
        trace = trace_of(stage_completion)
        from_dd, to_dd = (
            trace.heat_at(day_of(stage_completion.begun_from)),
            trace.heat_at(day_of(stage_completion.begun_to)),
        )
        if before is not None and stage_completion.at >= before:
            if stage_completion.begun_to < before:
                ends.append(
                    _seen(trace.heat_at(day_of(before)) - to_dd, inf, stage_completion.number)
                )
            continue
        looked = stage_completion.looked or stage_completion.at - A_LOOK_BEFORE
        low = trace.heat_at(day_of(looked)) - to_dd if stage_completion.evidence == "seen" else 0.0
        ends.append(
            _seen(
                low, trace.heat_at(day_of(stage_completion.at)) - from_dd, stage_completion.number
            )
        )
    return tuple(ends)


def not_yet(trace: HeatTrace, begun_to: datetime, looked: datetime, number: int) -> StageEnds:
    """Animals that had not ended a stage when they were last looked at."""
    return _seen(trace.heat_at(day_of(looked)) - trace.heat_at(day_of(begun_to)), inf, number)


def _seen(low: float, high: float, number: int) -> StageEnds:
    low = _grained(max(0.0, low))
    return StageEnds(low, high if high == inf else max(low, _grained(high)), number)


def _grained(heat: float) -> float:
    return round(heat / GRAIN_DD) * GRAIN_DD


def bettered(
    known: PriorConstants,
    stage: str,
    broods: Sequence[tuple[StageEnds, ...]],
    this: int | None = None,
    left_out: int = 0,
) -> ThermalNeed:
    """The need drawn toward the bench's own broods, the more the more there are.

    Args:
        broods: what was seen of each; ``this`` is the one that it is wanted for, None for another.
        left_out: animals that are longer in the stage than any can be (``LONGEST_STAGE``).
    """
    need = known.need
    if left_out:
        days = f"{LONGEST_STAGE.days} days"
        need = replace(need, words=f"{need.words}; {left_out} left out, over {days} in this stage")
    estimate = estimated(
        need.constant_dd,
        shorter=need.uncertainty,
        longer=need.above,
        learning=known.learning,
        broods=broods,
        this=this,
        spread=need.spread,
        never=NEVER_HATCH if stage == "egg" else NEVER,
    )
    if not estimate.broods and not estimate.weight:
        return need
    text = (
        count(estimate.broods, "own brood")
        if estimate.broods
        else "own animals that are not there yet"
    )
    words = f"{estimate.weight:.0%} by {text}, the rest {need.words}"
    animals = min(estimate.spread, WIDEST_SPREAD)
    shorter, longer = (
        min(estimate.shorter, WIDEST_UNCERTAINTY),
        min(estimate.longer, WIDEST_UNCERTAINTY),
    )
    return ThermalNeed(
        need.lower_c, estimate.constant_dd, animals, shorter, words, estimate.broods, longer
    )
