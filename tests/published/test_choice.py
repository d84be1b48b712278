"""Choice trials and exact tests. The source of each row stands beside it in values/choice.json."""

from __future__ import annotations

import pytest

from rounds.biology.choice import preferences
from rounds.biology.proportions import binomial_test, fisher_test
from tests.published.rows import Row, rows


@pytest.mark.parametrize("check", rows("choice", "choice"))
def test_indices(check: Row) -> None:
    expected = check["expected"]
    found = preferences(check["inputs"]["used"], check["inputs"]["available"])

    assert [one.electivity for one in found] == pytest.approx(expected["E"], abs=1e-9)
    assert [one.alpha for one in found] == pytest.approx(expected["alpha_nodepletion"], abs=1e-9)
    assert [one.epsilon for one in found] == pytest.approx(expected["epsilon"], abs=1e-9)
    assert [one.jacobs for one in found] == pytest.approx(expected["jacobs_D"], abs=1e-9)
    assert [one.relativised for one in found] == pytest.approx(expected["E_star"], abs=1e-9)
    if expected["alpha_depletion"] == "undefined":
        assert [one.alpha_depleted for one in found] == [None] * len(found)
    else:
        assert [one.alpha_depleted for one in found] == pytest.approx(expected["alpha_depletion"], abs=1e-9)


@pytest.mark.parametrize("check", [*rows("choice", "tea"), *rows("choice", "twins")])
def test_fisher(check: Row) -> None:
    (a, b), (c, d) = check["inputs"]["table"]
    found = fisher_test(((a, b), (c, d)))

    assert found.two_sided == pytest.approx(check["expected"]["p_two_sided"], rel=1e-9)
    if "p_greater" in check["expected"]:
        assert found.greater == pytest.approx(check["expected"]["p_greater"], rel=1e-9)
    if "p_less" in check["expected"]:
        assert found.less == pytest.approx(check["expected"]["p_less"], rel=1e-9)


@pytest.mark.parametrize("check", rows("choice", "bt_"))
def test_binomial(check: Row) -> None:
    given, expected = check["inputs"], check["expected"]
    found = binomial_test(given["k"], given["n"], expected=given["p0"])

    assert found.two_sided == pytest.approx(expected["p_two_sided"], abs=1e-9)
    assert found.less == pytest.approx(expected["p_less"], abs=1e-10)
    assert found.greater == pytest.approx(expected["p_greater"], abs=1e-10)
