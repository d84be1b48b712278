"""`to new CODE` works wherever `to CODE` does, and the new container is for what goes into it."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def bench(story: Story) -> Story:
    """A laying cup with eggs, an egg cup with eggs and young larvae, a tub of every later stage."""
    tell(
        story.at("2027-05-01 07:05"),
        """
        taxon 'Boloria inventa'
        shelf set up North
        K1 set up laying shelf=North place=1
        E9 set up eggs
        P1 set up pupation
        K1 founder W2 'Boloria inventa' female
        K1 host in violet 3 stems
        K1 searched 30
        K1 moved 30 eggs to E9
        E9 hatched 20
        brood S taxon='Boloria inventa'
        P1 stocked S larva 4 instar=5
        P1 stocked S pupa 6
        P1 stocked S adult 3 female
        P1 stocked S adult 2 male
        """,
    )
    return story.later(hours=1)


@pytest.mark.parametrize(
    ("line", "code", "purpose"),
    [
        ("E9 moved 5 larvae to new R9", "R9", "hatchlings"),
        ("move 5 larvae from E9 to new R9", "R9", "hatchlings"),
        ("E9 moved 2 L1 to new R9", "R9", "hatchlings"),
        ("E9 split 4 larvae into new R9", "R9", "hatchlings"),
        ("E9 moved 5 eggs to new R9", "R9", "eggs"),
        ("P1 moved 2 larvae to new R9", "R9", "pupation"),
        ("P1 moved 2 pupae to new R9", "R9", "pupation"),
        ("P1 moved 2 females to new R9", "R9", "laying"),
        ("P1 moved 2 males to new R9", "R9", "holding"),
        ("P1 moved 5 adults to new R9", "R9", "laying"),
        ("K1 moved W2 to new R9", "R9", "laying"),
        ("W2 moved to new R9", "R9", "laying"),
        ("K1 5 eggs to new E3", "E3", "eggs"),
        ("K1 searched 5 to new E3", "E3", "eggs"),
        ("K1 5 eggs cut off into new E3", "E3", "eggs"),
        ("K1 host out kept to new S8", "S8", "eggs"),
        ("K1 host out held into new S8", "S8", "eggs"),
    ],
)
def test_it_is_set_up_for_what_moves_in(bench: Story, line: str, code: str, purpose: str) -> None:
    if "cut off" in line:
        bench.type("K1 searched 5")
    (told,) = bench.type(line)
    assert told.startswith(f"{code} set up for {purpose.replace('hatchlings', '')}")
    cup = bench.desk.bench.containers[code]
    assert cup.purpose == purpose
    assert cup.lots or cup.held


def test_kept_stems_stand_in_it_beside_where_they_were(bench: Story) -> None:
    bench.type("K1 host out kept to new S8")
    cup = bench.desk.bench.containers["S8"]
    assert [held.plant for held in cup.held] == ["violet"]
    assert (cup.shelf, cup.place) == ("North", 2)


def test_a_late_larva_out_of_an_egg_cup_goes_where_larvae_are_reared(bench: Story) -> None:
    bench.later(days=9).type("E9 moulted 4 to L3", "E9 moved 4 L3 to new R9")
    assert bench.desk.bench.containers["R9"].purpose == "rearing"


@pytest.mark.parametrize(
    ("line", "wrong"),
    [
        ("K1 host out kept to new E9", "E9 stands on the bench already"),
        ("E9 moved 5 larvae to new P1", "P1 stands on the bench already"),
        ("E9 moved 5 larvae to new", "into which new containers?"),
        ("E9 moved 500 larvae to new R9", "20"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_set_up(
    bench: Story, line: str, wrong: str
) -> None:
    before = len(bench.on_disk())
    assert wrong in bench.refused(line)
    assert len(bench.on_disk()) == before


@pytest.mark.parametrize(("moved", "purpose"), [("3 larvae", "hatchlings"), ("2 eggs", "eggs")])
def test_out_of_a_host_store_it_is_for_what_it_holds(
    story: Story, moved: str, purpose: str
) -> None:
    story.type("S3 set up host store", "S3 host in cress", "S3 3 larvae Pieris napi")
    story.type("S3 stocked 2 eggs PIE-27-01", f"S3 moved {moved} to new R6")
    assert story.desk.bench.at("R6").purpose == purpose


def test_a_remark_behind_the_plant_is_no_part_of_its_name(story: Story) -> None:
    story.type("K9 1 female Boloria dia on violet -- caught")
    assert [host.plant for host in story.desk.bench.at("K9").hosts] == ["violet"]


def test_the_line_that_would_be_right_sets_the_cup_up(story: Story) -> None:
    asked = story.refused("R2 6 L3 Boloria dia on violet sure")
    assert "as: R2 6 L3 Boloria dia on violet -- sure;" in asked
    story.type("R2 6 L3 Boloria dia on violet -- sure")
    assert "As: R2 moved 5 to new R3, or R2 split 1 each into new C2-C7" in story.refused(
        "R2 moved 5 larvae to new"
    )


@pytest.mark.parametrize(
    ("line", "purpose"),
    [
        ("P2 moved 2 females to new R9", "laying"),
        ("P2 moved 2 males to new R9", "holding"),
        ("P2 moved 3 adults to new R9", "holding"),
        ("K1 moved 1 male to new R9", "holding"),
        ("H1 moved 2 females to new R9", "laying"),
        ("S3 moved 3 larvae to new R9", "hatchlings"),
        ("S3 moved 3 eggs to new R9", "eggs"),
        ("S3 host out kept to new R9", "eggs"),
    ],
)
def test_it_is_for_what_goes_in_wherever_that_stood(bench: Story, line: str, purpose: str) -> None:
    """Adults whose sex is told as they move; a male out of a laying cup; larvae and eggs of a host store."""
    tell(
        bench,
        """
        P2 set up pupation
        P2 stocked S pupa 3
        P2 emerged 3
        K1 stocked S adult 1 male
        H1 set up holding
        H1 stocked S adult 2 female
        S3 set up host store
        S3 host in violet
        S3 stocked S egg 6
        S3 stocked S larva 6 instar=1
        """,
    )
    bench.type(line)
    assert bench.desk.bench.containers["R9"].purpose == purpose


def test_a_female_out_of_a_pupation_cup_is_fed_offered_a_plant_and_searched(bench: Story) -> None:
    tell(bench, "P2 set up pupation\nP2 stocked S pupa 1\nP2 emerged 1")
    bench.type("P2 moved 1 female to new L9", "L9 host in violet")
    assert {"drink", "eggs"} <= bench.later(days=2).due("L9").keys()


def test_a_moat_round_one_cup_is_round_no_new_one(story: Story) -> None:
    story.at("2027-05-21 10:00").type(
        "shelf set up sill barrier=moat", "K3 set up laying barrier=moat lid=net"
    )
    story.type("K3 1 female Boloria dia on violet", "K2 set up laying shelf=sill")
    story.type("K2 1 female Boloria dia on violet")
    story.later(days=1).type("K3 searched 4", "K3 moved 4 eggs to new E6")
    story.type("K2 searched 4", "K2 moved 4 eggs to new E7")
    bench = story.desk.bench
    assert (bench.at("E6").barrier, bench.at("E6").lid) == ("none", "net")
    assert bench.moat_of(bench.at("E7"))[1] == "moat", "what stands round the shelf is round all"
