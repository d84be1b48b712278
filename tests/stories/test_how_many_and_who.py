"""A line that does not say how many, whose, or that pairs what cannot pair, is asked about."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BASE = """
taxon 'Saturnia montis' short=montis instars=5
K4 set up laying
K5 set up laying
K4 founder W6 'Saturnia montis' sex=female
K4 founder M1 'Saturnia montis' sex=male
K5 founder M8 'Saturnia montis' sex=male
K4 founder M9 'Boloria inventa' sex=male
brood A-3 mothers=W6
R2 set up rearing
R3 set up rearing
R4 set up rearing
E2 set up eggs
R2 stocked A-3 20 larvae L1
R4 stocked A-3 10 larvae L1
E2 stocked A-3 30 eggs
"""


@pytest.fixture
def bench(story: Story) -> Story:
    story.at("2027-05-01 07:00")
    tell(story, BASE)
    return story.later(hours=1)


def test_dead_of_the_missing_where_none_is_missing_is_refused(bench: Story) -> None:
    assert "none of R4 is missing on record" in bench.refused("R4 died 2 missing")
    bench.type("R4 missing 3")
    assert "settled" in bench.type("R4 died 2 missing")[0]


@pytest.mark.parametrize(
    ("line", "there"),
    [
        ("R2 moved larvae to R3", "R2 holds 20"),
        ("R2 moved to R3", "R2 holds 20"),
        ("R2 larvae died", "R2 holds 20"),
        ("R2 larvae pupated", "R2 holds 20"),
        ("R2 caterpillars moulted L2", "R2 holds 20"),
        ("E2 hatched", "E2 holds 30"),
        ("E2 eggs hatched", "E2 holds 30"),
        ("R2 escaped larvae", "R2 holds 20"),
    ],
)
def test_several_without_a_number_asks_how_many(bench: Story, line: str, there: str) -> None:
    asked = bench.refused(line)
    assert "how many" in asked
    assert there in asked
    assert "all" in asked


def test_what_is_offered_can_be_typed(bench: Story) -> None:
    bench.type(
        "R2 moved 2 to R3", "R2 moved all to R3", "E2 hatched all", "R3 died", "K5 moved to K4"
    )
    assert "how many larvae" in bench.refused("R3 stocked larvae A-3")


def test_where_one_is_there_one_is_meant(bench: Story) -> None:
    assert bench.desk.bench.at("K5") is not None
    bench.type("K5 males died")
    assert not bench.desk.bench.containers["K5"].lots


@pytest.mark.parametrize(
    ("line", "doubt"),
    [
        ("K4 paired W6 M9", "two species: W6 is Saturnia montis, M9 is Boloria inventa"),
        ("K4 paired W6 M8", "M8 is in K5, not in K4"),
        ("R4 paired A-3 A-3", "of A-3 R4 holds 10 larvae L1, not 2 adults"),
    ],
)
def test_an_impossible_pair_is_asked_about_and_taken_if_insisted(
    bench: Story, line: str, doubt: str
) -> None:
    asked = bench.refused(line)
    assert doubt in asked
    assert "sure" in asked
    bench.type(f"{line} sure")


def test_a_dead_partner_is_asked_about(bench: Story) -> None:
    bench.type("K4 died 1 brood=M1")
    assert "M1 is not on the bench any more" in bench.refused("K4 paired W6 M1")


def test_a_pair_that_is_there_is_taken(bench: Story) -> None:
    bench.type("K4 paired W6 M1")


def test_a_planned_pair_of_two_species_says_so(bench: Story) -> None:
    assert (
        "two species: W6 is Saturnia montis, M9 is Boloria inventa"
        in bench.type("pairing planned W6 with M9")[0]
    )
    assert "two species" in bench.preview("pairing planned W6 with M9")
