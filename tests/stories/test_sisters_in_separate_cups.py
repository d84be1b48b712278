"""Sisters that nobody can tell apart lay in separate cups: each cup's eggs are by the males that stood there."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_fathers import begun

SISTERS = """
brood EH taxon='Endromis alta'
C1 set up rearing
C1 stocked 4 pupae EH
M1 set up laying
M1 founder M5 'Endromis alta' sex=male
M1 founder M6 'Endromis alta' sex=male
"""


@pytest.fixture
def sisters(story: Story) -> Story:
    """Two females that emerged today, each in a cup of her own."""
    tell(story.at("2027-05-01 07:00"), SISTERS)
    story.later(days=1).type("C1 emerged 2 females", "C2 set up laying", "C3 set up laying")
    story.type("C1 moved 1 female to C2", "C1 moved 1 female to C3")
    return story


@pytest.mark.parametrize(
    ("moves", "fathers"),
    [
        (["M1 moved M5 to C2", "M1 moved M6 to C3"], (["M5"], ["M6"])),
        (["M1 moved M5 to C2"], (["M5"], [])),
        (["M1 moved M5 to C2", "M1 moved M6 to C2"], (["M5", "M6"], [])),
        (
            ["M1 moved M6 to C2", "C2 moved M6 to C3", "M1 moved M5 to C2"],
            (["M5", "M6"], ["M6"]),
        ),
    ],
)
def test_eggs_of_sisters_with_other_mates_are_of_two_broods(
    sisters: Story, moves: list[str], fathers: tuple[list[str], list[str]]
) -> None:
    sisters.type(*moves)
    sisters.later(days=1)
    assert "brood EH/A" in "".join(sisters.type("C2 searched 8"))
    assert "brood EH/B" in "".join(sisters.type("C3 searched 10"))
    assert begun(sisters, "EH/A")["fathers"] == fathers[0]
    assert begun(sisters, "EH/B").get("fathers", []) == fathers[1]
    sisters.later(days=1)
    assert "brood EH/A" in "".join(sisters.type("C2 searched 4"))
    assert "brood EH/B" in "".join(sisters.type("C3 searched 5"))


def test_eggs_of_sisters_that_stood_with_one_male_are_of_one(sisters: Story) -> None:
    sisters.type("M1 moved M5 to C2", "C2 moved M5 to C3")
    sisters.later(days=1)
    assert "brood EH/A" in "".join(sisters.type("C2 searched 8"))
    assert "brood EH/A" in "".join(sisters.type("C3 searched 10"))
