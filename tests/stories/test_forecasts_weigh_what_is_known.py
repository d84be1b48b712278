"""What was published, what own broods took, and who is not there yet weigh in a forecast as much as each can tell."""

from __future__ import annotations

import json
import re
from datetime import UTC, datetime, timedelta
from math import exp, log
from typing import Any

import pytest

from rounds.biology.thermal_constants import Z90
from rounds.forecasts.stage_ends import ComingChange
from tests.stories.telling import Story, coming

STEMS_KEPT = """
20 Apr 19:00 S2 set up eggs
20 Apr 20:00 K2 1 female Orthosia hibisci on willow
26 Apr 20:00 K2 searched 40
26 Apr 20:01 K2 moved 40 eggs to new E4
26 Apr 20:02 K2 host out willow kept in S2
"""
LARVAE_OF_WHICH_NO_MOULT_IS_LOGGED = """
26 Mar 08:00 E2 20 eggs Pieris napi
1 Apr 07:00 E2 no change
1 Apr 08:00 E2 hatched 20
1 Apr 08:10 E2 moved 20 larvae to new R2
"""


def tell(story: Story, lines: str, room: str, since: datetime, until: datetime) -> None:
    """The lines, and a room read each morning from a day to a day, at that day."""
    story.at(f"{until:%Y-%m-%d} 12:00")
    days = (since + timedelta(days=day) for day in range((until - since).days + 1))
    story.type(*(f"{day.day} {day:%b} 07:00 {room}" for day in days))
    story.type(*lines.strip().splitlines())


def keep_until(story: Story, where: str) -> datetime:
    container = story.desk.bench.containers[where]
    chance = story.desk.foresight.chance(container, container.held[0], story.clock.now)
    assert chance.keep_until is not None
    return chance.keep_until


def test_a_look_that_tells_nothing_leaves_the_window_as_it_was(story: Story) -> None:
    tell(story, STEMS_KEPT, "room 16/24", datetime(2027, 4, 20), datetime(2027, 5, 2))
    before, kept = coming(story, "E4", "hatch"), keep_until(story, "S2")
    story.type("28 Apr 08:00 E4 no change")  # after less warmth than any may need
    assert "0 %" not in _as_before(story, before, kept, raised=0.015)
    story.type("30 Apr 08:00 E4 no change")  # after half of the warmth that they need
    assert "own animals that have not hatched" in _as_before(story, before, kept, raised=0.065)


def _as_before(story: Story, before: ComingChange, kept: datetime, raised: float) -> str:
    """Nothing but the lower limit has moved, by so much at most; the words of the forecast."""
    after = coming(story, "E4", "hatch")
    assert before.need is not None
    assert after.need is not None
    assert after.need.constant_dd == pytest.approx(before.need.constant_dd, rel=0.02)
    lowest, was = (exp(-Z90 * one.need.uncertainty) for one in (after, before) if one.need)
    assert was <= lowest <= was + raised
    assert after.need.above == pytest.approx(before.need.above, rel=0.02)
    assert abs(keep_until(story, "S2") - kept) <= timedelta(days=1)
    return after.need.words


def calculated(story: Story, *words: str) -> dict[str, dict[str, Any]]:
    ran = story.shell("calc", "forecast", *words, "--json")
    assert ran.status == 0, ran.err
    return {one["label"]: one for one in json.loads(ran.out)["figures"]}


def drawn(story: Story, own: str) -> float:
    """How far own broods draw a given constant of 100 towards the mean of their logarithms."""
    given = ("--lower", "10", "--constant", "100", "--temperature", "20", "--own", own)
    used = calculated(story, *given)["thermal constant used"]["value"]
    each = [log(float(one) / 100) for one in own.split(",")]
    return log(used / 100) / (sum(each) / len(each))


def test_own_broods_that_agree_are_believed(story: Story) -> None:
    assert drawn(story, "159,160,161") > 0.8
    assert drawn(story, "159,160,161") > drawn(story, "120,160,220") + 0.02
    assert drawn(story, "130") < 0.6  # one moves it a little or moderately
    shares = [drawn(story, ",".join(["125"] * number)) for number in (1, 2, 3, 5, 10)]
    assert shares == sorted(shares)
    assert shares[2] > 0.6
    assert shares[4] > 0.9


def test_the_further_off_a_brood_the_further_it_draws(story: Story) -> None:
    given = ("--lower", "10", "--constant", "100", "--temperature", "20", "--own")
    halves = [
        calculated(story, *given, own)["half"]["value"]
        for own in ("60", "80", "100", "110", "130", "160", "200", "300")
    ]
    assert halves == sorted(halves)
    assert halves[2] == pytest.approx(10.0, rel=0.01)


def test_pupation_does_not_run_away_where_nobody_logs_a_moult(story: Story) -> None:
    begun = datetime(2027, 3, 25)
    tell(story, LARVAE_OF_WHICH_NO_MOULT_IS_LOGGED, "room 17/25", begun, datetime(2027, 4, 2))
    told = coming(story, "R2", "pupation")
    for day in range(3, 31):
        story.at(f"2027-04-{day:02} 12:00").type("room 17/25")
    later = coming(story, "R2", "pupation")
    assert told.half is not None
    assert later.half is not None
    assert abs(later.half - told.half) < timedelta(days=1.5)
    assert later.half < datetime(2027, 4, 30, tzinfo=UTC)  # overdue by now


@pytest.mark.parametrize("number", ["1", "12"])
def test_first_and_last_have_limits(story: Story, number: str) -> None:
    given = ("--lower", "10", "--constant", "100", "--temperature", "20", "--number", number)
    told = calculated(story, *given)
    first, half, last = told["first"], told["half"], told["last"]
    assert first["low"] < first["value"] < first["high"]
    assert last["low"] < last["value"] < last["high"]
    assert first["low"] <= half["low"]
    assert last["high"] >= half["high"]
    if number == "1":
        assert (first["low"], first["high"]) == pytest.approx((half["low"], half["high"]))
        assert (last["low"], last["high"]) == pytest.approx((half["low"], half["high"]))


@pytest.mark.parametrize("line", ["R2 cleaned", "R2 no change"])
def test_nor_where_they_are_looked_at_each_day_and_no_moult_is_logged(
    story: Story, line: str
) -> None:
    begun = datetime(2027, 3, 25)
    tell(story, LARVAE_OF_WHICH_NO_MOULT_IS_LOGGED, "room 17/25", begun, datetime(2027, 4, 2))
    told = coming(story, "R2", "pupation")
    halves = []
    for day in range(3, 38):
        story.at(f"{datetime(2027, 4, 1) + timedelta(days=day - 1):%Y-%m-%d} 12:00")
        story.type("room 17/25", line)
        halves.append(coming(story, "R2", "pupation").half)
    assert told.half is not None
    # as late as larvae that are not there yet may take, a late first moult not once more; then overdue
    latest = max(half for half in halves if half)
    assert latest - told.half < timedelta(days=16), latest - told.half
    assert halves[-1] is not None
    assert halves[-1] < story.clock.now


def test_how_far_broods_differ_and_what_a_brood_needs_are_one_number(story: Story) -> None:
    """Ten own broods that are nearly alike: nine in ten of the next lie 1.645 times as far off as broods are said to differ."""
    own = ",".join(["99", "100", "101", "98", "102"] * 2)
    given = ("--lower", "10", "--constant", "100", "--temperature", "20", "--own", own)
    told = story.shell("calc", "forecast", *given).out
    differ = re.search(r"broods differ by (\d+) %, taken as \d+ % to weigh them", told)
    needs = re.search(r"a brood needs from ([\d.]+) to ([\d.]+) of it", told)
    assert differ, told
    assert needs, told
    assert 1 + 1.645 * int(differ[1]) / 100 == pytest.approx(float(needs[2]), abs=0.015)
