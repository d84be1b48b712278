"""Eggs of the unmarked ones fit a cup of marked ones too; a brood given to another mother goes by
her name; a mother is no male; and of one that has left it is said that it has."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def test_eggs_of_the_unmarked_fit(four_females: Story) -> None:
    (told,) = four_females.type("K3 searched 6 unmarked")
    assert "mothers W3 W4" in told
    assert "not fit" not in told
    assert "nothing wrong" in four_females.shell("check").out


def test_of_the_unmarked_one_that_died_before_is_told(four_females: Story) -> None:
    four_females.type("K3 searched 6 unmarked")
    four_females.later(days=1).type("K3 searched 2 unmarked")
    (told,) = four_females.type("2027-05-01 08:00 W3 died")
    assert "W3 was there no more" in told
    assert "as: K3 eggs are of W4 2027" in told


def test_a_mother_is_no_male(four_females: Story) -> None:
    four_females.type("K3 searched 6 W1")
    told = four_females.refused("W1 is male")
    assert told.startswith("W1 is the mother of W1/A on record; whose are they?")
    four_females.type("W1/A is of W2, W3, W4", "W1 is male")
    assert four_females.desk.bench.broods["W1/A"].mothers == ("W2", "W3", "W4")


def test_a_father_is_no_female(story: Story) -> None:
    tell(
        story,
        """
        K3 set up laying
        K3 founder W1 Boloria dia female
        K3 founder W2 Boloria dia male
        K3 host in Viola hirta
        K3 searched 6 W1
        """,
    )
    assert "W2" in story.desk.bench.broods["W1/A"].fathers
    assert "father of W1/A" in story.refused("W2 is female")


def test_of_one_that_has_left_it_is_said(four_females: Story) -> None:
    four_females.type("K3 released red")
    assert four_females.refused("K3 released red") == (
        "W1 is not in K3 on record; it holds 1 female of W2, 1 female of W3, 1 female of W4"
    )
    assert "holds no adults" not in four_females.refused("K3 released 1 male")


def test_a_brood_goes_by_the_name_of_its_mother(four_females: Story) -> None:
    tell(
        four_females,
        """
        K4 set up laying
        K4 founder W5 Melitaea athalia female
        K4 host in Plantago lanceolata
        """,
    )
    four_females.later(hours=12).type("K3 searched 6 W1")
    (told,) = four_females.type("W1/A is of W5")
    assert "not fit" not in told
    assert four_females.desk.bench.broods["W1/A"].taxon == "Melitaea athalia"
    assert "nothing wrong" in four_females.shell("check").out
    four_females.type("W1/A is of W1")
    assert four_females.desk.bench.broods["W1/A"].taxon == "Boloria dia"
