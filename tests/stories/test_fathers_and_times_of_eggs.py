"""Who fathered eggs and since when they were laid: as much as the book tells of species, couplings and plants."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell, there

TWO_SPECIES = """
    taxon "Saturnia montis"
    taxon "Hyles vespera"
    B2 set up laying
    B2 founder SA "Saturnia montis" female
    B2 founder SM "Saturnia montis" male
    B2 founder HA "Hyles vespera" female
    """


def test_a_species_named_says_whose_the_eggs_are(story: Story) -> None:
    tell(story, TWO_SPECIES)
    story.later(days=1)
    for line in (
        "B2 searched 4 Saturnia montis",
        "B2 searched 4 on Saturnia montis",
        "B2 searched 4 montis",
    ):
        told = story.later(hours=1).type(line)[0]
        assert "brood SA/A" in told, line
        assert ", Saturnia montis" not in told.rpartition("searched")[2], "the moth is no plant"
    assert "mothers HA" in story.type("B2 searched 2 Hyles vespera")[0]


def test_a_species_that_has_no_female_there_is_told(story: Story) -> None:
    tell(story, TWO_SPECIES + 'taxon "Parasa montana"\n')
    refused = story.later(days=1).refused("B2 searched 4 Parasa montana")
    assert "Parasa montana" in refused
    assert "brood=HA" in refused


def test_males_of_another_species_are_no_fathers(story: Story) -> None:
    tell(story, TWO_SPECIES)
    told = story.later(days=1).type("B2 searched 4 brood=HA")[0]
    assert "SM" not in told
    assert "SM" in story.type("B2 searched 4 brood=SA")[0]


def test_a_coupling_of_two_species_that_was_seen_stays_one(story: Story) -> None:
    tell(story, TWO_SPECIES)
    story.type("B2 paired HA SM sure")
    assert "fathers SM" in story.later(days=1).type("B2 searched 4 brood=HA")[0]


def test_what_a_wild_female_laid_before_she_coupled_here_may_be_of_the_wild(story: Story) -> None:
    story.at("2027-05-01 08:00").type("K2 set up laying", 'K2 founder HA "Hyles vespera"')
    story.at("2027-05-04 08:00").type('K2 founder HM "Hyles vespera" male', "K2 paired HA HM")
    story.at("2027-05-04 08:02").type("K2 searched 12")
    brood = story.desk.bench.broods["HA/A"]
    assert brood.fathers == ("HM", "wild")
    assert f"{brood.laid_from:%d %H:%M}" == "01 08:00"


def test_what_she_laid_after_a_search_and_a_coupling_is_his(story: Story) -> None:
    story.at("2027-05-01 08:00").type("K2 set up laying", 'K2 founder HA "Hyles vespera"')
    story.at("2027-05-04 08:00").type('K2 founder HM "Hyles vespera" male', "K2 paired HA HM")
    story.at("2027-05-04 09:00").type("K2 searched 0")
    story.at("2027-05-05 08:00").type("K2 searched 12")
    brood = story.desk.bench.broods["HA/A"]
    assert brood.fathers == ("HM",)
    assert f"{brood.laid_from:%d %H:%M}" == "04 09:00"


def test_one_that_needs_no_plant_laid_before_it_came(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(
        story,
        'taxon "Saturnia montis" lays_without_plant\nK2 set up laying\nK2 founder SA "Saturnia montis"',
    )
    story.at("2027-05-03 08:00").type("K2 host in plum")
    story.at("2027-05-04 08:00").type("K2 searched 9")
    assert f"{story.desk.bench.broods['SA/A'].laid_from:%d %H:%M}" == "01 08:00"


def test_eggs_on_the_plant_were_laid_since_it_came_whoever_laid_them(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(
        story,
        'taxon "Saturnia montis" lays_without_plant\nK2 set up laying\nK2 founder SA "Saturnia montis"',
    )
    story.at("2027-05-03 08:00").type("K2 host in plum")
    story.at("2027-05-04 08:00").type("K2 searched 9 on plum")
    assert f"{story.desk.bench.broods['SA/A'].laid_from:%d %H:%M}" == "03 08:00"


def test_eggs_beside_the_plant_may_be_older_than_it(story: Story) -> None:
    story.at("2027-05-01 08:00").type("K2 set up laying", 'K2 founder SA "Saturnia montis"')
    story.at("2027-05-03 08:00").type("K2 host in plum")
    story.at("2027-05-04 08:00").type("K2 searched 9 where=wall")
    assert f"{story.desk.bench.broods['SA/A'].laid_from:%d %H:%M}" == "01 08:00"


async def test_eggs_of_her_who_died_or_was_moved_go_by_keys(story: Story) -> None:
    for left in ("C2 died 1", "C2 moved all to D2"):
        book = Story(story.folder.with_name(left.replace(" ", "")), story._monkeypatch)
        book.at("2027-05-01 08:00")
        tell(
            book,
            'C2 set up laying\nD2 set up laying\nC2 founder SC "Saturnia montis"\nC2 host in plum',
        )
        book.at("2027-05-04 08:00").type(left)
        async with book.screens((110, 40)) as screen:
            screen.highlight("C2")
            await screen.press("e", "1", "2", "enter")
        assert book.desk.bench.broods["SC/A"].mothers == ("SC",), left
        assert book.desk.bench.containers["C2"].count("egg", "SC/A") == 12, left


def test_one_that_left_within_the_minute_laid_them(story: Story) -> None:
    """Lines of a file are all of one instant."""
    tell(
        story,
        'K2 set up laying\nK3 set up laying\nK2 founder SA "Saturnia montis"\nK2 moved 1 to K3',
    )
    assert "mothers SA" in story.type("K2 searched 3")[0]


def test_eggs_where_no_female_ever_was_say_what_would_be_right(story: Story) -> None:
    tell(story, "K2 set up laying\nK2 host in plum")
    refused = story.refused("K2 searched 3")
    assert "CODE" not in refused
    assert "no female" in refused
    tell(story, "brood E1 taxon='Saturnia montis'\nK2 searched 3 brood=E1")


SISTERS_APART = """
    P1 2 pupae Aglais io
    Q1 1 pupa Aglais io
    P1 emerged 2 females
    Q1 emerged 1 male
    C1 set up pairing
    C2 set up laying
    P1 moved 1 female to C1
    P1 moved 1 female to C2
    Q1 moved 1 male to C1
    C1 paired
    C1 host in nettle
    C2 host in nettle
    """


@pytest.mark.parametrize("lines", [("C2 9 eggs", "C1 12 eggs"), ("C1 12 eggs", "C2 9 eggs")])
def test_sisters_with_and_without_a_male_lay_two_broods_in_any_order(
    story: Story, lines: tuple[str, str]
) -> None:
    tell(story, SISTERS_APART)
    story.later(hours=24).type(*lines)
    bench = story.desk.bench
    eggs = {
        code: (lot.number, bench.broods[lot.brood].fathers)
        for code in ("C1", "C2")
        for lot in bench.containers[code].lots_of("egg")
    }
    assert eggs == {"C1": (12, ("AGL-27-02",)), "C2": (9, ())}
    story.type("C2 moved all eggs to new E2", "C1 moved all eggs to new E1")
    story.later(hours=24).type("C1 5 eggs", "C2 4 eggs")
    assert [there(story, code)[-1].split()[0] for code in ("C1", "C2")] == ["5", "4"]
    assert len([one for one in story.desk.bench.broods.values() if one.mothers]) == 2
