"""What leaves a suspect cup stays suspect: animals moved, split or merged take the suspicion along."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def suspect(story: Story) -> Story:
    """Larvae in a cup where mould was seen, and a healthy cup."""
    tell(
        story,
        """
        brood W1/A
        R4 set up rearing
        R4 stocked 14 L3 W1/A
        R6 set up rearing
        R6 stocked 2 L3 W1/A
        R4 suspect mould
        """,
    )
    return story.later(minutes=5)


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("R4 split 7 into new R5", "R5"),
        ("R4 split 7 into R6", "R6"),
        ("R4 moved 3 to R6", "R6"),
        ("R6 merged from R4", "R6"),
        ("R4 merged into R6", "R6"),
    ],
)
def test_where_they_go_is_suspect_and_is_told(suspect: Story, line: str, code: str) -> None:
    told = " ".join(suspect.type(line))
    assert f"{code} suspect" in told
    container = suspect.desk.bench.containers[code]
    assert container.suspect_since is not None
    assert container.suspect_sign == "mould, from R4"


def test_what_leaves_a_healthy_cup_makes_none_suspect(suspect: Story) -> None:
    suspect.type("R4 cleared", "R4 moved 3 to R6", "R4 split 7 into new R5")
    assert [line for line in suspect.on_disk() if line["what"] == "suspect"][1:] == []


async def test_one_undo_takes_all_back(suspect: Story) -> None:
    async with suspect.screens() as screen:
        await screen.type("R4 moved 3 to R6")
        await screen.press("u")
    assert suspect.desk.bench.containers["R6"].suspect_since is None
    assert suspect.desk.bench.containers["R6"].count("larva") == 2
