"""No hour of a check runs before there was anything to be harmed: counted from the later of the animals' coming and what they came to."""

from __future__ import annotations

from datetime import datetime

import pytest

from tests.stories.telling import Story

EGGS = ("E2 10 eggs Pieris napi", "E2 host in garlic mustard")
ON_STEMS = ("K2 2 females Pieris napi", "K2 host in garlic mustard")
ON_A_POT = ("K2 2 females Pieris napi", "K2 host in garlic mustard potted")


@pytest.mark.parametrize(
    ("before", "later", "lines", "check", "where"),
    [
        (EGGS, (), ("E2 hatched 6", "E2 6 larvae moved to new R2"), "food", "R2"),
        (EGGS, (), ("E2 hatched 6", "E2 host out"), "food", "E2"),
        (EGGS, (), ("E2 hatched 6", "E2 host seen limp"), "food", "E2"),
        (EGGS, (), ("E2 hatched 6", "E2 host seen eaten"), "food", "E2"),
        (EGGS, ("E2 host seen limp",), ("E2 hatched 6",), "food", "E2"),
        (("R2 set up rearing", "R2 host in yarrow"), (), ("R2 5 L5 Pieris napi",), "food", "R2"),
        (("K2 set up laying", *ON_STEMS[1:]), (), ON_STEMS[:1], "host", "K2"),
        (("K2 set up laying", *ON_A_POT[1:]), (), ON_A_POT[:1], "host", "K2"),
        (ON_STEMS, ("K2 looked",), ("K2 released 2",), "host", "K2"),
        (ON_A_POT, ("K2 looked",), ("K2 released 2",), "host", "K2"),
    ],
)
def test_no_check_is_late_before_those_it_is_about_came(
    story: Story,
    before: tuple[str, ...],
    later: tuple[str, ...],
    lines: tuple[str, ...],
    check: str,
    where: str,
) -> None:
    story.at("2027-05-15 18:10").type("room 18/24", *before)
    story.at("2027-05-18 06:00").type(*later)
    story.at("2027-05-20 18:40").type(*lines)
    came = story.clock.now
    story.later(minutes=3)
    row = story.due(where).get(check, {})
    assert "danger" not in row.get("state", "")
    story.later(hours=30)
    row = story.due(where)[check]
    early = {hour: row[hour] for hour in ("due", "amber", "red", "harm") if row[hour]}
    assert all(datetime.fromisoformat(at) >= came for at in early.values()), early


def test_larvae_minutes_old_are_not_in_danger(story: Story) -> None:
    story.at("2027-05-15 18:10").type("room 18/24", *EGGS)
    story.at("2027-05-20 18:40").type("E2 hatched 6")
    story.at("2027-05-20 18:42").type("E2 6 larvae moved to new R2")
    story.at("2027-05-20 18:43")
    row = next(
        line for line in story.shell("due").out.splitlines() if line.split()[:2] == ["R2", "food"]
    )
    assert row.split()[2:] == ["now"]
    assert story.due("R2")["food"]["harm"] == "2027-05-21T18:42:00+02:00", "a day without food"


def test_hunger_still_goes_along_to_a_cup_without_food(story: Story) -> None:
    story.at("2027-05-15 18:10").type("R1 6 L2 Pieris napi", "R1 host in garlic mustard")
    story.at("2027-05-17 12:10").type("R1 6 larvae moved to new R2")
    assert story.due("R2")["food"]["harm"] == "2027-05-17T18:10:00+02:00"


def test_a_plant_left_in_a_pot_is_asked_about_at_the_next_round(story: Story) -> None:
    story.at("2027-05-15 18:10").type(*ON_A_POT)
    story.at("2027-05-20 18:40").type("K2 released 2")
    assert "host" not in story.later(minutes=1).due("K2")
    assert story.at("2027-05-21 07:05").due("K2")["host"]["state"] == "due"
