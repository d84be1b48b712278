"""The rule of states: word, sign, tone, the time left until harm, its bar and the edge of a cup."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from rounds.checks.due_state import Due
from rounds.checks.round_clock import Moment
from rounds.views.states import (
    DAY,
    SIGNS,
    STATES,
    bar,
    edge,
    filled,
    harm_words,
    left_words,
    state_of,
    when_words,
)

ZONE = ZoneInfo("Europe/Vienna")
NOW = datetime(2027, 5, 27, 19, 4, tzinfo=ZONE)


def moment() -> Moment:
    return Moment(NOW, ZONE, (("morning", time(7)), ("evening", time(19))))


def drink(hours: float) -> Due:
    """Drank so many hours ago, by hours of a plan: due 12, late 14, urgent 24, in danger 31."""
    fed = NOW - timedelta(hours=hours)
    at = {
        name: fed + timedelta(hours=after)
        for name, after in (("due", 12), ("late", 14), ("urgent", 24), ("danger", 31))
    }
    return Due("K3", "container", "drink", since=fed, **at)


@pytest.mark.parametrize(
    ("hours", "state", "words", "harm"),
    [
        (1, "in order", "Fri 06:04", ""),
        (12, "due", "now", "19 h 00 left"),
        (15, "late", "late", "16 h 00 left"),
        (29.5, "urgent", "urgent", "1 h 30 left"),
        (30.5, "urgent", "urgent", "30 min left"),
        (33, "in danger", "in danger", "since 17:04"),
    ],
)
def test_a_check_goes_through_the_states_one_after_another(
    hours: float, state: str, words: str, harm: str
) -> None:
    due = drink(hours)

    assert state_of(due, NOW) == state
    assert when_words(due, moment()) == words
    assert harm_words(due, moment()) == harm


def test_do_not_disturb_is_said_where_nothing_is_late() -> None:
    assert state_of(None, NOW, undisturbed=True) == "do not disturb"
    assert state_of(drink(12), NOW, undisturbed=True) == "do not disturb"
    assert state_of(drink(15), NOW, undisturbed=True) == "late"


@pytest.mark.parametrize("cells", [6, 7, 10, 20])
def test_a_bar_is_full_only_when_no_time_is_left(cells: int) -> None:
    for minutes in range(-90, 26 * 60):
        left = timedelta(minutes=minutes)
        full = filled(left, cells)
        if left <= timedelta(0):
            assert full == cells
        elif left < DAY:
            assert 1 <= full < cells
            assert full in (1, int((24 - minutes / 60) / (24 / cells) + 1e-9))
        else:
            assert full == 0
    assert filled(None, cells) == 0


def test_the_bars_of_the_list_and_of_the_map() -> None:
    assert bar("urgent", timedelta(hours=6)) == "===="
    assert bar("urgent", timedelta(hours=1, minutes=26)) == "====="
    assert bar("late", timedelta(hours=23, minutes=59)) == ":"
    assert bar("due", timedelta(hours=1)) == "....."
    assert bar("in danger", timedelta(hours=-2)) == "######"
    assert bar("urgent", timedelta(hours=24)) == bar("urgent", None) == ""
    assert edge("urgent", timedelta(hours=6), 10) == "======="
    assert edge("in danger", timedelta(0), 10) == "##########"
    assert edge("late", None, 10) == ":"
    assert edge("due", timedelta(hours=15), 10) == "..."
    assert edge("do not disturb", None, 10) == "~~~~~~~~~~"
    assert edge("in order", timedelta(hours=1), 10) == ""


def test_a_bar_is_drawn_in_the_sign_of_its_state() -> None:
    for state in STATES:
        drawn = bar(state, timedelta(hours=1))
        assert set(drawn) <= {SIGNS[state]}


def test_the_time_left_in_a_list_is_short() -> None:
    assert [left_words(timedelta(minutes=one)) for one in (-5, 40, 86, 360, 1440)] == [
        "none",
        "40 min",
        "1 h",
        "6 h",
        "",
    ]
    assert left_words(None) == ""
