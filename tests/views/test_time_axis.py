"""The drawing of what is coming: where each sign falls, and what the axis says."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rounds.checks.round_clock import Moment
from rounds.checks.timeline import Item
from rounds.views.time_axis import axis_of, day_row, drawn, rounds_row, tick_row

ZONE = ZoneInfo("Europe/Paris")
NOW = datetime(2027, 5, 27, 19, 4, tzinfo=ZONE)
WEEK = axis_of(NOW, ZONE, timedelta(days=7), 56)


def at(day: int, hour: int) -> datetime:
    """An hour of a day of that May."""
    return datetime(2027, 5, day, hour, tzinfo=ZONE)


def test_a_week_is_three_hours_a_letter_from_midnight() -> None:
    assert WEEK.step_words == "3 hours a cell"
    assert day_row(WEEK) == "Thu 27  Fri 28  Sat 29  Sun 30  Mon 31  1 Jun   Wed 2"
    assert tick_row(WEEK) == "+-----^-+-------+-------+-------+-------+-------+-------"


def test_ink_is_likelihood_few_many_half() -> None:
    item = Item("E4", "hatch", at(28, 15), 28, at(28, 0), at(29, 0), at(27, 21), at(29, 3))
    assert drawn(item, WEEK) == "       .oooooOooo."


def test_a_deadline_runs_from_now_to_its_day() -> None:
    assert drawn(Item("K3", "release by", at(30, 19)), WEEK) == "      ------------------------X"
    assert drawn(Item("K3", "release by", at(20, 19)), WEEK) == "since Thu 20 May"


def test_what_lies_beyond_is_told_by_its_day() -> None:
    far = NOW + timedelta(days=20)
    assert drawn(Item("K3", "release by", far), WEEK).endswith("---- Wed 16 Jun")
    spread = Item("E4", "hatch", far, 3, far, far, far, far)
    assert drawn(spread, WEEK).split() == ["Wed", "16", "Jun"]
    assert drawn(Item("E4", "hatch", None, 3), WEEK) == "no date"


def test_no_sign_of_a_state_is_used_for_time() -> None:
    item = Item("E4", "hatch", at(28, 15), 28, at(28, 0), at(29, 0), at(27, 21), at(29, 3))
    shown = (
        tick_row(WEEK)
        + day_row(WEEK)
        + drawn(item, WEEK)
        + drawn(Item("K3", "release by", at(30, 19)), WEEK)
    )
    assert not set(shown) & set("#=:~>")


def test_rounds_stand_at_their_hours() -> None:
    moment = Moment(NOW, ZONE, (("morning", time(7)), ("evening", time(20))))
    row = rounds_row(WEEK, moment)
    assert row.startswith(" " * 6 + "r   r")
    assert row.count("r") == 13


@pytest.mark.parametrize(
    ("days", "words"),
    [
        (1, "1 hour a cell"),
        (3, "2 hours a cell"),
        (14, "6 hours a cell"),
        (42, "1 day a cell"),
    ],
)
def test_every_span_fits_in_little_room(days: int, words: str) -> None:
    axis = axis_of(NOW, ZONE, timedelta(days=days), 55)
    assert axis.step_words == words
    assert axis.cells <= 55
    assert len(tick_row(axis)) == axis.cells
    assert tick_row(axis).count("^") == 1


def test_a_short_span_names_hours() -> None:
    assert "Fri 28" in day_row(axis_of(NOW, ZONE, timedelta(days=1), 55))
    assert "12:00" in day_row(axis_of(NOW, ZONE, timedelta(days=1), 55))


@given(
    st.lists(st.floats(-300, 900), min_size=5, max_size=5),
    st.integers(12, 120),
    st.sampled_from([1, 3, 7, 14, 42]),
)
def test_a_drawing_is_never_wider_than_its_room_and_never_empty(
    hours: list[float], room: int, days: int
) -> None:
    low, first, half, last, high = (NOW + timedelta(hours=hour) for hour in sorted(hours))
    axis = axis_of(NOW, ZONE, timedelta(days=days), room)
    told = drawn(Item("E3", "hatch", half, 9, first, last, low, high), axis)
    assert told.strip()
    assert len(told) <= max(axis.cells, len("over by Thu 27 May") + axis.place(NOW))
    assert drawn(Item("E3", "moat low", half), axis).strip()
