"""What is said of forecasts."""

from __future__ import annotations

from datetime import UTC, datetime

from rounds.checks.timeline import Item
from rounds.forecasts.outcomes import Score
from rounds.views.ahead_page import MAX_THING, score_words, thing_words


def test_what_is_left_undisturbed_is_named_where_room_is_least() -> None:
    item = Item("R123", "do not disturb ends", datetime(2027, 6, 3, tzinfo=UTC))

    assert thing_words(item) == "R123 undisturbed"
    assert len(thing_words(item)) <= MAX_THING


def test_the_score_is_told_with_its_share_and_its_mean_error() -> None:
    assert score_words(None) == "No forecast has come due yet on this bench."
    assert score_words(Score(20, 18, -0.5)) == (
        "forecasts so far: 18 of 20 inside the window (90 %), animals 0.5 d early on average"
    )
