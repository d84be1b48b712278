"""At noon, two hours ago: words of time are times wherever they stand, and never part of a name."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from tests.stories.telling import Story


@pytest.mark.parametrize(
    ("time", "taken"),
    [("at noon", 12), ("at midday", 12), ("two hours ago", 16), ("an hour ago", 17)],
)
@pytest.mark.parametrize(
    "line", ["K7 3 eggs on blackthorn {}", "K7 searched 0 {}", "K7 drank {}", "K7 host in gorse {}"]
)
def test_it_is_a_time_behind_whatever_was_said(
    story: Story, line: str, time: str, taken: int
) -> None:
    story.at("2027-05-31 07:00").type("K7 2 females Callophrys arenosa on blackthorn")
    story.at("2027-06-02 18:10").type(line.format(time))
    last = story.on_disk()[-1]
    at = datetime.fromisoformat(last["at"]).astimezone(ZoneInfo("Europe/Paris"))
    assert (at.day, at.hour) == (2, taken)
    assert time.split()[-1] not in str(last), last
