"""The neighbour's sheet, tried once more: a moulting cup is fed in time, the worst first, the full moat, eggs, the room."""

from __future__ import annotations

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
    found, warned = sheet_of(moulting, "--to", "+2d")
    words, rows = found["R3"]
    assert "Leaves gone? Only lift the lid, touch none, set in beside them fresh nettle" in words
    assert "Open, add fresh nettle" in words
    assert [True, False, False, False] in rows  # beside them, through the lid that stays shut until then
    assert [False, True, False, True] in rows  # fed as soon as it may be opened: Fri 07:00, and in danger from 11:00
    assert "in danger" not in warned


def test_the_keeper_hears_of_a_closed_cup_that_is_fed_beside_and_opened_too_late(moulting: Story) -> None:
    moulting.type("R3 leave be +35h -- moulting")
    found, warned = sheet_of(moulting, "--to", "+2d")
    assert "set in beside them" in found["R3"][0]
    assert "R3 is not to be disturbed until Fri 11 Jun 18:10, and is in danger (food) from about Fri 11 Jun 11:00" in warned


def test_the_keeper_hears_of_an_open_cup_in_danger_before_the_first_visit(moulting: Story) -> None:
    tell(moulting, "R7 set up rearing shelf B\nR7 stocked 6 L4 VAN-27-01")
    moulting.at("2027-06-11 07:40")
    warned = sheet_of(moulting, "--to", "+2d")[1]
    assert "R3 is in danger (food) from about Fri 11 Jun 11:00, before the first visit that sees to it" in warned


def test_before_leaving_danger_before_the_first_visit_comes_first_and_the_rest_as_due_has_it(moulting: Story) -> None:
    tell(moulting, "R7 set up rearing shelf B\nR7 stocked 6 L4 VAN-27-01")
    tell(moulting, "P2 set up pupation shelf B\nP2 stocked 3 pupae VAN-27-01")
    moulting.at("2027-06-11 07:40")
    warned = sheet_of(moulting, "--to", "+2d")[1].splitlines()
    named = [line.removeprefix("rounds: before you leave: ") for line in warned if "before you leave: " in line]
    assert named[:2] == ["R7 food, in danger", "R3 food, in danger from about Fri 11 Jun 11:00"]
    listed = [line.split()[:2] for line in moulting.shell("due").out.splitlines()]
    rest = [one.split(",")[0].split() for one in named[2:] if "the room" not in one]
    assert len(rest) >= 4
    assert [one for one in listed if one in rest] == rest
