"""A bench that is brought in as it runs: nothing could be asked of it before, so no round was missed and nothing late then."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

PUPAE = "P2\t3p Anthocharis cardamines\t-\t2026-06-20\tC 2\n"
LARVAE = "R3\t4 L5 Pieris brassicae\tkale\tWed 12:00\tC 3\n"
FEMALE = "K3\t1f Pieris brassicae\tkale\t22 Mar\tC 5\n"


@pytest.fixture
def morning(story: Story) -> Story:
    """A Saturday morning, and an empty book."""
    return story.at("2027-03-27 07:05")


def test_what_was_due_before_the_book_began_is_due_at_once_and_late_from_there(
    morning: Story,
) -> None:
    assert morning.shell("begin", "--list", "-", typed=PUPAE + LARVAE + FEMALE).status == 0
    room, mist, drink = morning.due()["room"], morning.due("P2")["mist"], morning.due("K3")["drink"]
    assert {one["standing"] for one in (room, mist, drink)} == {"due"}
    assert room["due"] == mist["due"] == drink["due"] == "2027-03-27T07:05:00+01:00"
    assert morning.due("R3")["food"]["standing"] == "due"
    assert not any("missed" in row["arithmetic"] for row in morning.due().values())
    assert "missed" not in "".join(morning.plain([]))

    morning.later(hours=14.5)
    assert morning.due("P2")["mist"]["standing"] == "late", "its own twelve hours later"
    assert morning.due("K3")["drink"]["standing"] == "late"


def test_rounds_are_missed_from_when_the_book_began(morning: Story) -> None:
    morning.shell("begin", "--list", "-", typed=PUPAE)
    morning.later(days=1, hours=12)
    assert "2 rounds missed" in morning.due()["room"]["arithmetic"]


def test_what_is_forecast_to_be_over_is_late_from_when_it_was_written_down(morning: Story) -> None:
    morning.shell("begin", "--list", "-", typed=PUPAE)
    assert morning.due("P2")["emerge late"]["amber"] == "2027-03-27T07:05:00+01:00"


def test_a_cup_that_is_added_later_was_not_asked_about_before_that_either(morning: Story) -> None:
    morning.type("K2 set up laying", "K2 founder W2 'Pieris brassicae' female")
    morning.later(days=3)
    morning.shell("begin", "--list", "-", typed=FEMALE)
    assert morning.due("K2")["drink"]["standing"] == "red"
    assert morning.due("K3")["drink"]["standing"] == "due"


def test_what_was_seen_to_be_wrong_by_then_is_late_at_once(morning: Story) -> None:
    assert morning.shell("begin", "--list", "-", typed=LARVAE.replace("kale", "-")).status == 0
    food = morning.due("R3")["food"]
    assert food["standing"] == "red"
    assert food["amber"] == "2027-03-27T07:05:00+01:00", (
        "not late since Wednesday, but no food is in"
    )
