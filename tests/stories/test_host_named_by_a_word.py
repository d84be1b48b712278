"""A plant that stands in a cup is meant by its genus, its epithet or its first word, where only one fits."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def bench(story: Story) -> Story:
    """Kidney vetch cut as A in one cup, two vetches in another."""
    tell(
        story,
        """
        K3 set up laying
        K4 set up laying
        E2 set up eggs
        K3 host in "Anthyllis vulneraria" 3 sprigs
        K4 host in "Vicia cracca" 2 sprigs
        K4 host in "Vicia sepium" 2 sprigs
        """,
    )
    return story


@pytest.mark.parametrize(
    "plant",
    [
        "Anthyllis",
        "anthyllis",
        "vulneraria",
        "A. vulneraria",
        "Anthyllis A",
        "Anthyllis vulneraria A",
        "vulneraria a",
    ],
)
def test_out_goes_what_stands_there(bench: Story, plant: str) -> None:
    assert bench.type(f"K3 host out {plant} held_in=E2") == [
        "K3 host out: Anthyllis vulneraria A, kept in E2, 3 stems"
    ]


@pytest.mark.parametrize("plant", ["Anthyllis", "vulneraria", "Anthyllis vulneraria"])
def test_seen_is_what_stands_there(bench: Story, plant: str) -> None:
    assert "limp, Anthyllis vulneraria" in bench.type(f"K3 host seen {plant} limp")[0]


def test_kept_stems_are_meant_as_well(bench: Story) -> None:
    bench.type("K3 host out")
    bench.later(hours=5)
    assert "Anthyllis vulneraria A" in bench.type("K3 host out Anthyllis held_in=E2")[0]


def test_two_that_fit_are_not_guessed(bench: Story) -> None:
    line = bench.refused("K4 host out Vicia held_in=E2")
    assert "'Vicia' can be Vicia cracca or Vicia sepium; type which" in line
    assert "Vicia sepium" in bench.type("K4 host out sepium held_in=E2")[0]


def test_what_stands_in_another_cup_is_not_meant(bench: Story) -> None:
    assert "K3 has no such host" in bench.refused("K3 host out Vicia held_in=E2")
