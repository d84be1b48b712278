"""A look that sees animals not there yet cuts all that is told of them at that look: first, half, last and the window."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise

from rounds.checks.timeline import changes_of
from rounds.forecasts.stage_ends import ComingChange
from rounds.views.ahead_page import item_why
from tests.stories.telling import Story, coming

EGGS_OF_ONE_MORNING = """
1 Mar 07:40 E4 set up eggs
1 Mar 07:41 brood QQ-26-01/A taxon='Anthocharis belia' laid_from='1 Mar 07:00' laid_to='1 Mar 07:30'
1 Mar 07:42 E4 stocked 40 eggs QQ-26-01/A
"""


def tell(story: Story, lines: str, until: int, room: str = "room 16/24") -> None:
    story.at(f"2026-03-{until:02} 07:10").type(
        *(f"{day} Mar 07:00 {room}" for day in range(1, until + 1))
    )
    story.type(*lines.strip().splitlines())


def in_order(change: ComingChange, looked: datetime) -> None:
    """All that is told lies after the look, half inside the window."""
    told = (looked, change.first, change.half, change.last)
    assert all(told), change.why_not
    assert list(told) == sorted(told)  # type: ignore[type-var]
    assert looked <= change.low < change.half < change.high  # type: ignore[operator]


def test_those_left_after_a_look_come_after_it(story: Story) -> None:
    tell(story, EGGS_OF_ONE_MORNING, 7)
    story.at("2026-03-07 20:10").type("7 Mar 08:00 E4 no change", "7 Mar 20:00 E4 hatched 20")
    in_order(coming(story, "E4"), datetime(2026, 3, 7, 19, tzinfo=UTC))


def test_larvae_and_pupae_come_after_the_look_too(story: Story) -> None:
    lines = """
    1 Mar 07:40 R1 6 L1 Pieris napi
    1 Mar 07:50 P1 5 pupae Pieris napi
    """
    tell(story, "\n".join(one.strip() for one in lines.strip().splitlines()), 2)
    halves = []
    for day in range(3, 13):
        story.at(f"2026-03-{day:02} 08:10").type("07:00 room 16/24", "08:00 P1 no change")
        if day < 5:
            story.type("08:00 R1 no change")
            in_order(coming(story, "R1", "moult"), datetime(2026, 3, day, 7, tzinfo=UTC))
        pupae = coming(story, "P1", "emergence")
        in_order(pupae, datetime(2026, 3, day, 7, tzinfo=UTC))
        halves.append(pupae.half)
    assert halves == sorted(halves)  # type: ignore[type-var]
    assert len(set(halves)) == len(halves)


def test_what_is_not_there_yet_never_moves_half_earlier(story: Story) -> None:
    tell(story, EGGS_OF_ONE_MORNING, 4)
    told = []
    for day in range(5, 25):
        story.at(f"2026-03-{day:02} 08:10").type("07:00 room 16/24", "08:00 E4 no change")
        change = coming(story, "E4")
        assert change.half is not None
        assert change.need is not None
        told.append((change.half, change.need.constant_dd))
        if not change.overdue:
            in_order(change, datetime(2026, 3, day, 7, tzinfo=UTC))
    assert [constant for _, constant in told] == sorted(constant for _, constant in told)
    # a row of like days makes those ahead surer, which moves it by minutes
    assert all(later > one - timedelta(minutes=30) for (one, _), (later, _) in pairwise(told))
    assert told[-1][0] < datetime(2026, 3, 18, tzinfo=UTC)  # the living should have hatched
    item = changes_of(story.desk.bench.containers["E4"], story.desk.foresight)[0]
    why = item_why(story.desk.bench, item, story.desk.moment())
    assert "these may be dead or at rest" in " ".join(line.text for line in why)


def test_a_search_of_a_laying_cup_moves_the_window_no_further_back(story: Story) -> None:
    tell(story, "1 Mar 07:05 K2 1 female Anthocharis belia on Barbarea", 1)
    told = []
    for day in range(2, 8):
        story.at(f"2026-03-{day:02} 20:10").type(f"{day} Mar 07:00 room 16/24")
        story.type(f"{day} Mar 20:00 K2 searched 4")
        change = coming(story, "K2")
        in_order(change, datetime(2026, 3, day, 19, tzinfo=UTC))
        told.append(change.half)
    assert told == sorted(told)  # type: ignore[type-var]
