"""Eggs are of a brood, never of the wild female herself, of a male, or of those that happen to be left in the cup."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

CUP = """
    K2 set up laying
    E7 set up eggs
    K2 founder W2 "Callophrys montana" female
    K2 host in Vaccinium 3 sprigs
    """


@pytest.fixture
def cup(story: Story) -> Story:
    """A female in a cup since this morning."""
    story.at("2027-05-01 08:00")
    tell(story, CUP)
    return story


@pytest.mark.parametrize("line", ["E7 searched 5 brood=W2", "E7 searched 5 lot=1 brood=W2"])
@pytest.mark.parametrize("before", [True, False])
def test_a_female_named_at_kept_stems_means_a_brood_of_hers(
    cup: Story, line: str, before: bool
) -> None:
    cup.later(days=1)
    if before:
        cup.type("K2 searched 3")
    cup.type("K2 host out A held_in=E7", "K2 host in Vaccinium 3 sprigs")
    told = cup.later(days=1).type(line)[0]
    assert "brood W2/A" in told
    bench = cup.desk.bench
    assert list(bench.broods) == ["W2/A"]
    assert bench.containers["E7"].count("egg", "W2/A") == 5
    assert bench.broods["W2/A"].mothers == ("W2",)


def test_eggs_put_in_are_of_a_brood_of_hers(cup: Story) -> None:
    assert "brood W2/A" in cup.type("E7 stocked W2 egg 6")[0]
    assert "of W2/A" in cup.type("E7 stocked 4 eggs W2")[0]
    bench = cup.desk.bench
    assert (bench.broods["W2/A"].mothers, bench.taxon_of("W2/A")) == (("W2",), "Callophrys montana")
    assert bench.containers["E7"].count("egg", "W2/A") == 10
    cup.type('K2 founder M1 "Callophrys montana" male')
    assert "M1 is a male; name a female as the mother" in cup.refused("E7 stocked M1 egg 6")


def test_no_eggs_to_a_males_brood(cup: Story) -> None:
    cup.type('K2 founder M1 "Callophrys montana" male')
    assert "M1 is a male; name a female as the mother" in cup.later(days=1).refused(
        "K2 searched 4 brood=M1"
    )


def test_a_cup_where_only_males_are_left_asks_whose(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(
        story,
        """
        brood B-1 taxon="Callophrys montana"
        K2 set up laying
        K2 stocked B-1 adult 2 male
        K2 host in Vaccinium 3 sprigs
        """,
    )
    assert "if the eggs are of a brood there, add: brood=B-1" in story.later(days=1).refused(
        "K2 searched 4"
    )


def test_a_mother_who_just_died_may_have_laid_them(cup: Story) -> None:
    cup.type(
        'K2 founder W3 "Callophrys montana" female', 'K2 founder W4 "Callophrys montana" female'
    )
    cup.later(days=1).type("K2 searched 6")
    cup.later(hours=5).type("K2 died 1 brood=W2")
    told = cup.later(hours=3).type("K2 searched 3")[0]
    assert "mothers W2 W3 W4" in told
    cup.later(days=1)
    assert "mothers W3 W4" in cup.type("K2 searched 2")[0], (
        "she laid none of what came after a search"
    )


def test_one_that_was_moved_out_just_after_the_search_laid_none_since(cup: Story) -> None:
    cup.type('K2 founder W3 "Callophrys montana" female', "K5 set up laying")
    cup.later(days=1).type("K2 searched 6")
    cup.later(minutes=3).type("K2 moved 1 to K5 brood=W2")
    assert "brood W3/A" in cup.later(days=1).type("K2 searched 3")[0]


def test_the_dead_of_another_species_is_among_the_choices(cup: Story) -> None:
    cup.type('K2 founder W3 "Erebia arcta" female')
    cup.later(days=1).type("K2 searched 6 brood=W2")
    cup.later(hours=5).type("K2 died 1 brood=W2")
    assert "brood=W2, brood=W3 or not known" in cup.later(hours=3).refused("K2 searched 3")
    assert "brood W2/A" in cup.type("K2 searched 3 brood=W2")[0]


def test_where_only_she_was_and_died_the_eggs_are_her_brood(cup: Story) -> None:
    cup.later(hours=20).type("K2 died 1")
    died = cup.desk.now()
    told = cup.later(hours=4).type("K2 searched 7")[0]
    assert "brood W2/A" in told
    brood = cup.desk.bench.broods["W2/A"]
    assert (brood.mothers, brood.laid_to) == (("W2",), died)
    assert "brood W2/A" in cup.later(hours=4).type("K2 searched 2")[0]
    assert cup.desk.bench.containers["K2"].count("egg", "W2/A") == 9
