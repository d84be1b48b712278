"""What keeps ants off without water, and plants that stay where they grow."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
shelf set up frame sticky band
shelf set up sill moat
C2 set up rearing shelf=frame place=1
C3 set up rearing shelf=sill place=1
C4 set up rearing grease
C2 host in Rhamnus cathartica water
C3 host in Rhamnus cathartica water
C4 host in Rhamnus cathartica water
brood GON-27/A taxon='Gonepteryx rhamni'
C2 stocked 4 L3 GON-27/A
C3 stocked 4 L3 GON-27/A
C4 stocked 4 L3 GON-27/A
"""


@pytest.fixture
def bench(story: Story) -> Story:
    """A frame behind a sticky band, a sill with a moat, a cup on greased feet."""
    story.at("2027-05-01 18:00")
    tell(story, BENCH)
    return story.at("2027-05-02 07:05")


async def test_a_sticky_band_is_asked_for_what_a_band_can_be(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r")
        await screen.walk_to("ants", "frame")
        assert "How is the sticky band?" in screen.text
        for wet in ("full", "topped up", "low", "depth"):
            assert wet not in screen.text.split("How is the sticky band?")[1], wet
        await screen.press("space")
        await screen.walk_to("ants", "C4")
        assert "How is the grease?" in screen.text
        await screen.press("p")
        await screen.walk_to("ants", "sill")
        assert "depth in mm" in screen.text
    seen = [line for line in bench.on_disk() if line["what"] in ("barrier", "topped up")]
    assert [
        (line.get("shelf") or line.get("container"), line.get("state"), line.get("renewed"))
        for line in seen
    ] == [
        ("frame", "sound", None),
        ("C4", None, True),
    ]
    assert "ants" not in bench.due("frame")


def test_a_depth_of_a_sticky_band_is_refused_with_what_fits(bench: Story) -> None:
    for line in (
        "frame band full 9 mm",
        "frame band low",
        "frame topped up 20 mm",
        "C2 barrier ok 9 mm",
        "C4 grease low",
    ):
        assert "no water; say sound, dirty, dry, bridged, or renewed" in bench.refused(line)
    bench.type(
        "frame band sound",
        "C2 barrier ok",
        "frame band dusty",
        "frame renewed",
        "C4 grease sticky",
        "sill moat full 12 mm",
    )
    states = [
        line.get("state", "renewed")
        for line in bench.on_disk()
        if line["what"] in ("barrier", "topped up")
    ]
    assert states == ["sound", "sound", "dirty", "renewed", "sound", "full"]


def test_an_ant_past_the_band_is_an_alarm_until_the_band_is_renewed(bench: Story) -> None:
    bench.type("C2 2 ants above")
    assert "ants above the band" in str(bench.due("C2")["ants"])
    bench.type("frame renewed")
    assert "ants" not in bench.due("C2")
    bench.later(days=9)
    assert "washed" not in str(bench.due("frame")["ants"]), "a band is not washed like a moat"


def test_a_helper_is_not_sent_to_fill_a_sticky_band_up(bench: Story) -> None:
    bench.type("frame band sound")
    printed = bench.shell("sheet", "--to", "+2d").out
    assert "fill it up" not in printed
    assert "above the water" not in printed


async def test_a_sleeve_on_a_living_tree_asks_for_what_is_left_to_eat(bench: Story) -> None:
    bench.type("S2 set up rearing", "S2 host in Frangula alnus tree", "S2 stocked 12 L3 GON-27/A")
    bench.later(days=1)
    async with bench.screens() as screen:
        await screen.press("r")
        await screen.walk_to("food", "S2")
        assert "What is left to eat?" in screen.text
        asked = screen.text.split("What is left to eat?")[1]
        assert "changed" not in asked
        assert "new added" not in asked
        await screen.press("v")
    assert bench.on_disk()[-1]["text"] == "moved to a fresh branch"
    assert "food" not in bench.due("S2")
    assert not [line for line in bench.on_disk() if line["what"] == "host out"]


async def test_a_planted_host_of_laying_females_stays_and_does_not_grow_old(bench: Story) -> None:
    bench.type(
        "L2 set up laying",
        "L2 founder W2 Gonepteryx rhamni female",
        "L2 host in Frangula alnus planted",
    )
    bench.later(days=9)
    bench.type("L2 host seen fresh")
    bench.at("2027-05-11 18:05")
    assert bench.due("L2")["host"]["standing"] == "due", (
        "a living plant is looked at; it is not late by its cut"
    )
    async with bench.screens((120, 40)) as screen:
        assert "living" in screen.text
        await screen.press("r")
        await screen.walk_to("host", "L2")
        assert "changed" not in screen.text.split("How is the plant?")[1]
