"""One of a mixed cup died and nobody knows which: only so many become unsure as may have been it."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_animals_which import stock

MIXED = """
    R4 set up rearing
    R5 set up rearing
    brood A-27-02/A taxon="Boloria inventa"
    brood B-27-02/A taxon="Boloria inventa"
    R4 stocked 10 L2 A-27-02/A
    R4 stocked 8 L5 B-27-02/A
    """
A, B, BOTH = "A-27-02/A", "B-27-02/A", "A-27-02/A or B-27-02/A"
LARVAE = {(A, "larva", 2): 9, (B, "larva", 5): 7}


@pytest.mark.parametrize(
    "line",
    [
        "R4 died 1 not known",
        "R4 escaped 1 not known",
        "R4 missing 1 not known",
        "R4 counted 17 larvae not known",
        "R4 moved 1 larva to R5 not known",
    ],
)
def test_of_two_broods_that_are_seen_apart_one_of_each_is_unsure(story: Story, line: str) -> None:
    tell(story, MIXED)
    story.type(line)

    assert stock(story, "R4") == LARVAE | {(BOTH, "larva", 0): 1}


def test_a_second_one_makes_one_more_of_each_unsure(story: Story) -> None:
    tell(story, MIXED)
    story.type("R4 died 1 not known", "R4 died 1 more not known")

    assert stock(story, "R4") == {
        (A, "larva", 2): 8,
        (B, "larva", 5): 6,
        (BOTH, "larva", 0): 2,
    }
    story.reopen()
    assert sum(stock(story, "R4").values()) == 16


def test_those_that_nobody_can_tell_apart_are_all_unsure(story: Story) -> None:
    tell(story, MIXED.replace("L5", "L2"))
    story.type("R4 died 1 not known")

    assert stock(story, "R4") == {(BOTH, "larva", 2): 17}


def test_of_males_of_one_brood_and_females_of_another_one_of_each_is_unsure(story: Story) -> None:
    tell(
        story,
        """
        P2 set up emergence
        brood A-27-02/A taxon="Boloria inventa"
        brood B-27-02/A taxon="Boloria inventa"
        P2 stocked 5 pupae A-27-02/A
        P2 stocked 7 pupae B-27-02/A
        P2 emerged 5 female A-27-02/A
        P2 emerged 7 male B-27-02/A
        P2 died 1 adult not known
        """,
    )
    container = story.desk.bench.at("P2")
    assert container is not None
    assert {(lot.brood, lot.sex): lot.number for lot in container.lots} == {
        (A, "female"): 4,
        (B, "male"): 6,
        (BOTH, ""): 1,
    }


def test_where_one_of_a_brood_is_all_there_is_neither_is_known(story: Story) -> None:
    tell(story, MIXED.replace("10", "1").replace("8", "1"))
    story.type("R4 died 1 not known")

    assert stock(story, "R4") == {(BOTH, "larva", 0): 1}
