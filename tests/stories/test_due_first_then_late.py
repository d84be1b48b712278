"""A check that begins is due first and late only some hours after that, whenever its cup was set up
or listed, and its hours count from when it began to apply."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from typing import Any

import pytest

from tests.stories.telling import Story

LISTED = """\
K2  2 females Leptidea sinapis  vetchling  12 Jun  sill 2
R1  3 L4 Zygaena levis  kidney vetch  3 Jun  B 1
R2  9 L5 Zygaena levis  horseshoe vetch  12 Jun  B 2
R3  12 L1 Zygaena levis  horseshoe vetch  now  B 3
"""
TYPED = (
    "K1 set up laying",
    "K1 2 females Leptidea sinapis on vetchling",
    "R1 set up rearing",
    "R1 9 L5 Zygaena levis on kidney vetch",
    "H1 set up hatchlings",
    "H1 5 L1 Zygaena levis on kidney vetch",
    "E1 set up eggs",
    "E1 30 eggs Zygaena levis",
)
OF_FORECASTS = ("hatch late", "emerge late")  # what should be over is late as soon as it is due


def rows(story: Story) -> list[dict[str, Any]]:
    """What comes within two days, as the shell lists it."""
    found = json.loads(story.shell("due", "--json", "--within", "48h").out)["due"]
    return [row for row in found if row["check"] not in OF_FORECASTS]


def hours_until_late(row: dict[str, Any]) -> float:
    """How long after it falls due a check is late [h]."""
    due, late = (datetime.fromisoformat(row[name]) for name in ("due", "amber"))
    return (late - due) / timedelta(hours=1)


def test_a_listed_bench_has_nothing_late_at_the_first_look(story: Story) -> None:
    story.at("2026-06-14 07:30")
    assert story.shell("begin", "--list", "-", typed=LISTED).status == 0
    story.reopen()
    with_late = [row for row in rows(story) if row.get("amber")]
    assert {row["check"] for row in with_late} >= {"eggs", "look", "feeder", "clean", "drink"}
    assert all(hours_until_late(row) > 0 for row in with_late), with_late


@pytest.mark.parametrize("hour", ["05:00", "07:30", "12:00", "17:30", "22:30"])
def test_a_cup_set_up_at_any_hour_is_due_before_it_is_late(story: Story, hour: str) -> None:
    story.at(f"2026-06-14 {hour}").type(*TYPED)
    assert all(hours_until_late(row) > 0 for row in rows(story) if row.get("amber"))


def test_eggs_moved_into_a_new_cup_want_a_leaf_from_then_on(story: Story) -> None:
    story.at("2026-06-14 07:30").type(*TYPED)
    story.later(hours=30).type("E1 moved 10 eggs to new E9")
    (leaf,) = (row for row in rows(story) if (row["where"], row["check"]) == ("E9", "leaf"))
    assert datetime.fromisoformat(leaf["due"]) == story.clock.now
    # they were seen unhatched as they were moved: late once one in twenty may be out, not before
    assert 4 <= hours_until_late(leaf) < 13, hours_until_late(leaf)
