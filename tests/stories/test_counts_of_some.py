"""A count of some of the animals tells them from the others; it makes no animals where another line was meant."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story, tell, there


def life_table(story: Story, folder: Path, *also: str) -> dict[str | tuple[str, ...], list[str]]:
    """By brood (and what else tells rows apart): how many entered, died, are in it now, and may be of another brood."""
    file = folder / "life-table.csv"
    assert story.shell("export", "csv", str(file), "--table", "life-table").status == 0
    rows = [line.split(",") for line in file.read_text().splitlines()]
    at = [rows[0].index(name) for name in ("entered", "died", "in it now", "not known which")]
    by = [rows[0].index(name) for name in also]
    return {
        (row[0], *(row[place] for place in by)) if by else row[0]: [row[place] for place in at]
        for row in rows[1:]
    }


@pytest.fixture
def mixed(story: Story) -> Story:
    """Two broods in one cup, of which one has died, nobody knows of which."""
    tell(
        story,
        """
        R2 set up rearing
        brood S1 taxon="Saturnia montis"
        brood S2 taxon="Saturnia montis"
        R2 stocked S1 larva 5 instar=2
        R2 stocked S2 larva 5 instar=2
        R2 died 1 not known
        """,
    )
    assert there(story) == ["9 L2 S1 or S2"]
    return story


@pytest.mark.parametrize(
    "line", ["R2 counted 4 S1", "R2 counted 4 larvae S1", "R2 counted 4 L2 S1"]
)
def test_a_count_of_one_brood_tells_it_from_the_other(mixed: Story, line: str) -> None:
    assert "MORE" not in mixed.preview(line)
    told = mixed.type(line)
    assert "MORE" not in told[0]
    assert there(mixed) == ["4 L2 S1", "5 L2 S2"]
    page = mixed.shell("check")
    assert page.status == 0, page.out


def test_a_count_by_eye_leaves_the_others_unknown(mixed: Story) -> None:
    mixed.type("R2 counted 4 S1 method=estimate")
    assert there(mixed) == ["4 L2 S1", "5 L2 S1 or S2"]


def test_a_count_of_none_of_a_brood_says_that_as_many_are_of_the_other_as_came_of_it(
    mixed: Story,
) -> None:
    mixed.type("R2 counted 0 S1")
    assert there(mixed) == ["4 L2 S1 or S2", "5 L2 S2"]


def test_only_what_is_more_than_all_that_it_may_be_is_more(mixed: Story) -> None:
    assert "(6 MORE THAN ON RECORD)" in mixed.type("R2 counted 11 L2 S1")[0]
    assert there(mixed) == ["11 L2 S1", "4 L2 S2"]


def test_what_is_told_apart_is_so_in_the_tables(mixed: Story, tmp_path: Path) -> None:
    mixed.type("R2 counted 4 S1")
    assert life_table(mixed, tmp_path) == {"S1": ["5", "1", "4", "0"], "S2": ["5", "0", "5", "0"]}


def test_larvae_whose_instar_a_count_tells_came_in_that_instar(
    story: Story, tmp_path: Path
) -> None:
    tell(story, 'R2 set up rearing\nbrood S1 taxon="Saturnia montis"\nR2 stocked S1 larva 5')
    story.type("R2 counted 5 L3")
    assert there(story) == ["5 L3 S1"]
    assert life_table(story, tmp_path, "stage") == {("S1", "L3"): ["5", "0", "5", "0"]}


def test_a_count_a_moult_later_asks_for_the_moult(story: Story) -> None:
    tell(
        story, 'R2 set up rearing\nbrood S1 taxon="Saturnia montis"\nR2 stocked S1 larva 5 instar=2'
    )
    line = story.refused("R2 counted 5 L3 S1")
    assert (
        line
        == "R2 holds 5 larvae L2 of S1, no L3; if they moulted, first: R2 moulted 5 L3 S1; or count them all: R2 counted 5 larvae S1"
    )
    assert there(story) == ["5 L2 S1"]
    assert "no L1" in story.refused("R2 counted 5 L1 S1")
    story.type("R2 moulted 3 L3 S1")
    assert "first: R2 moulted 1 L3 S1" in story.refused("R2 counted 4 L3 S1")
    story.type("R2 moulted 1 L3 S1", "R2 counted 4 L3 S1")
    assert there(story) == ["1 L2 S1", "4 L3 S1"]


def test_a_count_names_the_instar_of_those_of_which_it_was_not_known(story: Story) -> None:
    tell(story, 'R2 set up rearing\nbrood S1 taxon="Saturnia montis"\nR2 stocked S1 larva 5')
    assert "MORE" not in story.type("R2 counted 3 L3 S1")[0]
    assert there(story) == ["2 larva S1", "3 L3 S1"]
    story.type("R2 counted 5 L3 S1")
    assert there(story) == ["5 L3 S1"]
