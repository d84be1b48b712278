"""Five hundred steps of the ten thousand that `python -m tests.durability.machine` makes."""

from __future__ import annotations

from tests.durability.machine import run


def test_any_season_gives_the_bench_and_checks_of_a_plain_reading() -> None:
    run(steps=500, each=25, always_the_same=True)
