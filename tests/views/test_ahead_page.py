"""The drawing of what is coming: where each sign falls."""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from rounds.checks.timeline import Item
from rounds.forecasts.outcomes import Score
from rounds.views.ahead_page import axis_words, drawn, score_words

ZONE = ZoneInfo("Europe/Paris")
NOW = datetime(2026, 5, 20, 7, 0, tzinfo=ZONE)


def at(hours: float) -> datetime:
    """So many hours from now."""
    return NOW + timedelta(hours=hours)


def test_a_spread_is_drawn_from_first_to_last_with_half_in_it() -> None:
    item = Item("E3", "hatch", at(12), 9, at(6), at(18), at(3), at(21))
    assert drawn(item, NOW, timedelta(hours=24), 24) == "   ...[=====O=====]...  "


def test_a_deadline_is_one_stroke_and_what_lies_outside_is_an_arrow() -> None:
    for hours, told in ((5, "     |  "), (-1, "<       "), (9, "       >")):
        assert drawn(Item("B", "moat low", at(hours)), NOW, timedelta(hours=8), 8) == told


def test_a_spread_that_is_over_or_far_ahead_is_an_arrow_too() -> None:
    span = timedelta(hours=8)
    assert drawn(Item("E3", "hatch", at(-5), 9, at(-6), at(-4), at(-7), at(-3)), NOW, span, 8) == "<       "
    assert drawn(Item("E3", "hatch", at(25), 9, at(24), at(26), at(23), at(27)), NOW, span, 8) == "       >"


def test_no_date_is_no_drawing() -> None:
    assert drawn(Item("E3", "hatch", None, 9), NOW, timedelta(hours=8), 8) == ""


@given(st.lists(st.floats(-300, 300), min_size=5, max_size=5), st.integers(20, 120))
def test_a_drawing_is_as_wide_as_its_room_and_never_empty(hours: list[float], room: int) -> None:
    low, first, half, last, high = sorted(hours)
    told = drawn(Item("E3", "hatch", at(half), 9, at(first), at(last), at(low), at(high)), NOW, timedelta(days=7), room)
    assert len(told) == room
    assert told.strip()


def test_the_axis_names_days_at_their_midnights_and_hours_where_a_day_is_shown() -> None:
    week = axis_words(NOW, ZONE, timedelta(days=7), 70)
    assert week.startswith("now")
    assert week.index("Thu 21") == int(17 / 168 * 70)
    assert "12h" in axis_words(NOW, ZONE, timedelta(days=1), 60)


def test_the_score_is_told_with_its_share_and_its_mean_error() -> None:
    assert score_words(None) == "No forecast has come due yet on this bench."
    assert score_words(Score(2, 20, 18, -0.5)) == ("forecasts so far: 18 of 20 inside the window (90 %), 0.5 d early on average")
