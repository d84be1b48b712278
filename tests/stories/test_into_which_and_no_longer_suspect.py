"""Which cup goes into which, and what ends a suspicion, is read as it was said."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def cups(story: Story) -> Story:
    """Eggs of one brood in three cups, and a cup that was made suspect."""
    tell(
        story,
        """
        brood W1/A
        E4 set up eggs
        E4 stocked 3 eggs W1/A
        E5 set up eggs
        E5 stocked 2 eggs W1/A
        E6 set up eggs
        E6 stocked 4 eggs W1/A
        R1 set up rearing
        R1 stocked 3 L3 W1/A
        R1 suspect mould
        """,
    )
    return story


@pytest.mark.parametrize(
    "line",
    [
        "E6 merged into E4",
        "E6 merged to E4",
        "merged E6 into E4",
        "merge e6 into e4",
        "E4 merged from E6",
    ],
)
def test_the_cup_named_behind_into_gets_all(cups: Story, line: str) -> None:
    cups.type(line)
    told = cups.on_disk()[-1]
    assert (told["what"], told["container"], told["sources"]) == ("merged", "E4", ["E6"])
    assert [cups.desk.bench.containers[code].count("egg") for code in ("E4", "E6")] == [7, 0]


@pytest.mark.parametrize(
    "line",
    [
        "E5 and E6 merged into E4",
        "E5,E6 merged into E4",
        "E5 E6 merged into E4",
        "E4 merged from E5,E6",
    ],
)
def test_several_are_merged_into_one(cups: Story, line: str) -> None:
    cups.type(line)
    assert [cups.desk.bench.containers[code].count("egg") for code in ("E4", "E5", "E6")] == [
        9,
        0,
        0,
    ]


def test_fewer_arrived_in_the_cup_named_behind_into(cups: Story) -> None:
    cups.type("E6 merged into E4 3")
    assert [cups.desk.bench.containers[code].count("egg") for code in ("E4", "E6")] == [6, 0]


def test_a_cup_that_is_not_there_gets_nothing(cups: Story) -> None:
    assert "E9" in cups.refused("E6 merged into E9")
    assert cups.desk.bench.containers["E6"].count("egg") == 4


@pytest.mark.parametrize(
    "line",
    [
        "R1 suspect off",
        "R1 suspect no",
        "R1 not suspect",
        "R1 no longer suspect",
        "R1 suspect over",
        "R1 cleared",
    ],
)
def test_no_longer_suspect_ends_it(cups: Story, line: str) -> None:
    cups.type(line)
    assert cups.on_disk()[-1]["what"] == "cleared"
    assert cups.desk.bench.containers["R1"].suspect_since is None


def test_not_suspect_makes_none_suspect(cups: Story) -> None:
    cups.type("R1 cleared", "R1 suspect off")
    assert cups.desk.bench.containers["R1"].suspect_since is None
