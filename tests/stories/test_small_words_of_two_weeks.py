"""Small things a keeper of two weeks met: whose hatch, which plant went in, a cold garden at dawn, a shelf that was never set up."""

from __future__ import annotations

from tests.stories.telling import Story


def test_two_broods_in_a_cup_say_whose_hatch_is_expected(story: Story) -> None:
    story.at("2027-05-14 18:00").type(
        "room 18/24", "E2 10 eggs Pieris napi", "E2 9 eggs Anthocharis cardamines"
    )
    story.later(hours=60)
    printed = "\n".join(story.plain(["18/24", "q"]))
    assert "Expected: hatch of PIE-27-01 " in printed
    assert "Expected: hatch of ANT-27-01 " in printed


def test_a_leaf_that_went_in_is_named(story: Story) -> None:
    story.at("2027-05-14 18:00").type("room 18/24", "E2 10 eggs Pieris napi")
    story.type("E2 host in garlic mustard")
    for _ in range(8):
        if "leaf" in story.later(hours=12).due("E2"):
            break
    printed = "\n".join(story.plain(["18/24", "q"]))
    leaf = next(line for line in printed.splitlines() if " leaf: " in line)
    assert "no leaf put in yet" not in leaf
    assert "garlic mustard put in" in leaf, leaf


def test_a_garden_is_cold_by_night_and_nobody_is_asked_then(story: Story) -> None:
    story.at("2027-05-14 18:00").type(
        "shelf garden outdoors", "K2 set up laying shelf=garden", "K2 2 females Pieris napi"
    )
    story.at("2027-05-15 07:10").type("shelf garden 7/15")
    assert "heat" not in story.due()
    story.at("2027-05-15 14:00").type("shelf garden 12")
    assert "too cold to lay" in story.due()["heat"]["arithmetic"]


def test_a_room_is_asked_about_at_any_hour(story: Story) -> None:
    story.at("2027-05-14 18:00").type("K2 2 females Pieris napi")
    story.at("2027-05-15 07:10").type("room 7/15")
    assert "too cold to lay" in story.due()["heat"]["arithmetic"]


def test_a_shelf_that_was_only_named_is_set_up_first(story: Story) -> None:
    story.at("2027-05-14 18:00").type("K2 2 females Pieris napi", "K2 changed shelf=sill")
    assert "shelf set up sill barrier=moat" in story.refused("barrier full shelf=sill")
    story.type("shelf set up sill barrier=moat", "barrier full shelf=sill")


def test_a_laying_cup_is_a_cup_and_no_note(story: Story) -> None:
    assert "note" not in story.at("2027-05-14 18:00").type("L1 laying cup")[0]
    assert "note 'sleeve'" in story.type("L2 set up laying sleeve")[0]


async def test_kept_stems_of_two_plants_fit_the_screen(story: Story) -> None:
    story.at("2027-05-14 18:00").type(
        "room 18/24", "K2 2 females Anthocharis cardamines on garlic mustard, cuckooflower"
    )
    story.later(hours=14).type("K2 drank", "K2 searched 0")
    story.type("K2 host out all held in new E2")
    story.later(days=9)
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("frass", "E2")
        rows = screen.text.splitlines()
    head = next(at for at, row in enumerate(rows) if "kept since" in row)
    table = rows[head : head + 5]
    assert "keep until" in table[0]
    assert any("cuckooflower" in row for row in table)
    assert [row for row in table if row.split()[:2] == ["1", "K2"]], table
    assert all(len(row) <= 79 for row in table)
