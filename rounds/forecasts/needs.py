"""How much warmth a stage needs: what was known of it, bettered by the bench's own broods."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from math import inf

from msgspec.structs import replace

from rounds.bench.folding.stage_completions import A_LOOK_BEFORE
from rounds.bench.plurals import count, percent
from rounds.bench.state import StageCompletion
from rounds.bench.thermal_needs import ThermalNeed
from rounds.biology.forecast import HeatTrace
from rounds.biology.thermal_time import NEVER, Estimate, StageEnds, estimated
from rounds.tallies.warmth import day_of

# a brood that is unlike any other tells no more than that; as the forecast takes them
WIDEST_SPREAD, WIDEST_UNCERTAINTY = 1.0, 2.0
NEVER_HATCH = 0.2  # share of eggs that may never hatch; our estimate, no source
LONGEST_STAGE = timedelta(days=400)
# who is longer in a stage without diapause was forgotten, or its date is wrong: it teaches nothing
_ENDED = {"egg": "hatched", "larva": "pupated", "pupa": "emerged"}
NONE_OF_IT = percent(0.0)
LEAST_WAITED = 0.5  # C day, told as none
LEAST_MOVED = 0.002  # of a constant, that is told as moved
GRAIN_DD = 0.01  # degree-days are told no finer, so that what was reckoned once stays reckoned


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
    need: ThermalNeed,
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
    if left_out:
        days = f"{LONGEST_STAGE.days} days"
        need = replace(need, words=f"{need.words}; {left_out} left out, over {days} in this stage")
    estimate = estimated(
        need.constant_dd,
        shorter=need.uncertainty,
        longer=need.above,
        broods=broods,
        this=this,
        spread=need.spread,
        never=NEVER_HATCH if stage == "egg" else NEVER,
    )
    ended = _ENDED.get(stage, "moulted")
    words = _drawn_words(need, estimate, broods, ended)
    done = 0 if this is None else sum(one.number for one in broods[this] if one.high < inf)
    if done:
        own = f"this brood's own {done} that {ended}"
        others = need.words if percent(estimate.weight) == NONE_OF_IT else words
        words = f"from {own}; without them: {others}"
    animals = min(estimate.spread, WIDEST_SPREAD)
    shorter, longer = (
        min(estimate.shorter, WIDEST_UNCERTAINTY),
        min(estimate.longer, WIDEST_UNCERTAINTY),
    )
    return replace(
        need,
        constant_dd=estimate.constant_dd,
        spread=animals,
        uncertainty=shorter,
        longer=longer,
        words=words,
        broods=estimate.broods,
        up_to=estimate.up_to,
    )


def _drawn_words(
    need: ThermalNeed, estimate: Estimate, broods: Sequence[tuple[StageEnds, ...]], ended: str
) -> str:
    """What own broods, and own animals that have not ``ended`` the stage, make of what was
    known."""
    if estimate.broods:
        own = count(estimate.broods, "own brood")
        differ = f"broods differ by {percent(estimate.differ)}"
        if percent(estimate.between) != percent(estimate.differ):
            differ += f", taken as {percent(estimate.between)} to weigh them"
        return f"{percent(estimate.weight)} by {own}, the rest {need.words}; {differ}"
    waiting = [one.low for brood in broods for one in brood if one.high == inf]
    if not waiting or max(waiting) < LEAST_WAITED:
        return need.words
    not_yet = f"own animals that have not {ended} after {max(waiting):.0f} C degree-days"
    if abs(estimate.constant_dd - need.constant_dd) < LEAST_MOVED * need.constant_dd:
        return f"{need.words}; its limits adjusted by {not_yet}"
    return f"adjusted by {not_yet}, from {need.constant_dd:.1f} C degree-days, {need.words}"
