"""A female may be hungry and cool on the same day: what she lacked counts each in full."""

from __future__ import annotations

from datetime import date, timedelta

from rounds.forecasts.no_eggs import why_no_eggs
from tests.stories.telling import Story

CUP = "K2 2 females Coenonympha oedippus on Schoenus nigricans"


def week(story: Story, cool: range) -> str:
    """Two that drank on the first two days and from the seventh on, cool on some; what may be missing."""
    story.at("2027-06-01 07:00").type("shelf set up N")
    for day in range(1, 9):
        on = date(2027, 6, 1) + timedelta(days=day - 1)
        story.at(f"{on} 07:10").type("N 8/12" if day in cool else "N 19/25")
        story.at(f"{on} 08:00")
        if day == 1:
            story.type(CUP, "K2 to shelf N")
        if day in (1, 2, 7, 8):
            story.type("K2 drank")
    story.later(minutes=6).type("K2 searched 0")
    bench = story.desk.bench
    known = why_no_eggs(bench, bench.containers["K2"], story.clock.now)
    assert known
    return " ".join([known.verdict, *(point.record for point in known.points)])


def test_the_same_drinks_tell_the_same_hunger(story: Story) -> None:
    warm, cool = week(story, range(0)), week(story.elsewhere(), range(5, 8))
    told = "more than a day without drink on 8.0 of 14.0 female-days"
    assert told in warm, warm
    assert told in cool, cool
    assert "feed them first" in cool
    assert "never 18 C on 5.0 of 14.0 female-days" in cool


def test_cool_for_most_of_it_without_drink(story: Story) -> None:
    told = week(story, range(1, 7))
    assert "never 18 C on 11.9 of 14.0 female-days" in told
    assert "more than a day without drink on 8.0 of 14.0" in told
    assert "warmth and light first" in told
