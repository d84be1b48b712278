"""Two plants come out at one stop and eggs are found: it is asked on which, and neither is said to have borne none."""

from __future__ import annotations

import csv

import pytest

from tests.stories.telling import Screen, Story, tell


@pytest.fixture
def evening(story: Story) -> Story:
    """A female who sat with two plants for a day, and a box for stems."""
    story.at("2027-06-01 18:30")
    tell(
        story,
        """
        K3 set up laying
        S6 set up host store
        K3 founder W2 "Boloria lapidata" female
        K3 host in "Viola canina"
        K3 host in "Rubus idaeus"
        """,
    )
    return story.at("2027-06-02 18:30")


async def change_and_find(screen: Screen, answer: str) -> None:
    screen.highlight("K3")
    await screen.press("h", "c", "3", "e", "6", "enter")
    assert "on which of those that came out?" in screen.text
    assert "Viola canina" in screen.text
    assert "k not known" in screen.words
    await screen.press(answer)


async def laying_page(screen: Screen) -> dict[str, str]:
    """The row of each plant."""
    await screen.press("escape", "escape", "i")
    rows = [row.strip() for row in screen.text.splitlines()]
    return {
        name: next((row for row in rows if row.startswith(name)), "")
        for name in ("Viola canina", "Rubus idaeus")
    }


async def test_on_one_of_them(evening: Story) -> None:
    async with evening.screens((120, 40)) as screen:
        await change_and_find(screen, "1")
        rows = await laying_page(screen)
    search = next(one for one in evening.on_disk() if one["what"] == "searched")
    assert search["container"] == "S6", "they are on the stems, wherever those are kept now"
    assert search["lots"] == ["K3 A 06-02 18:30"]
    assert "40 %     6  15 (" in rows["Viola canina"], "6 found in a female-day, of 40 % found"


async def test_nobody_knows_on_which(evening: Story) -> None:
    async with evening.screens((120, 40)) as screen:
        await change_and_find(screen, "k")
        rows = await laying_page(screen)
        text = " ".join(screen.text.split())
    assert all(rows.values())
    assert not any("none" in row for row in rows.values())
    assert text.count("6 eggs more may be on it, on one of several plants, nobody knows") == 2
    assert "0 searches" not in text
    assert "p = 1.0000" not in text


async def test_none_found_is_of_all_that_came_out(evening: Story) -> None:
    async with evening.screens((120, 40)) as screen:
        screen.highlight("K3")
        await screen.press("h", "c", "3", "e", "0")
        assert "on which" not in screen.text
    search = next(one for one in evening.on_disk() if one["what"] == "searched")
    assert len(search["lots"]) == 2


async def test_one_plant_that_came_out_is_not_asked_about(story: Story) -> None:
    story.at("2027-06-01 18:30")
    tell(
        story,
        'K3 set up laying\nS6 set up host store\nK3 founder W2 "Boloria lapidata" female\nK3 host in "Viola canina"',
    )
    story.at("2027-06-02 18:30")
    async with story.screens((120, 40)) as screen:
        screen.highlight("K3")
        await screen.press("h", "c", "3", "e", "6", "enter")
        assert "on which" not in screen.text
    assert next(one for one in story.on_disk() if one["what"] == "searched")["found"] == 6


def test_the_line_typed_says_one_of_several_too(evening: Story) -> None:
    evening.type("K3 host changed willow")
    asked = evening.refused("K3 searched 6")
    assert "on which of those that came out? As: K3 searched 6 on Viola canina" in asked
    evening.type(asked.rpartition("nobody knows: ")[2])
    search = next(one for one in evening.on_disk() if one["what"] == "searched")
    assert len(search["lots"]) == 2
    file = evening.folder.parent / "laying.csv"
    assert evening.shell("export", "csv", str(file), "--table", "laying").status == 0
    with file.open(encoding="utf-8-sig") as lines:
        rows = {row["host"]: row for row in csv.DictReader(lines)}
    told = {
        plant: row["eggs per female-day"]
        for plant, row in rows.items()
        if plant in ("Viola canina", "Rubus idaeus")
    }
    assert told == {"Viola canina": "", "Rubus idaeus": ""}, (
        "no rate is said of a plant that may have borne them"
    )
