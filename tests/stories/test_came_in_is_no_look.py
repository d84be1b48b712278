"""That animals came in with their stage begun is no look that saw them not there yet: what is told of them counts it once."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.stories.telling import Story, coming

A_DAY = timedelta(days=1)


@pytest.mark.parametrize(
    ("line", "where", "change"),
    [
        ("E4 40 eggs Pieris ficta", "E4", "hatch"),
        ("P1 5 pupae Pieris ficta", "P1", "emergence"),
        ("R1 6 L3 Pieris ficta", "R1", "moult"),
    ],
)
def test_half_lies_as_far_ahead_as_half_of_the_stage(
    story: Story, line: str, where: str, change: str
) -> None:
    story.at("2027-05-01 08:00").type("room 20", line)
    told = coming(story, where, change)
    assert told.half is not None
    assert told.low is not None
    assert told.first is not None
    assert told.need is not None
    takes = told.need.constant_dd / (20 - told.need.lower_c)
    assert (told.half - story.clock.now) / A_DAY == pytest.approx(takes / 2, rel=0.02)
    assert story.clock.now < told.low < told.half
    assert story.clock.now < told.first < told.half
    # a look that sees them as they are is one: half of what is left lies behind it
    story.later(days=takes / 3).type("room 20", f"{where} no change")
    after = coming(story, where, change)
    assert after.half is not None
    assert after.low is not None
    assert told.half < after.half < told.half + timedelta(days=takes / 3)
    assert story.clock.now < after.low


def test_one_wait_for_a_moult_that_nobody_logs_is_told_once(story: Story) -> None:
    story.at("2027-03-25 12:00").type("room 21", "R2 10 L2 Pieris ficta")
    told = coming(story, "R2", "pupation").half
    need = coming(story, "R2", "moult").need
    assert told is not None
    assert need is not None
    longest = need.constant_dd * 0.7 / (21 - need.lower_c)  # nine in ten have moulted
    for day in range(26, 32):
        story.at(f"2027-03-{day} 12:00").type("room 21", "R2 no change")
    for day in range(1, 15):
        story.at(f"2027-04-{day:02} 12:00").type("room 21", "R2 no change")
        change = coming(story, "R2", "pupation")
        assert change.half is not None
        if story.clock.now < told - timedelta(days=4):
            assert (change.half - told) / A_DAY < longest + 0.6
        if not change.overdue:
            assert change.low is not None
            assert story.clock.now < change.low + timedelta(hours=1)
