"""At a hatch food is as old as the plant that it is: an old stem is no fresh leaf because somebody hatched on it."""

from __future__ import annotations

from datetime import datetime, timedelta

from tests.stories.telling import Story, tell

EGGS = """
    room air 24C
    E3 set up eggs
    brood ICA-27/A taxon='Polyommatus icarus'
    E3 host in Lotus corniculatus water
    E3 stocked 20 eggs ICA-27/A
"""


def at(story: Story, check: str, hours: str) -> datetime:
    return datetime.fromisoformat(story.due("E3")[check][hours])


def test_larvae_that_hatch_on_an_old_stem_are_due_for_food_at_once(story: Story) -> None:
    tell(story.at("2027-06-01 08:00"), EGGS)
    story.at("2027-06-06 08:00").type("E3 hatched 20")
    food = story.due("E3")["food"]
    assert food["state"] == "due"
    hatch = story.clock.now
    assert at(story, "food", "amber") - hatch == timedelta(hours=6), "as if none were in"
    assert at(story, "food", "harm") - hatch == timedelta(hours=24)
    story.type("E3 host in Lotus corniculatus tender leaf")
    assert "food" not in story.due("E3")


def test_larvae_that_hatch_on_one_cut_yesterday_are_fed_from_the_cut(story: Story) -> None:
    tell(story.at("2027-06-01 08:00"), EGGS)
    story.at("2027-06-05 20:00").type("E3 host in Lotus corniculatus tender leaf")
    story.at("2027-06-06 08:00").type("E3 hatched 20")
    assert "food" not in story.due("E3")
    story.later(hours=12, minutes=5)
    assert story.due("E3")["food"]["state"] == "due", "a day after the cut, not after the hatch"
    assert at(story, "food", "harm") == datetime.fromisoformat("2027-06-07T20:00:00+02:00")


def test_a_growing_plant_has_no_age(story: Story) -> None:
    tell(story.at("2027-06-01 08:00"), EGGS.replace("water", "planted"))
    story.at("2027-06-06 08:00").type("E3 hatched 20")
    assert "food" not in story.due("E3")


def test_larvae_brought_to_a_plant_have_it_from_then(story: Story) -> None:
    tell(story.at("2027-06-01 08:00"), EGGS)
    story.type("H2 set up hatchlings", "H2 host in Lotus corniculatus water")
    story.at("2027-06-02 08:00").type("H2 stocked 3 L1 ICA-27/A", "H3 set up hatchlings")
    story.type("H3 host in Lotus corniculatus cut 2 Jun 07:00")
    story.type("H2 moved 3 to H3")
    assert "food" not in story.due("H3")


async def test_a_leaf_is_asked_before_the_hatch_though_an_old_stem_is_in(story: Story) -> None:
    tell(story.at("2027-06-01 08:00"), EGGS)
    rows = []
    for _ in range(12):
        if "leaf" in story.later(hours=12).due("E3"):
            rows.append(story.clock.now)
    assert rows, "asked before the first may hatch"
    story.at(f"{rows[0]:%Y-%m-%d %H:%M}")
    assert "the plant in it is old" in story.due("E3")["leaf"]["arithmetic"]
    async with story.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("leaf", "E3")
        assert "The first may hatch before the next round" in screen.words
        await screen.press("a")
    assert story.on_disk()[-1]["part"] == "tender leaf"
    assert "leaf" not in story.due("E3")
    assert "leaf" not in story.later(hours=24).due("E3"), "it lasts two days"


def test_the_round_ends_by_saying_that_only_an_old_plant_is_in(story: Story) -> None:
    tell(story.at("2027-06-01 08:00"), EGGS)
    told = []
    for _ in range(12):
        story.later(hours=12)
        told += story.plain(["-", "m"] * 30)
    assert any("only an old plant is in: a tender leaf?" in one for one in told), told[-20:]
