"""Choice trials and the exact test. The source of each row stands beside it in values/choice.json."""

from __future__ import annotations

import pytest

from rounds.biology.choice import preferences
from rounds.biology.proportions import binomial_test
from tests.published.rows import Row, rows


@pytest.mark.parametrize("check", rows("choice", "choice"))
def test_indices(check: Row) -> None:
    expected = check["expected"]
    found = preferences(check["inputs"]["used"], check["inputs"]["available"])

    assert [one.alpha for one in found] == pytest.approx(expected["alpha_nodepletion"], abs=1e-9)
    assert [one.epsilon for one in found] == pytest.approx(expected["epsilon"], abs=1e-9)


@pytest.mark.parametrize("check", rows("choice", "bt_"))
def test_binomial(check: Row) -> None:
    given, expected = check["inputs"], check["expected"]
    found = binomial_test(given["k"], given["n"], expected=given["p0"])

    assert found == pytest.approx(expected["p_two_sided"], abs=1e-9)
