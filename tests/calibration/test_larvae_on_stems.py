"""Eggs drawn one by one, hatched one by one: how often more are to come after so many larvae were seen, and none before."""

from __future__ import annotations

from collections import Counter
from math import exp
from random import Random

import pytest

from rounds.biology.hidden_eggs import Hatching, Laying, hidden_viable

FROM, AT, HALF, SPREAD, OFF = 72.0, 84.0, 80.0, 0.1, 0.15
DAYS, RATE, COUNTED = 2.0, 1.5, 2.0


@pytest.fixture(scope="module")
def drawn() -> dict[int, tuple[int, int]]:
    """By the number of larvae seen at the first look that saw any: how many stems, on how many more hatched later."""
    random, stems, more = Random(5), Counter[int](), Counter[int]()
    for _ in range(120_000):
        rate = random.gammavariate(COUNTED, RATE / COUNTED)
        half, laid = HALF * exp(random.gauss(0, OFF)), -random.expovariate(1) / rate
        hatches: list[float] = []
        while (laid := laid + random.expovariate(1) / rate) < DAYS:
            if laid >= 0:
                hatches.append(half * exp(random.gauss(0, SPREAD)))
        if any(one <= FROM for one in hatches):
            continue
        larvae = sum(one <= AT for one in hatches)
        stems[larvae] += 1
        more[larvae] += len(hatches) > larvae
    return {larvae: (stems[larvae], more[larvae]) for larvae in range(5)}


@pytest.mark.parametrize("larvae", [1, 2, 3, 4])
def test_more_come_as_often_as_told(drawn: dict[int, tuple[int, int]], larvae: int) -> None:
    stems, more = drawn[larvae]
    told = hidden_viable(
        laying=Laying(RATE, COUNTED),
        female_days=DAYS,
        hatching=Hatching(
            degree_days=AT, hatch_dd=HALF, spread=SPREAD, shorter=OFF, longer=OFF,
            seen_by_a_look=1.0, larvae=larvae, larvae_from=FROM, larvae_at=AT,
        ),
    )  # fmt: skip
    assert stems > 800
    assert told.chance == pytest.approx(more / stems, abs=0.04)


def test_larvae_raise_it(drawn: dict[int, tuple[int, int]]) -> None:
    shares = [more / stems for stems, more in drawn.values()]
    assert shares == sorted(shares)
