"""Feeder, intruders, kept lots by number and pairs in a keeper's own words; and what the numbers and dates beside them say."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
    K2 2 females Iolana iolas on Colutea
    R4 5 L3 Iolana iolas on Colutea
    M8 set up pairing
    M8 1 female Iolana iolas
    E7 set up eggs
    K2 swab changed
"""


@pytest.fixture
def bench(story: Story) -> Story:
    tell(story.at("2027-06-01 07:05"), BENCH)
    return story.later(hours=5)


@pytest.mark.parametrize("state", ["dry", "empty", "mouldy", "sour"])
def test_a_feeder_that_failed_is_late_at_once_until_it_is_changed(bench: Story, state: str) -> None:
    assert "feeder" not in bench.due("K2")
    bench.type(f"K2 feeder {state}")
    due = bench.due("K2")["feeder"]
    assert due["state"] == "late"
    assert f"feeder seen {state.replace('empty', 'dry')}" in due["arithmetic"]
    bench.type("K2 new swab")
    assert "feeder" not in bench.due("K2")


@pytest.mark.parametrize(
    "line",
    ["K2 feeder wasp", "K2 a wasp at the feeder", "K2 intruder wasp", "K2 wasp in cup 20 min ago"],
)
def test_what_came_in_is_an_intruder_and_its_name_a_note(bench: Story, line: str) -> None:
    bench.type(line)
    looked, note = bench.on_disk()[-2:]
    assert (looked["sign"], note["what"]) == ("intruder", "note")
    assert "wasp" in note["text"]
    assert "ago" not in note["text"]


def test_it_is_gone_again(bench: Story) -> None:
    bench.type("R4 intruder spider", "R4 spider gone")
    assert bench.desk.bench.containers["R4"].sign == "as usual"


@pytest.mark.parametrize(
    "line",
    [
        "K2 kept lot 2 moved to E7",
        "K2 lot 2 to E7",
        "move K2 lot 2 to E7",
        "K2 second lot to E7",
        "K2 newest lot put in E7",
        "lot 2 of K2 to E7",
    ],
)
def test_one_of_several_kept_lots_is_moved_in_words(bench: Story, line: str) -> None:
    for _ in range(2):
        bench.later(hours=20).type("K2 host out held", "K2 host in Colutea")
    bench.type(line)
    cups = bench.desk.bench.containers
    assert [held.batch for held in cups["E7"].held] == ["B"]
    assert [held.batch for held in cups["K2"].held] == ["A"]


def test_a_pair_of_which_one_is_there_is_asked_about(bench: Story) -> None:
    her = bench.desk.bench.containers["M8"].lots[0].brood
    asked = bench.refused("M8 paired")
    assert f"M8 holds {her} on record, and no male" in asked
    assert f"M8 paired {her} with wild" in asked
    bench.type("M8 paired with wild")
    assert bench.on_disk()[-1]["female"] == her


def test_three_that_did_not_move_are_three_when_nothing_has_changed(bench: Story) -> None:
    bench.type("R4 3 not moving")
    bench.later(hours=49)
    assert "still" in bench.due("R4")
    bench.type("R4 not moving")
    assert bench.desk.bench.containers["R4"].sign_left == 3


async def test_the_day_of_what_was_said_before_stands_apart(bench: Story) -> None:
    bench.at("2027-06-12 07:05")
    async with bench.screens(size=(80, 24)) as screen:
        await screen.press("r")
        await screen.walk_to("look", "R4")
        assert "1 Jun 07:05  " in screen.text


def test_a_plant_that_nobody_said_is_not_on_record(story: Story) -> None:
    story.type("R4 5 L3 Iolana iolas")
    printed = " ".join(story.later(hours=24).plain(["-", "m"] * 20))
    assert "lant not on record" in printed
    assert "Host plant:" not in printed


def test_a_second_plant_is_not_said_to_bear_what_was_found_on_the_first(bench: Story) -> None:
    bench.type("K2 host in Astragalus", "K2 searched 5 on Colutea")
    assert "on record in K2" not in bench.preview("K2 host out Astragalus held in E7")
    assert "5 eggs stay on record in K2" in bench.preview("K2 host out Colutea held in E7")


def test_eggs_typed_after_two_plants_came_out_are_asked_on_which(bench: Story) -> None:
    bench.type("K2 host in Astragalus", "K2 host out both held in E7")
    asked = bench.refused("K2 searched 3")
    assert "3 found: on which of those that came out?" in asked
    assert "K2 searched 3 on Astragalus" in asked
    assert "E7 searched 3 lot=1,2" in asked
    bench.type("K2 searched 3 on Astragalus", "K2 searched 0")
    found = next(one for one in bench.on_disk() if one.get("found") == 3)
    assert found["container"] == "E7"
    assert len(found["lots"]) == 1
    bench.type("E7 searched 2 lot=1,2")


def test_eggs_on_a_plant_that_went_to_a_cup_are_on_that_plant_and_in_that_cup(bench: Story) -> None:
    bench.type("K2 4 eggs on Colutea, put in E7")
    search = next(one for one in bench.on_disk() if one["what"] == "searched")
    assert (search["plant"], search.get("where", "")) == ("Colutea", "")
    assert bench.desk.bench.containers["E7"].count("egg") == 4


def test_changed_alone_is_asked_what_and_a_plant_behind_it_is_the_plant(bench: Story) -> None:
    asked = bench.refused("K2 changed")
    assert asked.startswith("what was changed? As: K2 host changed; K2 swab changed; K2 changed")
    bench.type("K2 changed Colutea")
    assert bench.on_disk()[-1]["what"] == "host in"
    bench.type("K2 changed lid=gauze")


def test_a_drink_and_a_search_are_two_lines(bench: Story) -> None:
    assert "one thing a line" in bench.refused("K2 drank, no eggs")


def test_an_ant_in_a_cup_behind_the_moat_of_its_shelf_is_told_of_the_cup_too(bench: Story) -> None:
    bench.type("shelf set up sill moat", "K2 on sill", "K2 ant in cup")
    barrier, note = bench.on_disk()[-2:]
    assert (barrier["shelf"], barrier["ants_above"]) == ("sill", 1)
    assert (note["container"], note["text"]) == ("K2", "ant in cup")
    bench.type("K2 ants in")
    barrier, note = bench.on_disk()[-2:]
    assert (barrier["shelf"], barrier["state"]) == ("sill", "breached")
    assert (note["container"], note["text"]) == ("K2", "ants in")
    bench.type("K2 2 ants in")
    bench.type("sill topped up 18")
    assert bench.due("K2")["ants"]["state"] == "urgent", "until it was seen without"
    bench.type("sill moat full")
    assert "ants" not in bench.due("K2")
