"""A permit named in words, its species behind its number, and a permit of several species."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_a_permits_return_adds_up import returned

BEGIN = """
permit P-8 for 'Euphydryas aurinia' females=3
K2 set up laying
"""


@pytest.mark.parametrize(
    "words",
    [
        "permit P-8",
        "with permit P-8",
        "under P-8",
        "under permit P-8",
        "permit no. P-8",
        "(permit P-8)",
        "at Fen, permit P-8",
        "under permit p-8 at Fen",
        "female permit: P-8",
    ],
)
def test_a_permit_is_no_part_of_a_name_and_its_return_counts_her(story: Story, words: str) -> None:
    tell(story, BEGIN)
    story.type(f"K2 founder W1 Euphydryas aurinia {words}")

    her = story.desk.bench.founders["W1"]
    assert (her.taxon, her.permit) == ("Euphydryas aurinia", "P-8")
    assert her.place == ("Fen" if "Fen" in words else "")
    (sum_,) = returned(story, "P-8")["What became of them"]
    assert sum_["taken"] == "1"


def test_a_permit_that_is_not_on_record_is_refused_and_so_is_one_without_a_number(
    story: Story,
) -> None:
    tell(story, BEGIN)
    assert "no permit is called P-9" in story.refused("K2 founder W1 Euphydryas aurinia permit P-9")
    assert "which permit?" in story.refused("K2 founder W1 Euphydryas aurinia permit")


def test_the_name_of_a_field_before_its_value_ends_a_place(story: Story) -> None:
    tell(story, BEGIN)
    story.type("K2 founder W1 Euphydryas aurinia at Fen lat 45 lon 7.5 mark red permit P-8")

    her = story.desk.bench.founders["W1"]
    assert (her.place, her.latitude, her.longitude) == ("Fen", 45.0, 7.5)
    assert (her.mark, her.permit) == ("red", "P-8")


def test_a_permit_is_said_of_her_later(story: Story) -> None:
    tell(story, f"{BEGIN}K2 founder W1 Euphydryas aurinia")
    story.type("W1 permit P-8")
    assert story.desk.bench.founders["W1"].permit == "P-8"


@pytest.mark.parametrize("before", ["", "of ", "for ", "taxon "])
def test_the_species_stands_behind_the_number(story: Story, before: str) -> None:
    story.type(f"permit P-7 {before}Euphydryas aurinia females=2")

    permit = story.desk.bench.permits["P-7"]
    assert (permit.taxon, permit.females) == ("Euphydryas aurinia", 2)


def test_a_number_of_several_words_stays_one(story: Story) -> None:
    story.type("permit 'BNL 24 A' females=2", "permit BNL upland females=1")
    assert list(story.desk.bench.permits) == ["BNL 24 A", "BNL upland"]


@pytest.mark.parametrize(
    "species",
    [
        "taxon='Euphydryas aurinia; Saturnia pavonia'",
        "taxon='Euphydryas aurinia, Saturnia pavonia'",
        'taxon="Euphydryas aurinia, Saturnia pavonia"',
        "for Euphydryas aurinia and Saturnia pavonia",
        "Euphydryas aurinia, Saturnia pavonia",
        "of E. aurinia and S. pavonia",
    ],
)
def test_a_permit_of_two_species_is_two_lines(story: Story, species: str) -> None:
    told = story.refused(f"permit P-2 {species} females=2")
    assert "one species a permit line" in told
    assert "permit P-2b for S" in told
    assert not story.desk.bench.permits


def test_an_author_is_no_second_species(story: Story) -> None:
    story.type('permit P-2 for "Euphydryas aurinia (Rottemburg, 1775)" females=2')
    assert story.desk.bench.permits["P-2"].taxon == "Euphydryas aurinia (Rottemburg, 1775)"


def test_the_species_of_a_permit_is_replaced_only_where_that_is_sure(story: Story) -> None:
    tell(story, BEGIN)
    told = story.refused("permit P-8 taxon='Saturnia pavonia' females=1")
    assert "permit P-8 is for Euphydryas aurinia" in told
    assert "permit P-8b for Saturnia pavonia" in told

    story.type("permit P-8 taxon='Saturnia pavonia' females=1 sure")
    assert story.desk.bench.permits["P-8"].taxon == "Saturnia pavonia"
    story.type("permit P-8 taxon='Saturnia pavonia' females=2")


def test_a_code_is_no_species(story: Story) -> None:
    tell(story, f"{BEGIN}K2 founder W1 Euphydryas aurinia\nK2 founder W2 Boloria dia")
    assert "founder's code" in story.refused("W2 is W1")
    assert story.desk.bench.founders["W2"].taxon == "Boloria dia"
