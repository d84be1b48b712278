"""The chance of hidden eggs, reckoned together for many times, is what it is by itself, step by step."""

from __future__ import annotations

import math
from bisect import bisect_left

from hypothesis import given
from hypothesis import strategies as st

from rounds.biology.hidden_eggs import (
    MOST_LOOKS,
    Case,
    Hatching,
    Laying,
    Stem,
    hidden_viable,
    looks_until_under,
)

shares = st.floats(0, 1)
layings = st.builds(
    Laying, st.sampled_from([0.0, 0.1, 2.0, 30.0]), st.sampled_from([0.5, 4.0, math.inf]), shares
)
cases = st.lists(st.builds(Case, st.floats(1e-6, 1), shares, layings), min_size=1, max_size=6).map(
    tuple
)
heat = st.floats(0, 200)
hatchings = st.builds(
    Hatching,
    degree_days=heat,
    spread=st.floats(0.05, 0.3),
    shorter=st.sampled_from([0.0, 0.2]),
    longer=st.sampled_from([0.0, 0.3]),
    looks=st.integers(0, 30),
    laid_over=st.sampled_from([0.0, 40.0]),
    larvae=st.sampled_from([0.0, 0.0, 0.5, 6.0]),
    larvae_from=st.floats(0, 80),
    larvae_at=st.floats(80, 200),
)


def step_by_step(
    of: tuple[Case, ...], days: float, found: int, viable: float, at: Hatching
) -> tuple[float, float]:
    """The chance and the share missed, each case at each error of the time to hatching by itself."""

    def none(case: Case, exposure: float) -> float:
        if case.laying.counted == math.inf:
            return case.laying.rate * exposure
        return (case.laying.counted + counted) * math.log1p(
            exposure * case.laying.rate / case.laying.counted
        )

    counted = found + at.larvae
    told: list[tuple[float, float, float, float]] = []  # ln of weight, left, missed, eggs a day
    for case in of:
        shape, rate = case.laying.counted, case.laying.rate
        there, searched = days * case.missed * viable, days * (1 - case.missed)
        log = (
            math.log(case.weight * case.laying.willing)
            if case.weight * case.laying.willing
            else -math.inf
        )
        if counted:
            expected = rate if shape == math.inf else rate / shape
            log += counted * math.log(expected) if expected else -math.inf
            log += 0.0 if shape == math.inf else math.lgamma(shape + counted) - math.lgamma(shape)
        if at.larvae:
            log += at.larvae * math.log(case.missed) if case.missed else -math.inf
        if found and any(days * (1 - one.missed) > 0 for one in of):
            log += found * math.log(searched) if searched > 0 else -math.inf
        for (share, weight), of_larvae in zip(at.shares(), at.logs_of_larvae(), strict=True):
            shown = share * at.would_show
            seen = searched + there * shown
            left = -math.expm1(none(case, seen) - none(case, searched + there))
            by_then = (
                rate if shape == math.inf or not rate else (shape + counted) / (shape / rate + seen)
            )
            told.append(
                (math.log(weight) + log + of_larvae - none(case, seen), left, case.missed, by_then)
            )
    idle = 0.0 if counted else sum(case.weight * (1 - case.laying.willing) for case in of)
    top = max(*(log for log, *_ in told), math.log(idle) if idle else -math.inf)
    weights = [math.exp(log - top) if top > -math.inf else 0.0 for log, *_ in told]
    whole = sum(weights) + (math.exp(math.log(idle) - top) if idle else 0.0)
    chance = (
        sum(w * left for w, (_, left, *_) in zip(weights, told, strict=True)) / whole
        if whole
        else 0.0
    )
    if at.larvae:
        alone = Hatching(
            at.degree_days,
            at.hatch_dd,
            at.spread,
            at.shorter,
            at.longer,
            at.looks,
            laid_over=at.laid_over,
        )
        chance = max(chance, step_by_step(of, days, found, viable, alone)[0])
    eggs = [w * a_day for w, (*_, a_day) in zip(weights, told, strict=True)]
    missed = sum(number * one for number, (_, _, one, _) in zip(eggs, told, strict=True))
    return min(1.0, chance), missed / sum(eggs) if sum(eggs) else of[0].missed


@given(
    cases,
    st.sampled_from([0.0, 0.5, 6.0, 40.0]),
    st.sampled_from([0, 0, 3, 40]),
    shares,
    st.lists(hatchings, min_size=1, max_size=3),
)
def test_a_stem_tells_at_each_time_what_each_case_tells_by_itself(
    of: tuple[Case, ...], days: float, found: int, viable: float, times: list[Hatching]
) -> None:
    stem = Stem(of, days, found, viable)
    for at in times:
        chance, missed = step_by_step(of, days, found, viable, at)
        assert math.isclose(stem.chance(at), chance, rel_tol=1e-9, abs_tol=1e-12)
        told = hidden_viable(
            laying=of, female_days=days, found=found, viable_share=viable, hatching=at
        )
        assert told.chance == stem.chance(at)
        assert math.isclose(told.missed, missed, rel_tol=1e-9, abs_tol=1e-12)


@given(
    st.floats(0.001, 1),
    st.floats(0, 3),
    st.floats(0, 1),
    st.one_of(st.none(), st.floats(-20, 400)),
    st.sampled_from([0, 5, 40, 400]),
    st.sampled_from([0.01, 0.2]),
)
def test_looks_are_as_many_as_if_each_number_were_tried(
    begins: float, by_heat: float, by_look: float, hatch_in: float | None, unseen: int, aim: float
) -> None:
    def chance(heat: float, looks: int) -> float:
        return 1.0 if heat < unseen else begins * math.exp(-by_heat * heat - by_look * looks)

    def under(looks: int) -> bool:
        more = 0 if hatch_in is None else max(0, looks + 1 - max(0, math.ceil(hatch_in)))
        return chance(float(looks), more) < aim

    fewest = bisect_left(range(MOST_LOOKS), True, key=under)
    assert looks_until_under(chance, heat_at=float, hatch_in=hatch_in, aim=aim) == (
        fewest if fewest < MOST_LOOKS else None
    )
