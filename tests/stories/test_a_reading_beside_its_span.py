"""A number beside the lowest and highest is a humidity where no room is so warm, else it lies between them."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("room 18/24 50", "room air 18 to 24 C, 50 %"),
        ("room 18-24 50", "room air 18 to 24 C, 50 %"),
        ("R2 air 18/24 50", "R2 air 18 to 24 C, 50 %"),
        ("room min 18 max 24 50", "room air 18 to 24 C, 50 %"),
        ("room 18/24 21", "room air 21 C, 18 to 24 C"),
        ("room 18/24 24.4", "room air 24.4 C, 18 to 24 C"),
        ("room 18/24 21 50", "room air 21 C, 18 to 24 C, 50 %"),
        ("room 18/24 31 sure", "room air 31 C, 18 to 24 C"),
    ],
)
def test_what_stands_beside_lowest_and_highest(story: Story, line: str, told: str) -> None:
    tell(story, "R2 set up rearing")
    assert told in story.type(line)[0]


@pytest.mark.parametrize(
    "line", ["room 18/24 31", "room 31 18/24", "room min 18 max 24 12", "room 18/24 50C", "room max 24 30", "room 50 18/24"]
)  # fmt: skip
def test_a_reading_outside_of_its_own_span_is_refused(story: Story, line: str) -> None:
    assert "is outside of what was read as lowest and highest" in story.refused(line)


def test_in_fahrenheit_too(story: Story) -> None:
    story.type("setting temperature F")
    assert "64.4 to 75.2 F" in story.type("room 64.4/75.2 70")[0]
    assert "is outside of what was read" in story.refused("room 64/75 90")
