"""Animals that go from one box into another, however it is typed, are moved: no refusal offers a
death for them, nor for what was only seen or found."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def boxes(story: Story) -> Story:
    story.at("2027-07-24 07:00").type(
        "R1 20 L3 Melitaea didyma on Plantago lanceolata 3 stems",
        "R2 set up rearing",
        "R3 set up rearing",
    )
    return story.later(minutes=10)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("8 larvae R1 to new R4", "R4 set up for rearing; R1 moved 8 larvae to R4"),
        ("8 larvae from R1 to R3", "R1 moved 8 larvae to R3"),
        ("8 L3 from R1, to R3", "R1 moved 8 larvae L3 to R3"),
        ("R1 8 L3 to R3", "R1 moved 8 larvae L3 to R3"),
        ("R1 all larvae to R2", "R1 moved 20 larvae to R2"),
        ("R1 the rest to R2", "R1 moved 20 larvae to R2"),
        ("all R1 to R2", "R1 moved 20 larvae to R2"),
    ],
)
def test_they_are_moved(boxes: Story, line: str, told: str) -> None:
    assert boxes.type(line) == [told]


@pytest.mark.parametrize("line", ["R2 all to R1", "R1 1 found", "R1 13", "R1 2 larvae green"])
def test_no_refusal_offers_a_death(boxes: Story, line: str) -> None:
    assert "died" not in boxes.refused(line)


def test_a_trace_of_frass_is_frass(boxes: Story) -> None:
    assert boxes.type("R1 1 trace frass", "R1 trace of frass") == ["R1 frass: a little"] * 2


def test_the_one_that_is_missing_was_found(boxes: Story) -> None:
    boxes.type("R1 missing 1", "R1 found 1")
    assert not boxes.desk.bench.shortfalls
