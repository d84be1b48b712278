"""A moat that reads the same twice is no moat that never empties."""

from __future__ import annotations

import json
import re

import pytest

from tests.stories.telling import Story, tell


async def test_two_equal_readings_have_a_date_when_it_is_low(story: Story) -> None:
    tell(story, "shelf set up sill moat\nK1 set up laying shelf=sill\nsill moat full 12 mm")
    story.later(days=1).type("sill moat full 12 mm")
    async with story.screens(size=(140, 40)) as screen:
        await screen.press(".", "right", "right")
        text = screen.text
    assert "moat low" in text or "low moat" in text, text


def low_days(text: str) -> tuple[float, ...]:
    """What the calculator says: low in so many days, between two limits."""
    told = re.search(r"low in\s+([\d.]+) days\s+\(([\d.]+) to ([\d.]+)", text)
    assert told, text
    return tuple(float(one) for one in told.groups())


def test_dry_days_are_no_time_without_loss(story: Story) -> None:
    """Found dry after four days, and looked at again ten days later: as fast as it read before."""
    one = story.shell("calc", "moat", "--depth", "20", "--readings", "0:20,1:15,5:0").out
    many = story.shell("calc", "moat", "--depth", "20", "--readings", "0:20,1:15,5:0,10:0,15:0").out
    assert low_days(one) == low_days(many)
    assert low_days(one)[0] < 3


async def test_a_dry_moat_is_filled_and_counted_from_then(story: Story) -> None:
    """Dry, without a depth: it is at nought; ten dry days do not make it last once it is filled."""
    tell(story, "shelf set up sill moat\nK1 set up laying shelf=sill\nsill topped up 20 mm")
    story.later(days=1).type("sill moat full 15 mm")
    story.later(days=4).type("sill moat dry")
    story.later(days=10).type("sill moat dry", "sill topped up 20 mm")
    async with story.screens(size=(140, 40)) as screen:
        await screen.press(".", "right", "right")
        text = screen.text
    found = re.search(r"moat low|low moat", text)
    assert found, text
    low = story.shell("calc", "moat", "--depth", "20", "--readings", "0:20,1:15,5:0,15:0,15:20").out
    assert low_days(low)[0] < 3


def test_topped_up_without_a_depth_is_no_time_in_which_little_was_lost(story: Story) -> None:
    """15 mm, topped up unread, 14 mm: not a millimetre in six days, which would last for weeks."""
    tell(story, "shelf set up sill moat\nK1 set up laying shelf=sill\nsill topped up 20 mm")
    story.later(days=1).type("sill moat full 15 mm", "sill topped up")
    story.later(days=5).type("sill moat full 14 mm")
    story.later(days=1).type("sill moat low 9 mm")
    moat = story.desk.bench.shelves["sill"].moat
    low = story.desk.foresight.moat(moat, story.clock.now)
    assert low is not None
    assert 3.5 < low.loss.mm_a_day < 6


def test_the_calculator_takes_the_mark_of_the_bench(story: Story) -> None:
    assert "8" in story.shell("calc", "moat", "--help").out.partition("low-mark")[2][:120]


def test_a_moat_near_its_mark_may_be_low_sooner(story: Story) -> None:
    """2 mm above the mark at 2 mm a day, all read to the millimetre: 1.5 mm at 2.4 a day is no surprise."""
    readings = "0:24,1:22,2:20,3:18,4:16,5:14,6:12,7:10"
    low_in, soonest, last = low_days(
        story.shell("calc", "moat", "--depth", "10", "--readings", readings).out
    )
    assert low_in == 1.0
    assert soonest <= 0.6
    assert last >= 1.6


async def test_the_bench_asks_by_the_earlier_limit_and_shows_both(story: Story) -> None:
    """Read at 08:00, low about 08:00 tomorrow: asked from this evening on, not at the next morning's round."""
    story.at("2027-05-01 08:00")
    tell(story, "shelf set up sill moat\nK1 set up laying shelf=sill\nsill topped up 24 mm")
    for depth in range(22, 9, -2):
        story.later(days=1).type(f"sill moat full {depth} mm")
    rows = json.loads(story.shell("due", "--json", "--within", "24h").out)["due"]
    [row] = [one for one in rows if one["check"] == "ants" and one["where"] == "sill"]
    told = re.search(
        r"moat falls to 8 mm \(low\) about Sun 0[78]:\d\d, (\d\d):\d\d at the earliest, Mon",
        str(row),
    )
    assert told, row
    assert 16 <= int(told[1]) <= 22
    async with story.screens(size=(160, 40)) as screen:
        await screen.press(".", "right", "right")
        assert re.search(r"sill moat low .*o+O+o+", screen.text), screen.text


def test_a_refill_without_a_depth_is_full(story: Story) -> None:
    """Only ever read at its low mark, then filled: how deep is not known, and it is not low."""
    tell(story, "shelf set up sill moat\nK1 set up laying shelf=sill\nsill moat ok 8 mm")
    assert "ants" in story.due("sill")
    story.later(minutes=5).type("sill topped up")
    story.later(minutes=5)
    assert "ants" not in story.due("sill")


def test_a_refill_is_as_deep_as_it_was_last_full(story: Story) -> None:
    """Filled to its mark only the time before: what it held when it was full counts."""
    tell(story, "shelf set up sill moat\nK1 set up laying shelf=sill\nsill topped up 20 mm")
    story.later(days=1).type("sill topped up 8 mm")
    story.later(minutes=1).type("sill topped up")
    story.later(minutes=5)
    assert "ants" not in story.due("sill")
    low = story.desk.foresight.moat(story.desk.bench.shelves["sill"].moat, story.clock.now)
    assert low is not None
    assert low.depth_mm == 20


@pytest.mark.parametrize(
    ("unit", "rate"), [("mm", r"1\.\d mm a day"), ("in", r"0\.0[3-8] in a day")]
)
def test_what_a_moat_loses_is_told_with_what_it_was_measured_over(
    story: Story, unit: str, rate: str
) -> None:
    """By hand: 30, 26, 22, 18 and 14 mm, three days apart: 16 mm in 12 days."""
    tell(story, "shelf set up sill moat\nK1 set up laying shelf=sill\nK1 1 female Boloria dia")
    for depth in (30, 26, 22, 18, 14):
        story.type(f"sill moat full {depth} mm")
        story.later(days=3)
    story.type(f"setting length {unit}")
    told = story.due()["ants"]["arithmetic"]
    assert re.search(rf"loss {rate} from 5 own readings over 12 days", told), told
