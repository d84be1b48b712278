"""Small slips of a morning are answered with the line that says what was meant, and an echo says what changed."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def bench(story: Story) -> Story:
    """Eggs, a sleeve on a tree, and three females of which one is marked."""
    tell(
        story,
        """
        brood A1 taxon="Aglia tau"
        E2 set up eggs
        E2 stocked 12 eggs brood=A1
        R2 set up rearing sleeve
        R2 stocked 4 L3 brood=A1
        R2 host in "Betula pendula" tree
        K3 set up laying
        K3 founder W1 Aglia tau female
        K3 founder W2 Aglia tau female
        K3 founder W3 Aglia tau female mark=blue
        taxon "Aglia tau" stinging=yes
        """,
    )
    return story


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("K3 marked red", "which of those without a mark? As: K3 W1 marked red; K3 W2 marked red"),
        ("E2 hatched a few", "how many? As: E2 hatched 3; or as a note: E2 note few hatched"),
        ("R2 moved to another branch", "as a note: R2 note moved to another branch"),
    ],
)
def test_the_line_that_is_meant_is_named(bench: Story, line: str, told: str) -> None:
    assert told in bench.refused(line)


def test_new_eggs_are_of_the_species_that_is_there(bench: Story) -> None:
    bench.type("K4 set up laying", "K4 founder W5 'Smerinthus ocellata' male")
    assert "K4 12 eggs Smerinthus ocellata" in bench.refused("K4 eggs 12")


@pytest.mark.parametrize("said", ["stinging no", "instars 5"])
def test_an_echo_says_what_changed(bench: Story, said: str) -> None:
    name, value = said.split()
    assert bench.type(f"taxon 'Aglia tau' {name}={value}")[0].endswith(said.split()[-1])
    assert value in bench.shell("log", "taxon", "Aglia tau", f"{name}={value}").out
