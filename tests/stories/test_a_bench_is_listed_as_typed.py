"""The page of a bench that runs shows what each line repeats, and keeps its code in sight."""

from __future__ import annotations

import pytest

from rounds.app.running_bench import checked, record
from rounds.screens.running_bench_screen import TableOfCups
from tests.stories.telling import ZONE, Screen, Story


async def _typed(screen: Screen, text: str) -> None:
    await screen.pilot.press(*("space" if letter == " " else letter for letter in text))


async def test_a_plant_is_not_carried_to_another_species(story: Story) -> None:
    story.at("2027-05-26 07:10")
    async with story.screens() as screen:
        await screen.press("l")
        await _typed(screen, "K2  2 females Boloria dia  violet  Mon  sill 1")
        await screen.press("enter")
        await _typed(screen, "K3  2 females Agrotis ipsilon")
        assert "Agrotis ipsilon: on which plant?" in screen.words
        await _typed(screen, "  clover")
        assert "on which plant?" not in screen.words
        assert "K3: laying; 2 females Agrotis ipsilon; clover" in screen.words


async def test_a_bare_code_shows_what_it_repeats(story: Story) -> None:
    story.at("2027-05-26 07:10")
    async with story.screens() as screen:
        await screen.press("l")
        await _typed(screen, "K2  2 females Boloria dia  violet  Mon  sill 1")
        await screen.press("enter")
        await _typed(screen, "K3")
        assert "K3: laying; 2 females Boloria dia; violet" in screen.words
        await screen.press("enter")
        row = screen.app.screen.query_one(TableOfCups).document[1]
        assert row.split() == ["K3", "same", "same", "same", "same"]


async def test_several_codes_without_a_place_show_no_commas_of_nothing(story: Story) -> None:
    story.at("2027-05-26 07:10")
    async with story.screens() as screen:
        await screen.press("l")
        await _typed(screen, "E1-E4  20 eggs Boloria dia")
        assert "since 07:10" in screen.words
        assert ", ," not in screen.words
        assert "07:10;" not in screen.words


async def test_the_code_of_a_long_row_stays_in_sight(story: Story) -> None:
    story.at("2027-05-26 07:10")
    async with story.screens() as screen:
        await screen.press("l")
        await _typed(screen, f"K2  2 females Boloria dia  {'sweet violet ' * 4} Mon  window sill 1")
        table = screen.text.split("code")[1]
        assert any(row.startswith(" K2") for row in table.splitlines())


def test_what_is_said_of_a_female_before_her_sex_is_a_note(story: Story) -> None:
    story.at("2027-05-26 07:10").type("L4 1 gravid female Boloria dia on violet")
    kinds = {entry["what"]: entry for entry in story.on_disk()}
    assert kinds["founder"]["taxon"] == "Boloria dia"
    assert kinds["note"]["text"] == "gravid"


async def test_a_gravid_female_is_listed_with_her_note(story: Story) -> None:
    story.at("2027-05-26 07:10")
    async with story.screens() as screen:
        await screen.press("l")
        await _typed(screen, "K2  1 gravid female Boloria dia  violet  Mon  sill 1")
        await screen.press("f10")
    assert any(entry.get("text") == "gravid" for entry in story.on_disk())


async def test_a_long_list_says_how_many_were_saved_and_how_to_undo(story: Story) -> None:
    story.at("2027-05-26 07:10")
    async with story.screens() as screen:
        await screen.press("l")
        await _typed(screen, "E1-E12  20 eggs Boloria dia")
        await screen.press("f10")
        assert "saved 12 containers, u takes all back" in screen.words
        await screen.press("u")
    assert "E1" not in story.desk.bench.containers


@pytest.mark.parametrize(
    "row",
    [
        "K2  2 females Boloria dia  violet  Mon  by the window",
        "K2  2 females Boloria dia  violet  by the window  Mon",
        "K2  2 females Boloria dia  by the window  Mon  violet",
        "K2  2 females Boloria dia on violet by the window  Mon",
        "K2  2 females Boloria dia  violet by the window",
    ],
)
async def test_where_a_cup_stands_becomes_no_plant(story: Story, row: str) -> None:
    story.at("2027-05-26 07:10")
    async with story.screens() as screen:
        await screen.press("l")
        await _typed(screen, row)
        await screen.press("f10")
    container = story.desk.bench.containers["K2"]
    assert [host.plant for host in container.hosts] == ["violet"]
    assert container.shelf == "by the window"


@pytest.mark.parametrize(
    "place", ["back corner", "in a drawer", "under the table", "next to the lamp"]
)
async def test_a_place_without_a_plant_is_a_place(story: Story, place: str) -> None:
    story.at("2027-05-26 07:10")
    async with story.screens() as screen:
        await screen.press("l")
        await _typed(screen, f"E2  20 eggs Boloria dia  {place}")
        await screen.press("f10")
    assert story.desk.bench.containers["E2"].shelf == place
    assert not story.desk.bench.containers["E2"].hosts


@pytest.mark.parametrize(
    ("line", "shelf"),
    [
        ("K7 2 females Boloria dia on violet by the window", "by the window"),
        ("K7 set up laying shelf='back corner'", "back corner"),
    ],
)
def test_the_prompt_takes_the_same_places(story: Story, line: str, shelf: str) -> None:
    story.type(line)
    assert story.desk.bench.containers["K7"].shelf == shelf
    assert "violet" not in shelf


def test_the_prompt_makes_no_plant_of_a_place(story: Story) -> None:
    story.type("K7 set up laying")
    asked = story.refused("K7 host in back corner")
    assert "reads like a place" in asked
    asked = story.refused("K7 by the window")
    story.type("K7 changed shelf='by the window'")
    assert "K7 changed shelf='by the window'" in asked
    assert story.desk.bench.containers["K7"].shelf == "by the window"


def test_stems_that_are_kept_are_listed_as_such(story: Story) -> None:
    table = checked(story.desk, "S2  5 kept stems viola\nS3\nS4  old stems  clover")
    assert not table.troubles
    assert "S2: eggs; kept stems: 5 viola" in table.rows[0].words(story.clock.now, ZONE)
    record(story.desk, table)
    kept = {cup.code: [(one.plant, one.sprigs) for one in cup.held] for cup in story.desk.bench.standing()}  # fmt: skip
    assert kept == {"S2": [("viola", 5)], "S3": [("viola", 5)], "S4": [("clover", None)]}


def test_an_empty_cup_is_asked_what_it_is_for(story: Story) -> None:
    (asked,) = checked(story.desk, "W3  empty").troubles
    assert (asked.line, asked.mended) == (
        "empty, and meant for what? Is it rearing?",
        "W3  rearing",
    )
    (stems,) = checked(story.desk, "S2  5 kept stems").troubles
    assert stems.line == "stems of which plant? As: S2  5 kept stems viola"
