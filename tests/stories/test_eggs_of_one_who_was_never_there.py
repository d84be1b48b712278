"""Eggs of a female who never stood in a cup are asked about before they are taken, and never suggested."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

ASKED = "no female of M3/A stood in K3 then"


@pytest.fixture
def two_cups(story: Story) -> Story:
    """A female in one cup, none in the other."""
    story.at("2027-06-05 08:00")
    tell(
        story,
        """
        2 Jun 15:00 K2 set up laying
        2 Jun 15:10 K2 founder M3 taxon='Colias myrmidone' female
        2 Jun 15:20 K2 host in birch
        2 Jun 15:30 K3 set up laying
        2 Jun 15:40 K3 host in birch
        4 Jun 15:20 K2 searched 14
        """,
    )
    return story


def eggs(story: Story) -> dict[str, int]:
    return {cup.code: cup.count("egg") for cup in story.desk.bench.standing()}


def test_without_a_brood_it_is_said_that_no_female_was_there(two_cups: Story) -> None:
    told = two_cups.refused("K3 searched 50")
    assert told.startswith("no female stood in K3 then; if one did, first say when she came")
    assert eggs(two_cups) == {"K2": 14, "K3": 0}


@pytest.mark.parametrize("whose", ["M3/A", "M3"])
def test_her_brood_is_taken_only_if_the_keeper_is_sure(two_cups: Story, whose: str) -> None:
    assert two_cups.refused(f"K3 searched 50 brood={whose}").startswith(ASKED)
    assert two_cups.refused(f"3 Jun 20:00 K3 searched 50 brood={whose}")
    two_cups.type(f"K3 searched 50 brood={whose} sure")
    assert eggs(two_cups) == {"K2": 14, "K3": 50}


def test_of_one_without_a_brood_yet_it_is_asked_too(two_cups: Story) -> None:
    two_cups.type("K2 founder M4 taxon='Colias myrmidone' female")
    assert "M4/A stood in K3 then" in two_cups.refused("K3 searched 5 brood=M4")


@pytest.mark.parametrize(
    "before",
    [
        ("K2 moved M3 to K3",),
        ("3 Jun 08:00 K2 moved M3 to K3", "4 Jun 08:00 K3 moved M3 to K2"),
        ("K2 moved 14 eggs to K3",),
        ("K2 host out held in K3",),
    ],
)
def test_where_she_or_hers_were_it_is_taken(two_cups: Story, before: tuple[str, ...]) -> None:
    two_cups.type(*before, "K3 searched 5 brood=M3/A")


def test_a_brood_whose_mother_nobody_knows_is_taken(two_cups: Story) -> None:
    two_cups.type("brood E1 taxon='Colias myrmidone'", "K3 searched 5 brood=E1")
