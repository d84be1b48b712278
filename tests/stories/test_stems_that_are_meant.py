"""Stems that leave are those that are meant: by batch letter, by lot number, in a keeper's own words; else it is asked."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, shown, tell

TWO = """
K2 set up laying
K2 founder W3 "Callophrys montana"
B2 set up eggs
B3 set up eggs
K2 host in Vaccinium 3 sprigs
K2 host in Genista 5 sprigs
"""


def two_plants(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, TWO)


def three_lots(story: Story) -> None:
    """Three lots kept in K2 itself, and no fresh plant."""
    two_plants(story)
    story.later(hours=24).type("K2 host out")
    story.later(hours=24).type("K2 host in Vaccinium 4 sprigs")
    story.later(hours=24).type("K2 host out")


@pytest.mark.parametrize("letter", ["A", "a", "batch=A"])
async def test_a_batch_letter_is_the_batch(story: Story, letter: str) -> None:
    two_plants(story)
    line = f"K2 host out {letter} held_in=B2"
    assert "batch A, plant Vaccinium, kept in B2, stems 3" in story.preview(line)
    assert story.type(line) == ["K2 host out: Vaccinium A, kept in B2, 3 stems"]
    assert "Vaccinium A from K2, 3 stems" in await shown(story, "B2")
    assert "Genista" in await shown(story, "K2")
    assert "K2 has no such host; it has Genista B" in story.refused("K2 host out D held_in=B2")


async def test_a_batch_letter_is_the_kept_lot_if_nothing_stands(story: Story) -> None:
    three_lots(story)
    story.type("K2 host out B held_in=B2")
    text = await shown(story, "B2")
    assert "Genista B from K2, 5 stems" in text
    assert "Vaccinium" not in text


def test_what_goes_is_named_plant_by_plant(story: Story) -> None:
    two_plants(story)
    told = story.type("K2 host out held_in=B2")[0]
    assert "Vaccinium A, kept in B2, 3 stems" in told
    assert "Genista B, kept in B2, 5 stems" in told


def test_the_fresh_plant_is_not_taken_for_the_kept_stems(story: Story) -> None:
    three_lots(story)
    story.type("K2 host in Vaccinium 4 sprigs")
    for line in ("K2 host out held_in=B2", "K2 host out Vaccinium held_in=B2"):
        asked = story.refused(line)
        assert "K2 has Vaccinium D standing in it and kept stems; say which" in asked
        assert "K2 host out Vaccinium D kept_in=B2, or K2 kept stems to B2" in asked
    assert "Vaccinium A from K2, 3 stems" in story.type("K2 kept stems to B2")[0]
    assert "Vaccinium D" in story.type("K2 host out Vaccinium D held_in=B2")[0]


@pytest.mark.parametrize(
    "line",
    [
        "K2 kept stems to B2",
        "move K2 stems to B2",
        "K2 moved stems to B2",
        "K2 host out lots=1-3 held_in=B2",
    ],
)
async def test_kept_stems_moved_in_words(story: Story, line: str) -> None:
    three_lots(story)
    assert (
        "lot 1, Vaccinium A from K2, 3 stems; lot 2, Genista B from K2, 5 stems; lot 3"
        in story.type(line)[0]
    )
    text = await shown(story, "B2")
    assert "Genista B from K2, 5 stems" in text
    assert "Vaccinium C from K2, 4 stems" in text


@pytest.mark.parametrize(
    "line",
    ["K2 kept stems lot 2 to B2", "move K2 stems lot 2 to B2", "K2 host out lot=2 held_in=B2"],
)
async def test_one_kept_lot_moved_in_words(story: Story, line: str) -> None:
    three_lots(story)
    story.type(line)
    assert "Genista B from K2, 5 stems" in await shown(story, "B2")
    assert "Genista" not in await shown(story, "K2")


def test_no_kept_stems_is_said(story: Story) -> None:
    two_plants(story)
    assert "K2 has no kept stems" in story.refused("K2 kept stems to B2")
    assert "kept_in=" in story.refused("K2 closed") or "W3" in story.refused("K2 closed")


async def test_a_lot_keeps_its_number_as_long_as_it_is_there(story: Story) -> None:
    three_lots(story)
    story.type("K2 host out lot=2 held_in=B2")
    text = await shown(story, "K2")
    assert "lot 1" in text
    assert "lot 3" in text
    assert "lot 2" not in text
    assert "lot=1 (Vaccinium A from K2), lot=3 (Vaccinium C from K2)" in story.refused(
        "K2 frass trace lot=2"
    )
    assert "K2 C" in story.type("K2 frass trace lot=3")[0]
    story.later(hours=30)
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("frass", "K2")
        await screen.press("3")
    assert story.on_disk()[-1]["lots"] == ["K2 C 05-04 08:00"]


def test_eggs_found_on_stems_that_move_go_with_them(story: Story) -> None:
    three_lots(story)
    story.type("K2 kept stems to B2", "B2 searched 3 lot=2")
    told = story.type("B2 kept stems lot 2 to B3")[0]
    assert "B2 moved 3 eggs" in told
    assert "stay" not in told
    assert [story.desk.bench.containers[code].count("egg") for code in ("B2", "B3")] == [0, 3]


def test_a_plant_that_is_not_there_is_not_seen(story: Story) -> None:
    two_plants(story)
    assert "K2 has no A; it has Vaccinium A, Genista B" in story.refused("K2 host seen A limp")


def test_stems_that_go_into_a_box_are_told_by_the_number_they_get_there(story: Story) -> None:
    story.at("2027-06-01 08:00").type("K6 set up laying", "E5 set up eggs")
    story.type("K6 1 female Pieris napi on garlic mustard")
    for hour, number in ((18, 1), (20, 2)):
        story.at(f"2027-06-01 {hour}:00").type("K6 host changed, old kept")
        assert f"(lot {number}, garlic mustard" in story.type("K6 kept stems to E5")[0]
    held = story.desk.bench.at("E5").held
    assert [(lot.number, lot.batch) for lot in held] == [(1, "A"), (2, "B")]
