"""Some of a box go into several others, or rest alone: nothing is put down that was not meant."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def boxes(story: Story) -> Story:
    story.at("2027-07-24 07:00").type(
        "R3 20 L3 Melitaea didyma on Plantago lanceolata 3 stems", "R4 set up rearing"
    )
    return story.later(minutes=10)


@pytest.mark.parametrize(
    ("line", "suggested"),
    [
        ("R3 split 8 to R5, 8 to R6", "R3 split 8 each into new R5-R6"),
        ("R3 split 8 to R5, 7 to R6", "R3 split 8,7 into new R5-R6"),
        ("R3 split 8 to R4, 7 to R5", "R5 set up rearing"),
    ],
)
def test_a_split_that_is_suggested_keeps_its_numbers(
    boxes: Story, line: str, suggested: str
) -> None:
    assert boxes.refused(line).endswith(f"say: {suggested}")


@pytest.mark.parametrize(
    "line",
    ["R3 2 to R4, 1 to new R5", "R3 split 2 to R4, 1 to new R5", "R3 moved 2 to R4, 1 to new R5"],
)
def test_each_box_gets_its_own(boxes: Story, line: str) -> None:
    boxes.type(line)
    held = {code: box.count() for code, box in boxes.desk.bench.containers.items()}
    assert held == {"R3": 17, "R4": 2, "R5": 1}


def test_moves_of_different_animals_are_two_lines(boxes: Story) -> None:
    told = boxes.refused("R3 2 L3 to R4, 1 L4 to new R5")
    assert told.startswith("one thing a line: R3 moved 2 L3 to R4; then R3 moved 1 L4 to new R5")


@pytest.mark.parametrize("line", ["R3 4 in diapause", "R3 4 hibernating", "R3 4 L3 overwintering"])
def test_some_that_rest_get_a_box_of_their_own(boxes: Story, line: str) -> None:
    told = boxes.refused(line)
    assert "to new R2; then R2 in diapause" in told
    assert "died" not in told
    assert "moulted" not in told


@pytest.mark.parametrize("line", ["R3 20 hibernating", "R3 all in diapause", "R3 hibernating"])
def test_where_all_rest_the_box_does(boxes: Story, line: str) -> None:
    assert boxes.type(line) == ["R3 changed: purpose overwintering"]
