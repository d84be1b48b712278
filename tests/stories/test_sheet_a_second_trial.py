"""The neighbour's sheet, tried once more: a moulting cup is fed in time, the worst first, the full moat, eggs, the room."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_sheet_dangers import sheet_of

HEADER = "code\tholds\tplant\tsince\tplace\tpurpose"


@pytest.fixture
def moulting(story: Story) -> Story:
    """A cup of larvae that eat each other, left be for a moult until Friday at 05:00, on Thursday 10 June 2027 at 07:10."""
    story.at("2027-06-10 07:00")
    story.type('taxon "Vanessa nota" cannibalistic')
    cup = "R3\t5 L3 Vanessa nota\tnettle\t2027-06-09\tB 1\trearing"
    assert story.shell("begin", "--list", "-", typed=f"{HEADER}\n{cup}\n").status == 0
    story.reopen()
    story.type("R3 leave be +22h -- moulting")
    return story.at("2027-06-10 07:10")


def test_a_stem_set_beside_if_leaves_are_gone_is_no_feeding(moulting: Story) -> None:
    found, warned = sheet_of(moulting, "--to", "+49h")
    words, rows = found["R3"]
    assert "Leaves gone? Lift the lid, touch none, set in beside them fresh nettle" in words
    assert "Open, add fresh nettle" in words
    assert [
        True,
        False,
        False,
        False,
    ] in rows  # beside them, through the lid that stays shut until then
    assert [
        False,
        True,
        False,
        True,
    ] in rows  # fed as soon as it may be opened: Fri 07:00, and in danger from 11:00
    assert "in danger" not in warned


def test_the_keeper_hears_of_a_closed_cup_that_is_fed_beside_and_opened_too_late(
    moulting: Story,
) -> None:
    moulting.type("R3 leave be +35h -- moulting")
    found, warned = sheet_of(moulting, "--to", "+2d")
    assert "set in beside them" in found["R3"][0]
    assert (
        "R3 is not to be disturbed until Fri 11 Jun 18:10, and is in danger (food) from about Fri 11 Jun 11:00"
        in warned
    )


def test_the_keeper_hears_of_an_open_cup_in_danger_before_the_first_visit(moulting: Story) -> None:
    tell(moulting, "R7 set up rearing shelf B\nR7 stocked 6 L4 VAN-27-01")
    moulting.at("2027-06-11 07:40")
    warned = sheet_of(moulting, "--to", "+2d")[1]
    assert (
        "R3 is in danger (food) from about Fri 11 Jun 11:00, before the first visit that sees to it"
        in warned
    )


def test_before_leaving_danger_before_the_first_visit_comes_first_and_the_rest_as_due_has_it(
    moulting: Story,
) -> None:
    tell(moulting, "R7 set up rearing shelf B\nR7 stocked 6 L4 VAN-27-01")
    tell(moulting, "P2 set up pupation shelf B\nP2 stocked 3 pupae VAN-27-01")
    moulting.at("2027-06-11 07:40")
    warned = sheet_of(moulting, "--to", "+2d")[1].splitlines()
    named = [
        line.removeprefix("rounds: before you leave: ")
        for line in warned
        if "before you leave: " in line
    ]
    assert named[:2] == ["R7 food, in danger", "R3 food, in danger from about Fri 11 Jun 11:00"]
    listed = [line.split()[:2] for line in moulting.shell("due").out.splitlines()]
    rest = [one.split(",")[0].split() for one in named[2:] if "the room" not in one]
    assert len(rest) >= 3
    assert [one for one in listed if one in rest] == rest


# --- moat, eggs, room -----------------------------------------------------------------------------------------------------


def test_only_a_depth_called_full_or_topped_up_is_the_level_to_fill_to(moulting: Story) -> None:
    tell(moulting, "shelf set up M barrier=moat\nR9 set up rearing shelf M\nM moat low 4 mm")
    assert "Fill its water up against ants." in sheet_of(moulting, "--to", "+2d")[0]["Shelf"][0]
    moulting.type("M moat full 15 mm", "M moat low 4 mm")
    assert (
        "Fill its water to 15 mm against ants." in sheet_of(moulting, "--to", "+2d")[0]["Shelf"][0]
    )
    moulting.type("M topped up 20 mm", "M moat low 3 mm")
    assert (
        "Fill its water to 20 mm against ants." in sheet_of(moulting, "--to", "+2d")[0]["Shelf"][0]
    )


@pytest.mark.parametrize(
    ("day", "boxes"),
    [
        (14, [True] * 4),
        (15, [True] * 4),
        (16, [True] * 4),
        (19, [True] * 4),
    ],  # may hatch from Mon 14, 23:50 or so, as broods and constants of no source differ too
)
def test_eggs_get_their_leaf_at_every_visit_after_which_they_may_hatch(
    story: Story, day: int, boxes: list[bool | str]
) -> None:
    story.at("2027-06-10 07:00")
    tell(
        story,
        'taxon "Vanessa nota" short=nota\nconstants taxon="Vanessa nota" stage=egg lower=10 constant=100',
    )
    tell(
        story,
        "room 20C\nshelf set up B\nE5 set up eggs shelf B\nbrood N1 taxon=nota laid_from=-2h laid_to=-1h",
    )
    story.type("E5 stocked 12 eggs N1")
    story.at(f"2027-06-{day} 07:10").type("room 20C")
    words, rows = sheet_of(story, "--to", "+49h")[0]["E5"]
    assert "Dark or hatched, no fresh leaf in? Open, lay in one small leaf of" in words
    assert boxes in rows
    if day > 14:  # as it is asked of the keeper: at the round before
        leaf = story.due("E5")["leaf"]
        assert re.search(r"may hatch at the earliest ((Mon|14 Jun) )23:5\d", leaf["arithmetic"])
        assert leaf["due"] == "2027-06-14T18:00:00+02:00"


def test_eggs_that_came_in_begun_may_hatch_any_time(story: Story) -> None:
    story.at("2027-06-10 07:00")
    tell(
        story,
        'taxon "Vanessa nota" short=nota\nconstants taxon="Vanessa nota" stage=egg lower=10 constant=100',
    )
    tell(
        story,
        "room 20C\nshelf set up B\nE5 set up eggs shelf B\nbrood N1 taxon=nota\nE5 stocked 12 eggs N1",
    )
    words, rows = sheet_of(story, "--to", "+2d")[0]["E5"]
    assert "Dark or hatched, no fresh leaf in? Open, lay in one small leaf of" in words
    assert rows[0] == [True] * 3


def test_hatched_caterpillars_are_normal_and_to_be_told_where_no_line_feeds_them(
    moulting: Story,
) -> None:
    told = " ".join(moulting.shell("sheet", "--to", "+2d").out.split())
    assert (
        "tiny caterpillars that leave their eggs" in told.split("Normal:")[1].split("Tick a box")[0]
    )
    assert (
        "caterpillars that hatched or sit on bare stems if no line gives them a leaf"
        in told.split("Telephone, touch nothing:")[1]
    )


@pytest.mark.parametrize(
    ("said", "low", "high"),
    [
        ("19 to 24", 19, 24),
        ("9 to 11", 9, 11),
        ("air 9.5 to 11", 9.5, 11),
        ("temperature 19 to 24", 19, 24),
        ("19/24", 19, 24),
    ],
)
def test_two_figures_with_to_between_them_are_lowest_and_highest(
    moulting: Story, said: str, low: float, high: float
) -> None:
    moulting.type(f"room {said}")
    entry = moulting.on_disk()[-1]
    assert (entry["low_c"], entry["high_c"]) == (low, high)
    assert "temperature_c" not in entry
    assert "humidity_percent" not in entry


def test_a_figure_and_one_in_percent_stay_temperature_and_humidity(moulting: Story) -> None:
    moulting.type("room 19 60%")
    entry = moulting.on_disk()[-1]
    assert (entry["temperature_c"], entry["humidity_percent"]) == (19, 60)


def test_a_moulting_cup_may_be_given_leaves_at_every_visit_until_it_may_be_opened(
    story: Story,
) -> None:
    """Three-quarters grown ones clear a stem overnight, whatever the usual rhythm of their food."""
    tell(
        story.at("2027-06-19 20:00"),
        "taxon 'Aporia crataegi'\nR2 15 L3 'Aporia crataegi' on blackthorn",
    )
    story.at("2027-06-20 06:30").type("R2 do not disturb +28h -- moulting")
    words, rows = sheet_of(story.at("2027-06-20 07:00"), "--to", "+2d")[0]["R2"]
    assert "Leaves gone? Lift the lid, touch none, set in beside them fresh blackthorn" in words
    assert [True, True, False] in rows
    # its look goes on at the visit that may open it, and says no other thing then
    assert (
        "Look from outside. Until Mon 21 Jun 18:00 do not move it, open it only for leaves."
        in words
    )


def test_bare_stems_are_telephoned_where_no_line_gives_leaves(moulting: Story) -> None:
    sheet = moulting.shell("sheet", "--to", "+2d").out
    assert "bare stems" in sheet.partition("Telephone, touch nothing")[2]


def test_eggs_that_are_left_alone_and_hatch_early_have_a_leaf_laid_beside_them(
    story: Story,
) -> None:
    tell(
        story.at("2027-06-20 06:00"),
        "taxon 'Aporia crataegi'\nE2 20 eggs 'Aporia crataegi' on blackthorn\nE2 looked darkening\n"
        "E2 do not disturb +3d",
    )
    words, rows = sheet_of(story.at("2027-06-20 07:00"), "--to", "+2d")[0]["E2"]
    assert "Look from outside. Do not move it. Open it only for leaves." in words
    assert "Some hatched, no fresh leaf in? Lift the lid, touch none, lay in beside them" in words
    assert rows == [["look"] * len(rows[0]), [True] * len(rows[0])]
