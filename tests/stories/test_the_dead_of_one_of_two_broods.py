"""Where nobody knows of which of two broods the dead are, no page says that none died, and a sum of rows counts each once."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_note import note_of
from tests.stories.test_life_table_says_what_is_known import TWO_BROODS, page
from tests.stories.test_one_of_two_broods import TWO_CUPS, grown_up, section
from tests.stories.test_tables_with_a_column_each import table_of

AGAIN = "counted again in"


def in_one_cup(story: Story) -> None:
    """Ten eggs of each of two mothers in one cup: six die, fourteen hatch, two larvae die, of nobody knows which."""
    tell(story, TWO_CUPS)
    story.later(days=1)
    tell(
        story,
        "K2 searched 10\nK3 searched 10\nK2 moved 10 eggs to R6\nK3 moved 10 eggs to R6\nR6 host in speedwell",
    )
    story.later(days=8).type("R6 died 6 eggs not known", "R6 hatched 14 not known")
    story.later(days=2).type("R6 died 2 larvae not known")


async def test_neither_the_page_nor_the_note_says_that_none_died(
    story: Story, tmp_path: Path
) -> None:
    in_one_cup(story)
    for brood in ("W2/A", "W3/A"):
        shown = " ".join((await page(story, brood)).split())
        assert "none died" not in shown
        assert "8 died of W2/A or W3/A together" in shown
        told = section(note_of(story, tmp_path, brood), "Survival")
        assert "None died" not in told
        assert "8 died of W2/A or W3/A together" in told


async def test_a_brood_of_which_none_died_still_says_so(story: Story, tmp_path: Path) -> None:
    tell(story, TWO_BROODS)
    assert "survival: none died yet" in await page(story, "A-1/A")
    assert "None died" in section(note_of(story, tmp_path, "A-1/A"), "Survival")


async def test_a_curve_of_those_that_are_known_says_what_died_beside_it(
    story: Story, tmp_path: Path
) -> None:
    tell(story, TWO_CUPS)
    story.later(days=1)
    tell(
        story,
        "K2 searched 10\nK2 died 2 eggs\nK3 searched 10\nK2 moved 8 eggs to R6\nK3 moved 10 eggs to R6",
    )
    story.later(days=8).type("R6 died 6 eggs not known")
    for told in (
        " ".join((await page(story, "W2/A")).split()),
        section(note_of(story, tmp_path, "W2/A"), "Survival"),
    ):
        assert "10 animals, 2 died" in told
        assert "6 died of W2/A or W3/A together" in told


def alone(rows: pd.DataFrame) -> pd.DataFrame:
    """The rows that count what no other row counts."""
    return rows[rows[AGAIN].isna()]


def test_the_rows_that_are_counted_in_no_other_add_up_to_what_there_was(
    story: Story, tmp_path: Path
) -> None:
    grown_up(story)
    tell(story, "R1 set up rearing\nbrood A-1/A taxon='Melitaea rubida'\nR1 stocked 5 L1 A-1/A")
    rows = table_of(story, tmp_path, "life-table")
    sums = alone(rows).groupby("stage")[["entered", "went on", "died"]].sum()
    assert sums.loc["egg"].to_list() == [20, 20, 0]
    assert sums.loc["larva"].to_list() == [20, 16, 4], "no moult was written down"
    assert sums.loc["L1"].to_list() == [5, 0, 0]
    assert sums.loc["pupa"].to_list() == [16, 10, 6]
    assert set(alone(rows)["brood"]) == {"A-1/A", "W2/A and W3/A"}
    again = rows[rows[AGAIN].notna()]
    assert set(again["brood"]) == {"W2/A", "W3/A", "W2/A or W3/A"}
    assert set(again[AGAIN]) == {"W2/A and W3/A"}
    assert set(rows["taxon"]) == {"Melitaea rubida"}


def test_where_all_broods_are_known_there_is_a_row_of_each_alone(
    story: Story, tmp_path: Path
) -> None:
    tell(story, TWO_BROODS)
    tell(story, "R1 died 10 not known")
    rows = table_of(story, tmp_path, "life-table")
    assert rows["brood"].to_list() == ["A-1/A", "B-1/A"]
    assert rows[AGAIN].isna().all()
    assert rows["died"].sum() == 10


@pytest.mark.parametrize(("one", "other"), [("S1", "S2"), ("S2", "S3")])
def test_pools_that_share_a_brood_are_one_sum(
    story: Story, tmp_path: Path, one: str, other: str
) -> None:
    lines = [
        "R2 set up rearing",
        "R3 set up rearing",
        *(f'brood S{n} taxon="Saturnia montis"' for n in (1, 2, 3)),
    ]
    lines += [
        f"{cup} stocked S{n} larva 5 instar=2"
        for cup, n in (("R2", 1), ("R2", 2), ("R3", 2), ("R3", 3))
    ]
    tell(story, "\n".join([*lines, "R2 died 1 not known", "R3 died 1 not known"]))
    rows = table_of(story, tmp_path, "life-table").set_index("brood")
    assert rows.loc[[one, other], AGAIN].to_list() == ["S1 and S2 and S3"] * 2
    assert rows.loc["S1 and S2 and S3", ["entered", "died", "in it now"]].to_list() == [20, 2, 18]
