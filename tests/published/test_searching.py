"""Searches that find nothing. The source of each row stands beside it in values/negative_search.json."""

from __future__ import annotations

import pytest

from rounds.biology.hidden_eggs import chance_after_searches, searches_needed
from tests.published.rows import Row, row, rows


@pytest.mark.parametrize("check", rows("negative_search", "n_"))
def test_searches_until_absence_is_that_certain(check: Row) -> None:
    for name, certainty in (("n_alpha_0_10", 0.9), ("n_alpha_0_05", 0.95), ("n_alpha_0_01", 0.99)):
        assert (
            searches_needed(detection=check["inputs"]["p"], certainty=certainty)
            == check["expected"][name]
        )


def test_visits_for_two_snakes() -> None:
    check = row("negative_search", "kery")

    assert [searches_needed(detection=p) for p in check["inputs"]["p"]] == check["expected"]["n"]


@pytest.mark.parametrize("check", rows("negative_search", "post_"))
def test_bayes(check: Row) -> None:
    given = check["inputs"]

    found = chance_after_searches(prior=given["prior"], detections=[given["p"]] * given["n"])

    assert found == pytest.approx(check["expected"]["posterior"], abs=1e-12)


@pytest.mark.parametrize("check", rows("negative_search", "npost_"))
def test_searches_until_the_chance_is_that_small(check: Row) -> None:
    given = check["inputs"]

    number = check["expected"]["n"]
    after, before = (
        chance_after_searches(prior=given["prior"], detections=[given["p"]] * searches)
        for searches in (number, number - 1)
    )
    assert after <= given["target_posterior"] < before
