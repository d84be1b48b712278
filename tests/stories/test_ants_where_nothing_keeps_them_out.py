"""Ants in a cup that has no barrier on record: as urgent as anywhere, until they are seen gone or a barrier stands."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
    R5 set up rearing
    R5 host in Salix caprea water
    brood PAV-27/A taxon='Saturnia pavonia'
    R5 stocked 4 L3 PAV-27/A
    R6 set up rearing lid=net barrier="closed lid"
    R6 stocked 4 L3 PAV-27/A
    shelf set up sill
    shelf set up frame moat
    R7 set up rearing shelf=frame
    R7 stocked 4 L3 PAV-27/A
"""


@pytest.fixture
def bench(story: Story) -> Story:
    """A cup without any barrier, one with a lid that should keep ants out, one behind a moat."""
    tell(story.at("2027-05-01 18:00"), BENCH)
    return story.at("2027-05-02 07:05")


@pytest.mark.parametrize(
    "line",
    [
        "R5 2 ants above",
        "R5 ants seen",
        "R5 ants",
        "R5 2 ants",
        "R5 ants in the cup",
        "2 ants in R5",
        "R5 ants below",
        "R5 intruder ants",
        "R6 ants in it",
        "sill ants",
        "sill 3 ants",
    ],
)
def test_ants_are_urgent_at_once_wherever_they_are(bench: Story, line: str) -> None:
    place = "sill" if "sill" in line else "R6" if "R6" in line else "R5"
    bench.type(line)
    due = bench.due(place)["ants"]
    assert due["state"] == "urgent"
    assert "ants" in due["arithmetic"]
    assert "breached" not in due["arithmetic"]


@pytest.mark.parametrize("line", ["R5 no ants", "R5 ants gone", "R5 ants away"])
def test_they_are_over_when_they_were_seen_gone(bench: Story, line: str) -> None:
    bench.type("R5 ants seen")
    bench.later(hours=1).type("R5 misted")
    assert "ants" in bench.due("R5")
    assert bench.later(hours=1).type(line) == ["R5 no ants"]
    assert "ants" not in bench.due("R5")


def test_a_barrier_that_stands_ends_it_until_one_is_seen_again(bench: Story) -> None:
    bench.type("R5 2 ants", "sill ants seen")
    assert "R5 has no barrier on record; first: R5 changed barrier=moat" in bench.refused(
        "R5 moat full"
    )
    bench.later(hours=1).type("R5 changed barrier=moat", "shelf set up sill moat")
    assert bench.due("R5").get("ants", {}).get("state") != "urgent"
    assert bench.due("sill").get("ants", {}).get("state") != "urgent"
    bench.later(hours=1).type("R5 1 ant above")
    assert bench.due("R5")["ants"]["state"] == "urgent"


def test_behind_a_moat_it_is_still_asked_how_that_stands(bench: Story) -> None:
    for line in ("R7 ants seen", "R7 no ants", "R7 ants below"):
        assert "how does the moat stand" in bench.refused(line)
    assert "say how the moat stands, as: frame barrier dirty" in bench.refused("R7 barrier no ants")


async def test_the_question_is_one_that_fits_a_cup_without_a_barrier(bench: Story) -> None:
    bench.type("R5 2 ants")
    async with bench.screens() as screen:
        await screen.press("r")
        await screen.walk_to("ants", "R5")
        assert "No barrier is on record" in screen.words
        for wet in ("topped up", "depth", "full"):
            assert wet not in screen.text.split("Ants there?")[-1], wet
        await screen.press("a")
        assert bench.due("R5")["ants"]["state"] == "urgent"
        await screen.walk_to("ants", "R5")
        await screen.press("0")
    assert "ants" not in bench.due("R5")
    assert bench.on_disk()[-1]["state"] == "no ants"


async def test_a_barrier_may_be_set_from_the_question(bench: Story) -> None:
    bench.type("R5 2 ants")
    async with bench.screens() as screen:
        await screen.press("r")
        await screen.walk_to("ants", "R5")
        await screen.press("b", "enter")
    assert bench.on_disk()[-1]["barrier"] == "moat"
    assert bench.due("R5").get("ants", {}).get("state") != "urgent"


def test_the_bench_says_it_and_the_sheet_does_not_ask_for_water(bench: Story) -> None:
    bench.type("R5 2 ants")
    assert bench.shell("due").out.startswith("R5          barrier   urgent")
    printed = bench.shell("sheet", "--to", "+2d").out
    assert "Ants were seen here" in printed
    assert printed.count("Fill its water") == 1, "of the frame's moat alone"


@pytest.mark.parametrize(("line", "state"), [("12 mm", "full"), ("5 mm", "low"), ("0 mm", "dry")])
def test_a_depth_alone_says_how_the_moat_stands(bench: Story, line: str, state: str) -> None:
    bench.type(f"R7 moat {line}")
    assert bench.on_disk()[-1]["state"] == state
