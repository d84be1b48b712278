"""A field's own name before its value says that field, and never becomes part of a name or place."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


def founder(story: Story) -> tuple[str, str, str]:
    one = story.desk.bench.founders["W5"]
    return one.taxon, one.place, one.wear


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("L3 founder W5 Polyommatus icarus female wear fresh", ("Polyommatus icarus", "", "fresh")),
        (
            "L3 founder W5 Polyommatus icarus female at Ferny Down wear fresh",
            ("Polyommatus icarus", "Ferny Down", "fresh"),
        ),
        (
            'L3 founder W5 "Polyommatus" female at Ferny Down caught 6:20 wear very worn',
            ("Polyommatus", "Ferny Down", "very worn"),
        ),
        (
            "L3 founder W5 Polyommatus icarus wear worn at Ferny Down",
            ("Polyommatus icarus", "Ferny Down", "worn"),
        ),
        (
            "L3 founder W5 Polyommatus icarus at Ferny Down sex female",
            ("Polyommatus icarus", "Ferny Down", ""),
        ),
        (
            "L3 founder W5 Polyommatus icarus inspected none seen wear slight",
            ("Polyommatus icarus", "", "slight"),
        ),
    ],
)
def test_wear_is_no_part_of_a_name(story: Story, line: str, said: tuple[str, str, str]) -> None:
    story.type("L3 set up laying", line)
    assert founder(story) == said


def test_a_wear_that_there_is_not_is_asked_about(story: Story) -> None:
    story.type("L3 set up laying")
    assert "wear is 'torn'; it can be fresh, slight" in story.refused(
        "L3 founder W5 Polyommatus icarus wear torn"
    )


def test_a_volume_said_by_its_name(story: Story) -> None:
    story.type(
        "shelf set up sill",
        "L2 laying on sill volume 350",
        "L4 set up laying volume 400 ml",
        "L6 laying volume 500ml on sill",
    )
    assert [story.desk.bench.containers[code].volume_ml for code in ("L2", "L4", "L6")] == [
        350,
        400,
        500,
    ]
    assert story.desk.bench.containers["L2"].shelf == "sill"


def test_where_she_was_caught_in_numbers(story: Story) -> None:
    story.type(
        "L3 set up laying",
        "L3 founder W5 Polyommatus icarus female at Ferny Down latitude 50.8 longitude -1.9",
    )
    one = story.desk.bench.founders["W5"]
    assert (one.latitude, one.longitude, one.place) == (50.8, -1.9, "Ferny Down")
