"""Two species in one cup whose plants are known from that cup alone: whose a plant is is asked once, and remembered."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

MARSH, DOG = "marsh violet", "dog violet"


@pytest.fixture
def cup(story: Story) -> Story:
    """Larvae of two species that came together to no plant, then to one."""
    story.at("2027-05-01 08:00")
    story.type("R5 5 L3 Boloria selene", "R5 5 L3 Boloria euphrosyne", f"R5 host in {MARSH}")
    return story


def test_it_is_asked_when_the_second_plant_comes(cup: Story) -> None:
    told = cup.refused(f"R5 host in {DOG}")
    assert told == (
        "who eats dog violet, who marsh violet? R5 holds Boloria selene and Boloria euphrosyne;"
        " say whose dog violet is: whose='Boloria selene', whose='Boloria euphrosyne',"
        " whose='all' or whose='not known'"
    )


def test_the_other_has_what_stood_there(cup: Story) -> None:
    cup.type(f"R5 host in {DOG} whose=euphrosyne")
    cup.at("2027-05-03 08:00").type(f"R5 host in {DOG}", f"R5 host in {MARSH}")
    cup.at("2027-05-05 08:00").type(f"R5 host in {DOG}")
    assert "food" in cup.due("R5"), "Boloria selene has had no new food"
    cup.type(f"R5 host in {MARSH}")
    assert "food" not in cup.due("R5")


@pytest.mark.parametrize("whose", ["not known", "all"])
def test_nobody_knows_is_asked_once(cup: Story, whose: str) -> None:
    cup.type(f"R5 host in {DOG} whose='{whose}'", f"R5 host in {DOG}")
    if whose == "not known":
        cup.type(f"R5 host in {MARSH}")


async def test_until_it_is_said_the_check_says_that_a_plant_counts_for_all(cup: Story) -> None:
    cup.type(f"R5 host in {DOG} whose='not known'")
    cup.at("2027-05-04 08:00")
    async with cup.screens((120, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("food", "R5")
        assert "nobody knows whose they are, count for all" in screen.words


def test_a_line_with_the_animals_says_it(story: Story) -> None:
    story.at("2027-05-01 08:00").type("R2 5 L3 Brenthis daphne on bramble")
    story.type("R2 4 L3 Melitaea cinxia on plantain")
    story.at("2027-05-03 08:00").type("R2 host in bramble", "R2 host in plantain")
    story.at("2027-05-05 08:00").type("R2 host in plantain")
    assert "food" in story.due("R2"), "Brenthis daphne has had no new food"
    story.type("R2 host in bramble")
    assert "food" not in story.due("R2")


async def test_said_beside_the_stop_it_holds(cup: Story) -> None:
    cup.at("2027-05-04 08:00")
    async with cup.screens((120, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("food", "R5")
        await screen.type(f"R5 host in {DOG} whose=selene")
    assert cup.desk.bench.put_in_for[DOG] == ("Boloria selene",)
    assert cup.desk.bench.put_in_for[MARSH] == ("Boloria euphrosyne",)


def test_of_both_is_remembered_in_the_order_said(cup: Story) -> None:
    """A set here gave another order in each process, and a good checkpoint was said to be wrong."""
    cup.type(f"R5 host in {DOG} whose=selene", f"R5 host in {DOG} whose=euphrosyne")
    assert cup.desk.bench.put_in_for[DOG] == ("Boloria selene", "Boloria euphrosyne")
