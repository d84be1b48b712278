"""A plant that was listed with `?` is not taken for fresh: it is asked about at once, and its cut stays not known."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

LARVAE = "R3\t4 L4 Pieris brassicae\tkale\t?\tB 3\n"
FEMALE = "K3\t1f Pieris brassicae\tkale\t?\tB 4\n"
STORE = "S1\thost store\tkale\t?\tB 5\n"


@pytest.fixture
def morning(story: Story) -> Story:
    """A Saturday morning, and an empty book."""
    return story.at("2027-03-27 07:05")


def test_food_of_which_nobody_knows_how_old_it_is_is_asked_about_at_once(morning: Story) -> None:
    assert morning.shell("begin", "--list", "-", typed=LARVAE).status == 0
    food = morning.due("R3")["food"]
    assert food["standing"] == "due"
    assert food["arithmetic"].startswith("when kale was cut is not known")
    assert morning.later(hours=5).due("R3")["food"]["standing"] == "late"
    morning.type("R3 host seen fresh plenty")
    assert "food" not in morning.due("R3"), "once it was looked at, the food is what was seen"


async def test_cards_and_pages_do_not_say_how_old_it_is(morning: Story) -> None:
    morning.shell("begin", "--list", "-", typed=LARVAE + FEMALE)
    morning.type("R3 host seen fresh", "K3 host seen fresh")
    async with morning.screens((120, 40)) as screen:
        assert "kale cut not known" in screen.text
        screen.highlight("R3")
        await screen.pilot.pause()
        assert "host kale, fresh, water, cut not known" in screen.card
        await screen.press("8")
        assert "not known" in screen.text


def test_the_plant_of_a_female_and_a_store_are_asked_about_until_they_are_seen(
    morning: Story,
) -> None:
    assert morning.shell("begin", "--list", "-", typed=FEMALE).status == 0
    assert morning.due("K3")["host"]["arithmetic"].startswith("when kale was cut is not known")
    morning.type("K3 host seen fresh")
    assert "host" not in morning.due("K3")
    morning.type("S1 set up host store")
    morning.type("S1 host in kale cut not known")
    assert morning.due("S1")["store"]["standing"] == "due"
    morning.type("S1 host seen fresh")
    assert "store" not in morning.due("S1")


def test_it_is_no_cutting_of_today_and_what_is_cut_today_is_none_of_it(morning: Story) -> None:
    morning.shell("begin", "--list", "-", typed=LARVAE + FEMALE)
    morning.type("R3 host in kale 3 sprigs")
    batches = [line["batch"] for line in morning.on_disk() if line["what"] == "host in"]
    assert len(batches) == len(set(batches)) == 3
    assert "cut not known" in morning.preview("R3 host in kale cut not known")
    assert "one of the two" in morning.refused("R3 host in kale cut=-2h cut_not_known=yes")


def test_fresh_food_beside_it_is_a_feeding(morning: Story) -> None:
    morning.shell("begin", "--list", "-", typed=LARVAE)
    morning.later(hours=1).type("R3 host in kale 3 sprigs")
    assert "food" not in morning.due("R3")


def test_cut_on_the_day_of_a_line_that_is_written_down_later(story: Story) -> None:
    """A day alone is any time of it, so that it was cut by then."""
    story.at("2027-07-01 08:00").type("H1 9 L1 Melitaea athalia")
    story.at("2027-07-02 08:00").type("1 Jul 09:00 H1 host in plantain cut 1 Jul")
    (host,) = story.desk.bench.containers["H1"].hosts
    assert host.cut == host.put_in
    story.refused("1 Jul 09:00 H1 host in plantain cut 2 Jul")
