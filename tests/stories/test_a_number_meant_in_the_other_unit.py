"""A warmth typed without its unit that fits only if the other unit was meant is asked about; one with its unit is not."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def cup(story: Story) -> Story:
    story.type("R5 set up rearing")
    return story


@pytest.mark.parametrize(
    "line", ["R5 air 22", "R5 air 22 46%", "room 18/24", "room 22", "R5 air 31"]
)
def test_c_typed_into_a_book_in_f(cup: Story, line: str) -> None:
    """By hand: 22 F is -5.6 C; 22 C is 71.6 F."""
    cup.type("setting temperature F")
    told = cup.refused(line)
    assert "F is below freezing; if C was meant, " in told
    assert "add 'sure'" in told
    cup.type(f"{line} sure")


def test_what_it_says_would_be_right_is_taken(cup: Story) -> None:
    cup.type("setting temperature F")
    assert "if C was meant, 22C (71.6 F)" in cup.refused("R5 air 22")
    cup.type("R5 air 22C")
    cup.later(hours=3)
    told = cup.refused("R5 air 21")
    assert "21 F is below freezing, 71.6 F was read there before" in told, told
    assert "if C was meant, 21C (69.8 F)" in told


def test_f_typed_into_a_book_in_c(cup: Story) -> None:
    """By hand: 46 F is 7.8 C."""
    assert "if F was meant, 72F (22.2 C)" in cup.refused("R5 air 72")
    cup.type("R5 air 8")
    cup.later(hours=5)
    told = cup.refused("R5 air 46")
    assert (
        "46 C is hotter than a room, 8 C was read there before; if F was meant, 46F (7.8 C)" in told
    )
    cup.type("R5 air 46F")


def test_a_frost_that_goes_on_is_not_asked_about(cup: Story) -> None:
    cup.type("setting temperature F", "R5 air 28 sure")
    for read in (25, 20, 31, 39):
        cup.later(hours=8).type(f"R5 air {read}")


def test_a_number_with_its_unit_is_not_asked_about(cup: Story) -> None:
    cup.type("setting temperature F", "R5 air 70")
    cup.later(hours=5).type("R5 air -6C")


@pytest.mark.parametrize("read", [(70, 96), (60, 41), (41, 76), (70, 39)])
def test_what_may_well_be_is_taken_at_once(cup: Story, read: tuple[int, int]) -> None:
    cup.type("setting temperature F", f"R5 air {read[0]}")
    cup.later(hours=6).type(f"R5 air {read[1]}")


def test_a_cup_that_heats_in_the_sun_is_not_asked_about(cup: Story) -> None:
    for read in (21, 44, 3, 34):
        cup.later(hours=2).type(f"R5 air {read}")
