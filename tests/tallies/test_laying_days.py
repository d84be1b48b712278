"""Laying day by day: hours fall to their local days, and only real changes are told."""

from __future__ import annotations

from datetime import date

import pytest

from rounds.app.desk import Desk
from rounds.views.laying_page import day_lines
from tests.added_up import tallies_of
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import PARIS, Clock

DIA = "Boloria dia"


def test_hours_fall_to_their_days_and_add_up_to_the_same_sum(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet leaf")
    clock.on(days=2)
    tell(desk, clock, "L2 searched 4")
    entries = desk.entries(whole=True)
    days = tallies_of(entries, PARIS).days(entries[-1].at)[DIA]  # effort ends at the search

    assert [day.day for day in days] == [date(2026, 5, 20), date(2026, 5, 21), date(2026, 5, 22)]
    assert days[1].female_days == pytest.approx(1.0)
    assert sum(day.female_days for day in days) == pytest.approx(
        tallies_of(entries).on_hosts(clock.now)[0].female_days
    )
    assert (days[2].eggs, days[2].searches) == (4, 1)


def test_fresh_sprigs_are_no_change_and_another_plant_is(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet leaf")
    clock.on(days=1)
    tell(desk, clock, "L2 host out violet held in E3\nL2 host in violet leaf")
    clock.on(days=1)
    tell(desk, clock, "L2 host out violet held in E3\nL2 host in sorrel leaf\nL2 light sun")
    days = tallies_of(desk.entries(whole=True), PARIS).days(clock.now)[DIA]

    assert [day.changes for day in days] == [
        ["QUE-26-02 in L2", "L2 violet in"],
        [],
        ["L2 sun", "L2 violet out, sorrel in"],
    ]


def test_a_clock_change_makes_a_day_of_twenty_three_hours(desk: Desk, clock: Clock) -> None:
    clock.now = clock.now.replace(month=3, day=28, hour=0, minute=0)
    tell(desk, clock, BEGIN + "L2 host in violet leaf")
    clock.on(days=3)
    days = {
        day.day: day.female_days
        for day in tallies_of(desk.entries(whole=True), PARIS).days(clock.now)[DIA]
    }

    assert days[date(2026, 3, 29)] == pytest.approx(23 / 24)


def test_the_drawing_is_as_long_as_the_rate_and_says_none_and_no_search(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet leaf")
    clock.on(days=1)
    tell(desk, clock, "L2 searched 6")
    clock.on(days=1)
    tell(desk, clock, "L2 searched 0")
    clock.on(days=1)
    lines = [
        line.text
        for line in day_lines(tallies_of(desk.entries(whole=True), PARIS).days(clock.now), 74)
    ]

    assert max(map(len, lines)) <= 74
    assert any(" 6  **********" in text for text in lines)
    assert any(text.rstrip().endswith("none") for text in lines)
    assert any("no search" in text for text in lines)


def test_the_last_days_alone_are_as_among_all(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet leaf")
    for number in range(6):
        clock.on(days=1)
        tell(
            desk,
            clock,
            f"L2 searched {number} on violet\nL2 host out violet held in E3\nL2 host in violet leaf",
        )
        if number % 2:
            tell(desk, clock, "L2 host in sorrel leaf\nL2 light sun")
    clock.on(days=2)
    tallies = tallies_of(desk.entries(whole=True), PARIS)
    whole = tallies.days(clock.now)

    assert len(whole[DIA]) > 8
    for most in range(1, len(whole[DIA]) + 2):
        assert tallies.days(clock.now, most) == {name: days[-most:] for name, days in whole.items()}
