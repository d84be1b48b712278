"""A week of the season that `python -m tests.durability.soak` goes through."""

from __future__ import annotations

from tests.durability.soak import run


def test_a_week_of_two_keepers() -> None:
    assert "every due check as a plain reading has it" in run(days=8, number_of_cups=10)
