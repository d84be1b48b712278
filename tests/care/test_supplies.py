"""What to have ready, with its arithmetic."""

from __future__ import annotations

from datetime import timedelta

from rounds.care.supplies import supplies, tomorrow
from rounds.desk import Desk
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import Clock


def test_sprigs_solution_and_linings_are_added_up(desk: Desk, clock: Clock) -> None:
    tell(
        desk,
        clock,
        BEGIN
        + """
        L2 host in violet leaf dry 3 sprigs
        L2 drank
        L2 feeder changed sugar
        R4 changed lining=paper
        R4 host in violet leaf water
        R4 stocked 9 L5 QUE-26-02/A
        R7 host in sorrel potted
        R7 stocked 9 L4 QUE-26-02/A
        """,
    )
    found = {one.what: one for one in supplies(desk.bench, desk.moment(), clock.now + timedelta(hours=40))}

    assert (found["violet"].amount, found["violet"].arithmetic) == (5, "L2 3 + R4 2")
    assert "sorrel" not in found
    assert (found["sugar solution"].amount, found["sugar solution"].unit) == (2.5, "ml")
    assert found["sugar solution"].arithmetic == "1 drinks x 0.5 ml + 1 feeders x 2 ml"
    assert found["swabs"].amount == 2
    assert found["linings"].arithmetic == "R4"


def test_nothing_due_wants_nothing(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "L2 drank")

    assert supplies(desk.bench, desk.moment(), clock.now) == ()


def test_tomorrow_ends_after_two_more_rounds(desk: Desk, clock: Clock) -> None:
    assert tomorrow(desk.moment()) == clock.now.replace(hour=18, minute=0) + timedelta(hours=24)
