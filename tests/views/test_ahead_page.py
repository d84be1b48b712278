"""What is said of forecasts."""

from __future__ import annotations

from rounds.forecasts.outcomes import Score
from rounds.views.ahead_page import score_words


def test_the_score_is_told_with_its_share_and_its_mean_error() -> None:
    assert score_words(None) == "No forecast has come due yet on this bench."
    assert score_words(Score(20, 18, -0.5)) == (
        "forecasts so far: 18 of 20 inside the window (90 %), animals 0.5 d early on average"
    )
