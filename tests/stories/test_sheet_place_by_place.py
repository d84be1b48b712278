"""The sheet of a bench on two shelves and a porch: place by place, each once; amounts and words that do not mislead."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story, tell

BENCH = """
setting phone 0151 4455
setting bench 'Back room'
taxon 'Saturnia montis' no_adult_food cannibalistic
taxon 'Pieris orata'
shelf set up sill place 1 moat
shelf set up rack place 2
shelf set up porch place 3 apart cold_c=6 hot_c=30 moat
room air 17/23
porch air 9/20
sill moat full 12 mm
porch moat full 14 mm
E1 set up eggs shelf=sill place=1
E2 set up eggs shelf=porch place=1
R1 set up rearing shelf=sill place=2
R2 set up rearing shelf=rack place=1
R3 set up rearing shelf=rack place=2
R4 set up rearing shelf=porch place=2
R5 set up rearing shelf=rack place=3
L1 set up laying shelf=sill place=3
L2 set up laying shelf=porch place=3
P1 set up pupation shelf=rack place=4
Q1 set up quarantine shelf=porch place=4
S1 set up host store shelf=rack place=5
L1 founder A-1, Pieris orata female
L2 founder B-1, Saturnia montis female
brood A-0/A taxon='Pieris orata'
brood B-0/A taxon='Saturnia montis'
L1 host in cress leaf 2 sprigs in water
L2 host in birch leaf 3 sprigs in water
E1 stocked 12 eggs A-0/A
E2 stocked 30 eggs B-0/A
R1 stocked 5 L3 A-0/A
R1 host in cress leaf 3 sprigs in water
R2 stocked 6 L2 B-0/A
R2 host in birch leaf 2 sprigs in water
R3 stocked 1 L4 B-0/A
R3 host in birch leaf 1 sprig in water
R4 stocked 4 L3 B-0/A
R4 host in birch leaf 2 sprigs in water
R5 stocked 3 L5 A-0/A
R5 host in cress leaf 2 sprigs in water
R5 suspect dark spots
P1 stocked 4 pupae A-0/A
Q1 stocked 2 L2 A-0/A
Q1 host in cress leaf 1 sprig in water
S1 host in cress leaf 12 sprigs in water
S1 host in birch leaf 10 sprigs in water
"""


@pytest.fixture
def sheet(story: Story) -> str:
    """The sheet for two days, as one line of words."""
    story.at("2027-06-01 08:00")
    tell(story, BENCH)
    out = story.later(hours=2).shell("sheet", "--to", "+2d").out
    return " ".join(re.sub(r"\[   \]|\(   \)|--(?= |$)", "", out, flags=re.MULTILINE).split())


def walked(sheet: str) -> list[str]:
    """The numbered places, in the order of the sheet."""
    return [
        name for _, name in re.findall(r"(\d+) (The room|Shelf \w+|[A-Z]\d(?= on shelf))", sheet)
    ]


def test_the_walk_goes_place_by_place_and_to_each_once(sheet: str) -> None:
    walk = walked(sheet)
    shelf_of = dict(re.findall(r"([A-Z]\d) on shelf (\w+)[:.]", sheet))
    clean = [code for code in walk if code not in ("Q1", "R5", "The room")]
    places = [shelf_of.get(name, name.removeprefix("Shelf ")) for name in clean]
    assert [place for number, place in enumerate(places) if place not in places[:number]] == [
        "rack",
        "sill",
        "porch",
    ]
    assert sorted(places, key=["rack", "sill", "porch"].index) == places, "no place is walked twice"
    assert walk[0] == "The room"
    assert walk[-2:] == ["Q1", "R5"], "what is new or looks wrong comes last, wherever it stands"
    for shelf, first in (("sill", "E1"), ("porch", "E2")):
        assert walk.index(f"Shelf {shelf}") == walk.index(first) - 1, (
            "a shelf's own water is done where its cups are"
        )


def test_the_jars_come_before_the_first_cup_that_wants_a_stem(sheet: str) -> None:
    walk = walked(sheet)
    assert walk[1] == "S1"
    assert "S1 on shelf rack: jars. Take out slimy, yellow stems, add water." in sheet
    assert sheet.index("From the jars take all needed below") > sheet.index(
        "S1 on shelf rack: jars"
    )


def test_a_limp_plant_is_replaced_stem_for_stem(sheet: str) -> None:
    assert "Plant limp? Open, add stems of cress from S1." in sheet
    assert "Plant limp? Open, add stems of birch from S1." in sheet


def test_cannibals_that_share_a_cup_are_not_to_be_parted_by_a_helper(sheet: str) -> None:
    def of(code: str) -> str:
        return re.split(
            r"\s\d+ (?=[A-Z]\d on shelf|Shelf)", sheet[sheet.index(f"{code} on shelf") :]
        )[0]

    assert "May eat each other: move none, add none." in of("R2")
    assert "It eats others: add none." in of("R3")
    assert "put none together" not in sheet
