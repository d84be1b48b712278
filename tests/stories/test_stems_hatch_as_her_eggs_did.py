"""Eggs on kept stems hatch when those of the same female did, however long other broods take."""

from __future__ import annotations

from datetime import datetime

from tests.stories.telling import Story
from tests.stories.test_forecasts_weigh_what_is_known import keep_until, tell

TWO_FEMALES = """
20 Apr 19:00 S2 set up eggs
20 Apr 20:00 K2 1 female Orthosia hibisci on willow
20 Apr 20:00 K3 1 female Orthosia hibisci on willow
22 Apr 20:00 K2 searched 20
22 Apr 20:01 K2 moved 20 eggs to new E4
22 Apr 20:02 K2 host out willow kept in S2
22 Apr 20:03 K3 host out willow kept in S2
28 Apr 08:00 E4 no change
28 Apr 20:00 E4 hatched 15
"""


def test_stems_are_kept_as_long_as_her_own_eggs_tell(story: Story) -> None:
    tell(story, TWO_FEMALES, "room 16/24", datetime(2027, 4, 20), datetime(2027, 4, 29))
    container = story.desk.bench.containers["S2"]
    of = {
        held.source: story.desk.foresight.chance(container, held, story.clock.now)
        for held in container.held
    }
    hers, other = of["K2"].need, of["K3"].need

    assert "from this brood's own 15 that hatched" in hers.words
    assert "this brood's own" not in other.words
    assert hers.constant_dd > 1.05 * other.constant_dd
    assert hers.above < other.above / 2
    assert keep_until(story, "S2") == of["K2"].keep_until
