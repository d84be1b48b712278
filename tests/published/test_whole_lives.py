"""Stages as shares of a whole life, held against the collected lines of species that have both."""

from __future__ import annotations

from math import hypot, log
from statistics import mean, pstdev

import pytest

from rounds.bench.thermal_needs import STAGES_OFF_WHOLE, TOGETHER
from rounds.biology.thermal_constants import (
    Z90,
    Constants,
    combined,
    days_of,
    lines_of,
    near_error,
    share_of,
)

WHOLE = "egg to adult"
STAGES = TOGETHER[WHOLE]


def own(stage: str, without: str = "") -> dict[str, Constants]:
    return {name: combined(lines) for name, lines in lines_of(stage).items() if name != without}


def test_how_far_the_stages_together_are_off_the_whole() -> None:
    every = {stage: own(stage) for stage in (*STAGES, WHOLE)}
    both = [name for name in every[WHOLE] if all(name in every[stage] for stage in STAGES)]
    off = [
        log(
            days_of([every[stage][name] for stage in STAGES], 21)
            / days_of([every[WHOLE][name]], 21)
        )
        for name in both
    ]
    assert len(off) == 26
    assert abs(mean(off)) < 0.02
    assert pstdev(off) == pytest.approx(STAGES_OFF_WHOLE, abs=0.005)


@pytest.mark.parametrize("stage", STAGES)
def test_a_share_of_the_whole_life_by_another_study_holds_nine_in_ten(stage: str) -> None:
    """Each line of a stage foretold from other studies' whole lives of its species and from all other species' stages."""
    inside = []
    below, above = (hypot(near, STAGES_OFF_WHOLE) for near in near_error(stage))
    for name, lines in lines_of(stage).items():
        guesses = [combined(list(own(one, name).values())) for one in STAGES]
        for line in lines:
            wholes = [one for one in lines_of(WHOLE).get(name, ()) if one.study != line.study]
            if not wholes:
                continue
            told = share_of(combined(wholes), stage, [], guesses, guesses[STAGES.index(stage)])
            assert told is not None
            for at in (18, 22, 26):
                off = log(days_of([line], at) / days_of([told], at))
                inside.append(-Z90 * below <= off <= Z90 * above)
    assert len(inside) >= 99
    assert 0.85 <= mean(inside) <= 0.95
