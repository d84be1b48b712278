"""The neighbour's sheet, tried a third time: one leaf, a door that is shut again, a cup in a cup, specks that are explained."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_sheet_dangers import BLANK, bench, sheet_of

__all__ = ["bench"]  # the fixture


def test_dark_eggs_are_told_one_leaf_in_one_line(bench: Story) -> None:
    tell(bench, "E5 set up eggs shelf A\nE5 stocked 12 eggs A2\nE5 looked darkening")
    words, rows = sheet_of(bench)[0]["E5"]
    assert f"No fresh leaf in? Open, lay in one small leaf of {BLANK} from {BLANK}." in words
    assert words.count("leaf of") == 1
    assert rows[0] == [True] * 4


def test_eggs_that_may_darken_get_a_leaf_once_they_do(bench: Story) -> None:
    tell(bench, "E5 set up eggs shelf A\nE5 stocked 12 eggs A2")
    words, _ = sheet_of(bench)[0]["E5"]
    assert f"Open, lay in one small leaf of {BLANK} from {BLANK}." in words


def test_a_door_opened_for_the_heat_is_shut_before_a_cup_is_opened(bench: Story) -> None:
    tell(bench, "K2 set up laying shelf A\nK2 founder W1, lunaria female\nroom air 20C")
    told = " ".join(bench.shell("sheet", "--to", "+2d").out.replace("[   ]", "").split())
    assert "door open (shut to open a cup), telephone." in told


@pytest.mark.parametrize(
    ("back", "visits"), [("2027-05-09 19:33", 2), ("2027-05-09 20:00", 2), ("2027-05-09 20:01", 3)]
)
def test_a_visit_within_an_hour_of_coming_back_is_the_keepers(
    bench: Story, back: str, visits: int
) -> None:
    tell(bench, "K2 set up laying shelf A\nK2 founder W1, lunaria female")
    _, rows = sheet_of(bench, "--from", "2027-05-08 07:30", "--to", back)[0]["K2"]
    assert {len(row) for row in rows} == {visits}


def test_a_cup_in_a_cup_says_whether_the_outer_one_is_opened(bench: Story) -> None:
    tell(bench, "R3 set up rearing shelf A\nR3 stocked 5 L4 A2\nR3 host in nettle leaf water")
    tell(bench, "H2 set up hatchlings inside R3\nH2 stocked 5 L1 A2\nH2 host in nettle leaf water")
    tell(bench, "P2 set up pupation inside R3\nP2 stocked 3 pupae A2\nP2 misted")
    found = sheet_of(bench)[0]
    assert "Open R3 for it." in found["H2"][0]
    if "Open" not in found["P2"][0].replace("Do not open", ""):
        assert "Look at it through R3." in found["P2"][0]
    bench.type("R3 leave be +60h -- moulting")
    assert "Telephone before you open R3 for it." in sheet_of(bench)[0]["H2"][0]


def kept_with_eggs(bench: Story) -> None:
    """Stems that were laid on are kept in a cup of their own."""
    tell(
        bench,
        "K2 set up laying shelf A\nK2 founder W1, lunaria female\nK2 host in nettle leaf water",
    )
    bench.at("2027-05-08 12:00").type(
        "E7 set up eggs shelf A", "K2 searched 0", "K2 host out held held_in=E7"
    )


def test_black_specks_that_were_seen_are_not_telephoned_about(bench: Story) -> None:
    kept_with_eggs(bench)
    bench.at("2027-05-22 07:30")
    assert "Black specks" in sheet_of(bench, "--to", "+3d")[0]["E7"][0]
    bench.type("E7 frass trace lot=1")
    words = sheet_of(bench, "--to", "+3d")[0]["E7"][0]
    assert "Black specks" not in words
    assert "caterpillars may be on the stems" in words


def test_nor_are_those_of_caterpillars_that_hatch_there(bench: Story) -> None:
    kept_with_eggs(bench)
    bench.at("2027-05-22 07:30").type("E7 stocked 4 eggs A2")
    words = sheet_of(bench, "--to", "+3d")[0]["E7"][0]
    assert "Dark or hatched, no fresh leaf in?" in words
    assert "Black specks" not in words


def test_those_that_emerged_are_fed_as_any_others_once_they_had_their_first_food(
    bench: Story,
) -> None:
    tell(bench, "P3 set up pupation shelf A\nP3 stocked 4 pupae A2\nP3 emerged 2")
    words, rows = sheet_of(bench)[0]["P3"]
    assert "hold each to it until it drinks" in words
    assert ["look", True, True, True] in rows, (
        "a day after they emerged, then morning and evening as in any warm cup; the two pupae are"
        " looked at before, for nobody knows how soon they emerge"
    )


def test_a_leaf_for_each_of_two_species_is_no_number_of_stems(story: Story) -> None:
    story.at("2027-06-01 18:00")
    tell(
        story,
        """
        K2 set up laying
        K2 founder W2 'Aglais urticae' female
        K2 host in nettle
        K3 set up laying
        K3 founder W3 'Vanessa atalanta' female
        K3 host in hop
        """,
    )
    story.at("2027-06-03 08:00")
    tell(
        story,
        "K2 searched 6\nK3 searched 5\nE1 set up eggs\nK2 moved 6 eggs to E1\nK3 moved 5 eggs to E1",
    )
    told = " ".join(story.at("2027-06-08 08:00").shell("sheet", "--to", "+2d").out.split())
    assert f"lay in one small leaf of nettle from {BLANK} and hop from {BLANK}." in told
    assert "0 stems" not in told
