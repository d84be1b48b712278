"""A few simulated seasons: chances of hidden eggs come true as often as told, and what is discarded bears none.

The long form is ``python -m tests.calibration.hidden_eggs``: each fifth within 7 points (what it found: DEVELOPERS.md).
"""

from __future__ import annotations

import pytest

from tests.calibration.hidden_eggs import Result, result_of


@pytest.fixture(scope="module")
def looked() -> Result:
    """With a look for frass a day."""
    return result_of(7, 24)


@pytest.fixture(scope="module")
def not_looked() -> Result:
    """Nobody looks for frass."""
    return result_of(8, 12, looks=False)


def test_chances_come_true_as_often_as_told(looked: Result, not_looked: Result) -> None:
    both = Result([*looked.told, *not_looked.told])
    fifths = list(both.fifths())

    assert len(fifths) == 5
    for number, said, so in fifths:
        assert number >= 60
        assert so == pytest.approx(said, abs=0.13), (
            both
        )  # so few seasons scatter by twice what the long form tells


def test_stems_that_may_go_bear_no_viable_eggs(looked: Result) -> None:
    assert looked.discarded > 100
    assert looked.lost <= 0.01 * looked.lots


def test_where_nobody_looks_hardly_any_may_go_and_none_that_bears_eggs(not_looked: Result) -> None:
    assert not_looked.discarded < 0.2 * not_looked.lots
    assert not_looked.lost <= 0.01 * not_looked.lots
