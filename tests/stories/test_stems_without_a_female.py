"""The last female is gone: the stems that she sat on are searched once more, taken out and kept, and not cut anew."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

LAID = """
taxon 'Saturnia montis' short=montis instars=5
K4 set up laying
E2 set up eggs
K4 founder W6 'Saturnia montis' sex=female
brood A-3 mothers=W6
K4 host in "Frangula alnus" batch=C sprigs=3
"""


@pytest.fixture
def laid(story: Story) -> Story:
    story.at("2027-05-01 07:00")
    tell(story, LAID)
    story.at("2027-05-02 06:00").type("K4 searched 0")
    return story.at("2027-05-03 05:00")


@pytest.mark.parametrize(
    "line", ["K4 died", "K4 released 1 at heath", "K4 escaped 1", "K4 missing 1"]
)
def test_a_search_is_asked_for_once_she_is_gone(laid: Story, line: str) -> None:
    laid.type(line)
    laid.at("2027-05-04 05:30")
    assert laid.due("K4")["eggs"]["standing"] in ("late", "red")
    laid.type("K4 searched 0")
    assert "eggs" not in laid.due("K4")
    laid.at("2027-05-06 07:30")
    assert "eggs" not in laid.due("K4")
    assert "search, then take out and keep" in str(laid.due("K4")["host"])


def test_moved_away_and_a_male_left_behind_is_the_same(laid: Story) -> None:
    tell(
        laid,
        "K5 set up laying\nK4 founder M6 'Saturnia montis' sex=male\nK4 moved 1 to K5 brood=W6",
    )
    laid.at("2027-05-04 05:30")
    assert "eggs" in laid.due("K4")


def test_searched_as_she_was_found_dead_is_searched(laid: Story) -> None:
    laid.type("K4 searched 0")
    laid.later(minutes=5).type("K4 died")
    laid.at("2027-05-04 07:30")
    assert "eggs" not in laid.due("K4")


async def test_one_key_takes_them_out_and_keeps_them(laid: Story) -> None:
    laid.type("K4 died")
    laid.at("2027-05-03 07:00")
    async with laid.screens((100, 30)) as screen:
        await screen.press("r")
        await screen.walk_to("eggs", "K4")
        await screen.press("0")
        await screen.walk_to("host", "K4")
        assert "No female is here any more" in screen.text
        assert "out and kept" in screen.text
        await screen.press("v")
    container = laid.desk.bench.at("K4")
    keeper = laid.desk.bench.at("E2")
    assert container is not None
    assert keeper is not None
    assert container.hosts == []
    assert [(held.plant, held.sprigs, len(held.searches)) for held in keeper.held] == [
        ("Frangula alnus", 3, 1)
    ]
    laid.at("2027-05-24 20:00")
    assert "frass" in laid.due("E2")
    assert not laid.due("K4")


async def test_nothing_is_cut_for_an_empty_cup(laid: Story) -> None:
    async with laid.screens((100, 40)) as screen:
        await screen.press("k")
        assert "K4 holds 3 now" in screen.text
    laid.type("K4 died")
    async with laid.screens((100, 40)) as screen:
        await screen.press("k")
        assert "K4 holds 3 now" not in screen.text


def test_stems_on_which_no_female_sat_are_not_asked_for(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, 'K4 set up laying\nK4 host in "Frangula alnus" batch=C sprigs=3')
    story.at("2027-05-04 05:30")
    assert "eggs" not in story.due("K4")


def test_no_host_is_urgent_by_its_age_where_nobody_lays(laid: Story) -> None:
    laid.type("K4 died")
    laid.later(hours=1).type("K4 searched 0")
    laid.at("2027-05-08 08:00")
    due = laid.due("K4")["host"]
    assert due["standing"] == "late"
    assert due["red"] is None
    assert "no female here any more" in due["arithmetic"]
    laid.type("K4 host seen fresh")
    assert "host" not in laid.due("K4")
    laid.later(hours=36).type("K4 host seen mouldy")
    assert laid.due("K4")["host"]["standing"] in ("late", "red"), "eggs on it go with it"


def test_a_plant_that_waits_for_a_female_is_not_asked_about(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, 'K4 set up laying\nK4 host in "Frangula alnus" 3 sprigs')
    story.at("2027-05-08 08:00")
    assert story.due("K4") == {}
    story.type("K4 founder W6 'Saturnia montis' female")
    assert story.due("K4")["host"]["standing"] == "red", (
        "she is to lay on it now, and it is a week old"
    )
