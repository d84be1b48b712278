"""Of animals nobody could tell apart one brood is named again: those that went on are the furthest on, as always."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

MIXED = """
    R2 set up rearing
    brood S1 taxon='Saturnia montis'
    brood H1 taxon='Hyles vespera'
    R2 stocked S1 larva 3 instar=2
    R2 stocked H1 larva 3 instar=3
    R2 died 1 not known
    """


@pytest.mark.parametrize(
    "line", ["R2 moulted 1 L4 brood=H1", "R2 moulted 1 L4 H1", "R2 pupated 1 H1"]
)
def test_the_one_that_went_on_was_of_the_instar_before(story: Story, line: str) -> None:
    tell(story, MIXED)
    story.type(line)
    lots = {
        (lot.brood, lot.stage, lot.instar): lot.number
        for lot in story.desk.bench.containers["R2"].lots
    }
    went_on = next(one for one in lots if one[0] == "H1" and one[1:] != ("larva", 3))
    assert lots == {
        ("S1", "larva", 2): 2,
        ("H1", "larva", 3): 1,
        ("H1 or S1", "larva", 0): 1,
        went_on: 1,
    }


def test_one_of_the_younger_brood_that_moults_was_younger(story: Story) -> None:
    tell(story, MIXED)
    story.type("R2 moulted 1 L3 S1")
    lots = {(lot.brood, lot.instar): lot.number for lot in story.desk.bench.containers["R2"].lots}
    assert lots == {("H1", 3): 2, ("H1 or S1", 0): 1, ("S1", 2): 1, ("S1", 3): 1}
