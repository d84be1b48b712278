"""A few simulated broods of each basis: nine in ten inside. The long form is ``python -m tests.calibration.broods``."""

from __future__ import annotations

import pytest

from tests.calibration.broods import CHANGES, Basis, bases, score


@pytest.mark.parametrize("basis", bases(), ids=lambda one: one.name)
@pytest.mark.parametrize("change", ["hatch", "emergence"])
def test_nine_in_ten_come_inside_the_window(basis: Basis, change: str) -> None:
    found = score(basis, CHANGES[change], seed=7, broods=100)

    # so few broods scatter by two hundredths about what the long form tells
    assert 0.85 <= found.inside <= 0.98
    assert abs(found.bias) < 0.1
    assert found.not_before >= 0.95  # 'the first may come' is a bound of 95 in 100
