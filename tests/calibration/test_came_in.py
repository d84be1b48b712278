"""Animals that came in with their stage begun: nine in ten inside and half at half, before any look and after one.

Each began its stage at any time of as long as it takes, and takes as long as its species and itself do; all numbers assumed.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from math import exp
from random import Random
from statistics import median

import pytest

from rounds.biology.forecast import HeatTrace, forecast
from rounds.forecasts.stage_ends import ComingChange, of_those_left

CAME, A_DAY = datetime(2027, 5, 1, tzinfo=UTC), timedelta(days=1)
TAKES, ANIMALS = 10.0, 0.08  # days; animals differ


def told_at(looked: float, off: float) -> ComingChange:
    """What is told after a look so many days after they came, where the constant may be off by so much."""
    trace = HeatTrace(times=(-30.0, 0.0), gathered=(0.0, 300.0), rate_ahead=10.0, gaps=())
    whole = forecast(
        trace,
        begun_from=-TAKES,
        begun_to=0.0,
        constant_dd=10 * TAKES,
        spread=ANIMALS,
        uncertainty=off,
    )
    low, half, high = (CAME + (day or 0.0) * A_DAY for day in (whole.low, whole.half, whole.high))
    change = ComingChange(
        where="E1",
        change="hatch",
        brood="A",
        number=1,
        instar=0,
        begun_from=CAME - TAKES * A_DAY,
        begun_to=CAME,
        half=half,
        low=low,
        high=high,
    )
    return of_those_left(change, CAME + looked * A_DAY, None, CAME)


@pytest.mark.parametrize("off", [0.1, 0.25, 0.4])
@pytest.mark.parametrize("looked", [0.0, 2.0, 5.0, 8.0])
def test_nine_in_ten_of_those_that_came_in_are_inside(off: float, looked: float) -> None:
    random, told, left = Random(7), told_at(looked, off), []
    for _ in range(6000):
        takes = TAKES * exp(random.gauss(0, off)) * (1 + random.gauss(0, ANIMALS))
        after = takes * random.random()  # of that, what lies after they came
        if after > looked:
            left.append(after)
    assert told.low is not None
    assert told.half is not None
    assert told.high is not None
    low, half, high = ((at - CAME) / A_DAY for at in (told.low, told.half, told.high))
    assert looked <= low
    assert 0.86 <= sum(low <= one <= high for one in left) / len(left) <= 0.96
    assert abs(median(left) - half) < 0.17 * TAKES
