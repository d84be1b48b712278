"""Where females differ and the plants do not, a difference is rarely said of the plants."""

from __future__ import annotations

import numpy as np

from rounds.biology.laying import FEMALES_VARY, hosts_compared

TRIALS, DAYS, RATE = 600, 5.0, 6.0


def said(females: int, times: float) -> tuple[float, float]:
    """How often the plain test settles, and how often it is said of the plants: simulated, each
    female's rate gamma distributed about that of the plant."""
    rng = np.random.default_rng(7)
    settled = of_plants = 0
    for _ in range(TRIALS):
        eggs = [
            int(rng.poisson(DAYS * rng.gamma(FEMALES_VARY, rate / FEMALES_VARY, females)).sum())
            for rate in (RATE * times, RATE)
        ]
        found = hosts_compared(
            eggs_first=eggs[0],
            female_days_first=DAYS * females,
            eggs_second=eggs[1],
            female_days_second=DAYS * females,
            females_first=females,
            females_second=females,
        )
        settled += found.settled
        of_plants += found.is_of_plants
    return settled / TRIALS, of_plants / TRIALS


def test_like_plants_are_rarely_told_apart() -> None:
    for females in (3, 5, 8):
        settled, of_plants = said(females, 1.0)
        assert settled > 0.3, "eggs taken as independent settle far too often"
        assert of_plants <= 0.08


def test_plants_that_differ_much_are_told_apart() -> None:
    assert said(8, 5.0)[1] > 0.8


def test_of_one_female_a_plant_nothing_is_said_of_the_plants() -> None:
    assert said(1, 10.0)[1] == 0
