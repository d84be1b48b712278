"""What is seen to be wrong once more is wrong since it was first seen: saying it again makes it no younger."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
shelf set up sill barrier=moat
L2 set up laying on sill
L2 2 females Boloria dia on violet
L2 feeder changed
"""


@pytest.fixture
def bench(story: Story) -> Story:
    """A laying cup on a sill with a moat."""
    story.at("2027-05-03 07:00")
    tell(story, BENCH)
    return story


async def test_a_moat_that_stays_low_becomes_urgent(bench: Story) -> None:
    bench.type("sill moat low")
    for when in ("2027-05-03 18:05", "2027-05-04 07:05", "2027-05-04 18:05", "2027-05-05 07:05"):
        bench.at(when)
        async with bench.screens() as screen:
            await screen.press("r")
            await screen.walk_to("ants", "sill")
            assert "low as before" in screen.text
            await screen.press("space")
        assert bench.due("sill")["ants"]["state"] == ("urgent" if when[8:10] == "05" else "late")
    row = bench.due("sill")["ants"]
    assert "since Mon 07:00, still so 07:05" in row["arithmetic"]
    assert row["last"].startswith("it was last recorded 07:05: barrier")


def test_a_dry_moat_said_dry_again_stays_in_danger(bench: Story) -> None:
    bench.type("sill moat dry")
    bench.later(hours=3)
    assert bench.due("sill")["ants"]["state"] == "in danger"
    bench.type("sill moat dry")
    assert bench.due("sill")["ants"]["state"] == "in danger"
    bench.type("sill moat topped up")
    assert "ants" not in bench.due("sill")
    bench.later(hours=20).type("sill moat dry")
    assert bench.due("sill")["ants"]["state"] == "urgent"


def test_ants_still_there_are_in_danger_still(story: Story) -> None:
    story.at("2027-05-03 07:00").type("L4 set up laying", "L4 2 females Boloria dia on violet")
    story.type("L4 ants seen")
    story.later(hours=3).type("L4 ants seen")
    assert story.due("L4")["ants"]["state"] == "in danger"


async def test_the_late_list_says_when_a_shelf_was_seen_last(bench: Story) -> None:
    bench.type("sill moat low")
    bench.later(hours=11).type("sill moat low")
    async with bench.screens(size=(120, 40)) as screen:
        await screen.press("v")
        row = next(one for one in screen.text.splitlines() if "shelf sill" in one)
        assert "never" not in row


def test_a_feeder_dry_again_is_dry_since_it_was_seen_dry(bench: Story) -> None:
    bench.later(hours=3).type("L2 feeder dry")
    first = bench.due("L2")["feeder"]["amber"]
    bench.later(hours=8).type("L2 feeder dry")
    assert bench.due("L2")["feeder"]["amber"] == first
    bench.type("L2 feeder changed")
    assert "feeder" not in bench.due("L2")
