"""A batch letter is that of one cutting, in whatever order cuttings of different times are told."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

EARLY = "E2  30 eggs Leptidea sinapis  vetchling  Wed 18:00  A 2\n"
LATE = "K2  1 female Leptidea sinapis  vetchling  yesterday  sill 2\n"
LATER_STILL = "R2  5 L2 Leptidea sinapis  vetchling  Wed 19:00  A 3\n"


@pytest.fixture
def saturday(story: Story) -> Story:
    """A Saturday morning, and an empty book."""
    return story.at("2027-05-29 07:05")


def letters(story: Story) -> dict[str, str]:
    """The batch that was put in, by container."""
    return {one["container"]: one["batch"] for one in story.on_disk() if one["what"] == "host in"}


@pytest.mark.parametrize("rows", [EARLY + LATE, LATE + EARLY])
def test_a_list_has_a_letter_for_each_cutting(saturday: Story, rows: str) -> None:
    ran = saturday.shell("begin", "--list", "-", typed=rows)
    assert ran.status == 0, ran.err
    assert sorted(letters(saturday).values()) == ["A", "B"]


def test_rows_of_one_cutting_share_its_letter_around_another(saturday: Story) -> None:
    ran = saturday.shell("begin", "--list", "-", typed=EARLY + LATE + LATER_STILL)
    assert ran.status == 0, ran.err
    assert letters(saturday) == {"E2": "A", "K2": "B", "R2": "A"}


@pytest.mark.parametrize("rows", [EARLY + LATE, LATE + EARLY])
def test_a_list_added_to_a_book_takes_new_letters(saturday: Story, rows: str) -> None:
    saturday.at("2027-05-20 08:00").type("K1 set up laying", "K1 host in vetchling 3 sprigs")
    saturday.at("2027-05-28 20:00").type("K1 looked as usual")
    saturday.at("2027-05-29 07:05")
    ran = saturday.shell("begin", "--list", "-", typed=rows)
    assert ran.status == 0, ran.err
    assert sorted(letters(saturday).values()) == ["A", "B", "C"]


def test_a_cutting_told_late_is_not_the_newer_one(saturday: Story) -> None:
    saturday.at("2027-05-20 08:00").type("K1 set up laying", "K3 set up laying")
    saturday.at("2027-05-28 20:00").type("K1 host in vetchling 3 sprigs", "K3 host in vetchling 2 sprigs Wed 18:00")
    assert letters(saturday) == {"K1": "A", "K3": "B"}
