"""What keepers type in passing (invented): each is taken for what it plainly says, or refused with a
line that is itself taken; ``refused`` types that line."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
    shelf set up sill moat
    K1 set up laying shelf=sill
    K2 set up laying
    E1 set up eggs
    R1 set up rearing
    R5 set up rearing
    P2 set up emergence
    P7 set up holding
    taxon "Melitaea cinxia"
    K1 founder W1 "Melitaea cinxia" female
    K2 founder W2 "Melitaea cinxia" female
    K2 host in plantain 3 stems
    brood A-3 taxon="Melitaea cinxia"
    E1 stocked 40 eggs A-3
    R1 stocked 14 L3 A-3
    R5 stocked 6 L5 A-3
    P2 stocked 8 pupae A-3
    P7 stocked 5 adults A-3
"""


@pytest.fixture
def bench(story: Story) -> Story:
    """A moat on the sill only; each stage in a cup."""
    tell(story, BENCH)
    return story.at("2027-05-14 07:20")


@pytest.mark.parametrize(
    ("line", "shown"),
    [
        ("R5 first pupa", "R5 pupated: number 1"),
        ("E1 first larva", "E1 hatched: number 1"),
        ("P2 first adult", "P2 emerged: number 1"),
        ("zone Europe/Berlin", "setting: name zone, value Europe/Berlin"),
        ("E5 set up rearing in a sleeve on sill", "shelf sill; E5 note: text sleeve"),
        ("set up E5 rearing sleeve on sill", "shelf sill; E5 note: text sleeve"),
        (
            "K3 1 female cinxia on plantain",
            "K3 set up: purpose laying; K3 founder: code MEL-27-01, taxon Melitaea cinxia; "
            "K3 host in: plant plantain",
        ),
        ("K3 female cinxia, worn, on plantain", "taxon Melitaea cinxia"),
        ("K3 female melitaea athalia, worn, on plantain", "taxon Melitaea athalia"),
        ("K2 plantain renewed", "K2 host in: plant plantain"),
        (
            "yesterday 20:00 K2 drink put off +24h, too cold",
            "K2 put off: check drink, until Fri 14 May 20:00, why too cold",
        ),
        ("K2 6:00 drink put off +4h too cold", "until Fri 14 May 10:00, why too cold"),
        (
            "drink put off +4h too cold",
            "put off: check drink, until Fri 14 May 11:20, why too cold",
        ),
    ],
)
def test_it_is_taken(bench: Story, line: str, shown: str) -> None:
    assert shown in bench.preview(line)


def test_both_sexes_of_those_that_nobody_had_looked_at(bench: Story) -> None:
    bench.type("P7 sexed 3 females 2 males")
    lots = bench.desk.bench.containers["P7"].lots_of("adult")
    assert {lot.sex: lot.number for lot in lots} == {"female": 3, "male": 2}


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("K1 moat", "how does it stand? As: K1 moat full; K1 moat low 4 mm; K1 moat dry"),
        ("R1 moat", "R1 has no moat on record; where it has one, as: R1 changed barrier=moat"),
        ("R1 10 still", "not moving, or still there? As: R1 10 not moving; R1 counted 10 larvae"),
        ("E1 10 still", "As: E1 counted 10 eggs"),
        ("K2 vetch renewed", "As: K2 host changed vetch; K2 host in vetch"),
        ("R1 vetch renewed", "no plant stands in R1 on record; put in, as: R1 host in vetch"),
        ("travelled to Denmark", "elsewhere from now on, or a note?"),
        ("R1 7 eggs", "or R1 7 eggs Melitaea cinxia"),
        ("R1 stocked larvae A-3", "how many larvae? As: R1 stocked 20 larvae A-3"),
        ("R1 stocked 20 larvae", "of which brood? As: R1 stocked 20 larvae A-3"),
        ("P2 resting", "As: P2 in diapause; P2 looked as usual"),
        ("P2 1 pupa fell", "As: P2 note 1 pupa fell"),
        ("K1 under lot 6", "K1 note under lot 6"),
        ("K2 caught", "As: K2 1 female"),
        ("K2 0,5 ml sugar water", 'or K2 offered "0,5 ml sugar water"'),
        ("K2 confirmed 2", "as: K2 searched 2"),
        ("drink put off +4h", "why? As: drink put off +4h, too cold"),
        (
            "13 May K2 drink put off +24h",
            "why? As: 2027-05-13 12:00 K2 drink put off +24h, too cold",
        ),
        ("set up E5 sleeve on sill", "what for? As: E5 set up eggs shelf=sill -- sleeve"),
    ],
)
def test_it_is_refused_with_a_line_that_is_taken(bench: Story, line: str, told: str) -> None:
    assert told in bench.refused(line)


def test_under_a_lot_that_is_not_kept(bench: Story) -> None:
    bench.type("K2 host out held")
    assert "K2 frass plain lot=1" in bench.refused("K2 under lot 6")


@pytest.mark.parametrize(
    "what",
    [
        "15 eggs Boloria dia on cabbage laid 10 May",
        "15 eggs Boloria dia on cabbage, laid 10 May",
        "15 eggs Boloria dia laid 10 May on cabbage",
    ],
)
def test_when_eggs_were_laid_is_said_behind_their_plant(story: Story, what: str) -> None:
    story.at("2027-05-14 07:20")
    story.shell("begin", typed=f"Weir\n\n1\nE2 eggs\n{what}\n")
    cup = story.desk.bench.containers["E2"]
    assert [host.plant for host in cup.hosts] == ["cabbage"]
    (brood,) = story.desk.bench.broods.values()
    assert brood.laid_from
    assert f"{brood.laid_from:%d %b}" == "10 May"


@pytest.mark.parametrize("place", ["sill 2", "on sill 2", "on the sill 2", "at sill 2"])
def test_a_listed_cup_stands_on_the_shelf_that_is_named(story: Story, place: str) -> None:
    row = f"R1  12 L3 Boloria dia  horseshoe vetch  30 Apr  {place}\n"
    assert not story.shell("begin", "--list", "-", typed=row).status
    story.reopen()
    cup = story.desk.bench.containers["R1"]
    assert (cup.shelf, cup.place) == ("sill", 2)


def test_a_new_plant_behind_the_date_of_a_listed_cup(story: Story) -> None:
    row = "R1  12 L3 Boloria dia  30 Apr  "
    asked = story.shell("begin", "--list", "-", typed=f"{row}horseshoe vetch\n")
    assert "A plant is said as: on horseshoe vetch; a place has a number" in asked.err
    assert story.on_disk() == []
    assert not story.shell("begin", "--list", "-", typed=f"{row}on horseshoe vetch\n").status
    story.reopen()
    cup = story.desk.bench.containers["R1"]
    assert [host.plant for host in cup.hosts] == ["horseshoe vetch"]
    assert not cup.shelf


@pytest.mark.parametrize(
    ("line", "shown"),
    [
        ("yesterday 20:00 K2 maybe 6", "Thu 20:00  K2 searched: found 0, unsure 6"),
        ("K2 maybe 6 yesterday 20:00", "Thu 20:00  K2 searched: found 0, unsure 6"),
        ("E1 another 5 eggs", "E1 counted: number 45, stage egg (5 MORE THAN ON RECORD)"),
        ("R1 two more larvae yesterday 20:00", "Thu 20:00  R1 counted: number 16, stage larva"),
        ("K2 another 5 eggs", "K2 searched: found 5"),
        ("6:30 E1 5 larvae", "06:30  E1 hatched: number 5"),
    ],
)
def test_a_short_form_has_its_time_anywhere(bench: Story, line: str, shown: str) -> None:
    assert shown in bench.preview(line)


def test_so_many_perhaps_is_no_search_where_nobody_lays(bench: Story) -> None:
    assert "As: R1 counted 6 larvae about" in bench.refused("R1 maybe 6")
