"""Of a species that nobody knows each stage and instar has a date, and what moulted here tells the next ones' moults."""

from __future__ import annotations

from datetime import datetime

import pytest

from rounds.forecasts.stage_ends import ComingChange
from tests.stories.telling import Story, tell

R4 = "room air 20C\nR4 set up rearing\nbrood A-1/A taxon='Nova incognita'\nR4 host in plantain\n"


def coming(story: Story, cup: str, change: str) -> ComingChange:
    bench = story.desk.bench
    found = story.desk.foresight.coming(bench.containers[cup])
    return next(one for one in found if one.change == change)


@pytest.mark.parametrize(
    ("stocked", "change"),
    [("5 eggs", "hatch"), ("5 pupae", "emergence"), ("5 larvae", "moult")]
    + [(f"5 L{instar}", "moult") for instar in range(1, 5)]
    + [(f"5 L{instar}", "pupation") for instar in range(1, 6)],
)
def test_each_has_a_date(story: Story, stocked: str, change: str) -> None:
    tell(story, f"{R4}R4 stocked {stocked} A-1/A")
    story.later(hours=12).type("room air 20C")
    found = coming(story, "R4", change)
    assert found.why_not == ""
    assert found.low is not None
    assert found.half is not None
    assert found.low <= found.half <= (found.high or found.half)


def moulted_brood(story: Story, cup: str, brood: str, days: int) -> None:
    """Ten L1 that hatch here and moult to L2, and these to L3 after so many days."""
    tell(
        story, f"{cup} set up rearing\nbrood {brood} taxon='Nova incognita'\n{cup} host in plantain"
    )
    story.type(f"{cup} stocked 10 eggs {brood}")
    for _ in range(6):
        story.later(days=1).type("room air 20C")
    story.type(f"{cup} hatched 10")
    for instar, last in ((2, 3), (3, days)):
        for _ in range(last):
            story.later(days=1).type("room air 20C", f"{cup} looked")
        story.type(f"{cup} moulted 10 to L{instar}")


def days_of_l2(story: Story) -> float:
    tell(story, "R9 set up rearing\nbrood Z-1/A taxon='Nova incognita'\nR9 host in plantain")
    story.type("R9 stocked 10 L1 Z-1/A")
    story.later(days=1).type("R9 moulted 10 to L2", "room air 20C")
    found = coming(story, "R9", "moult")
    assert found.half is not None
    begun: datetime = found.begun_from + (found.begun_to - found.begun_from) / 2
    return (found.half - begun).total_seconds() / 86_400


def test_own_moults_tell_the_next_ones(story: Story) -> None:
    """L2 of two broods took eight days, which five of larval life by any species are; the next are told nearer to that."""
    tell(story, "room air 20C")
    moulted_brood(story, "R1", "A-1/A", 8)
    moulted_brood(story, "R2", "B-1/A", 8)
    taught = days_of_l2(story)
    assert taught > 6.5


def test_without_own_moults_the_share_of_larval_life_is_told(story: Story) -> None:
    tell(story, "room air 20C")
    assert 3.5 < days_of_l2(story) < 5.5
