"""A word that was left out of a line is asked for, with the line as it was typed."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def cups(story: Story) -> Story:
    """Two laying cups, a female and a male of one species in the first, larvae and pupae elsewhere."""
    tell(
        story,
        """
        K2 set up laying
        K3 set up laying
        R3 set up rearing
        P4 set up pupation
        K2 founder SA Saturnia montis female
        K2 founder SM Saturnia montis male
        brood S1 taxon="Saturnia montis"
        R3 stocked S1 larva 3 instar=2
        P4 stocked S1 pupa 4
        """,
    )
    return story


@pytest.mark.parametrize(
    ("line", "asks"),
    [
        ("K2 SA moved K3", "K2 SA moved to K3"),
        ("K2 moved SA K3", "K2 moved SA to K3"),
        ("moved SA K3", "moved SA to K3"),
        ("K2 moved 1 male K3", "K2 moved 1 male to K3"),
    ],
)
def test_where_they_go_is_asked_with_what_was_typed(cups: Story, line: str, asks: str) -> None:
    assert cups.refused(line) == f"to K3? As: {asks}"
    cups.type(asks)


def test_out_of_or_into_is_asked_with_what_was_typed(cups: Story) -> None:
    assert cups.refused("moved 1 male K2 K3") == "out of K2, or into it? As: K2 moved 1 male to K3"
    assert cups.refused("moved 1 male K3") == "out of K3, or into it? As: K2 moved 1 male to K3"


def test_a_container_that_is_not_there_is_told_as_that(cups: Story) -> None:
    assert cups.refused("K2 SA moved P3").startswith("no container is called P3; there are K2")
    assert cups.refused("K2 moved 1 male P3").startswith("no container is called P3")


def test_larvae_are_let_go_where_the_stage_is_said(cups: Story) -> None:
    line = cups.refused("R3 released 1")
    assert (
        line
        == "1 released, but R3 holds no adults; of young ones say the stage, as: R3 released 1 larva"
    )
    cups.type("R3 released 1 larva")
    assert "P4 emerged 1, then P4 released 1" in cups.refused("P4 released 1")
    cups.type("P4 emerged 1")
    assert "R3" not in cups.type("P4 released 1")[0]
