"""The life table and the note: a death of one of two broods counts in neither, and a stage that still runs has no share."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from tests.stories.telling import Story, tell

TWO_BROODS = """
taxon 'Pieris orata'
R1 set up rearing
brood A-1/A taxon='Pieris orata'
brood B-1/A taxon='Pieris orata'
R1 stocked 5 L2 A-1/A
R1 stocked 5 L2 B-1/A
"""
RUNNING = """
taxon 'Pieris orata'
R1 set up rearing
brood A-1/A taxon='Pieris orata'
R1 stocked 6 L2 A-1/A
"""


async def page(story: Story, code: str) -> str:
    async with story.screens((120, 70)) as screen:
        await screen.press("z")
        screen.highlight(f"code {code}")
        await screen.press("enter")
        return screen.text


def life_table(story: Story, tmp_path: Path) -> pd.DataFrame:
    file = tmp_path / "life.csv"
    assert story.shell("export", "csv", str(file), "--table", "life-table", "--replace").status == 0
    return pd.read_csv(file).set_index(["brood", "stage"])


def note(story: Story, tmp_path: Path, code: str) -> str:
    assert story.shell("export", "note", code, str(tmp_path / "note.md"), "--replace").status == 0
    return (tmp_path / "note.md").read_text()


async def test_the_living_of_two_broods_stay_living_when_one_of_either_died(
    story: Story, tmp_path: Path
) -> None:
    tell(story, TWO_BROODS)
    story.later(days=1)
    tell(story, "R1 died 1 not known")
    rows = life_table(story, tmp_path)
    for brood in ("A-1/A", "B-1/A"):
        row = rows.loc[(brood, "L2")]
        assert row["in it now"] == 4
        assert row["not seen"] == 0
        assert row["died"] == 0
        assert row["not known which"] == 1
    told = note(story, tmp_path, "A-1/A")
    assert (
        "What became of" not in told.split("What is missing")[1] or "that were not seen" not in told
    )
    assert "of A-1/A, B-1/A, not known which: 1 died (1 L2), 9 in R1 (9 L2)" in told
    assert "4 are alive as this is written" in told
    shown = await page(story, "A-1/A")
    assert "5 came (5 L2) = 4 alive + 1 not known which (last told apart as 1 L2)" in shown
    assert "of A-1/A, B-1/A, not known which: 1 died (1 L2), 9 in R1 (9 L2)" in shown


def test_they_grow_on_and_a_brood_told_apart_has_no_doubt(story: Story, tmp_path: Path) -> None:
    tell(story, TWO_BROODS)
    story.later(days=1)
    tell(story, "R1 died 1 not known")
    story.later(days=3)
    tell(story, "R1 moulted all to L3")
    rows = life_table(story, tmp_path)
    assert rows.loc[("A-1/A", "L2"), "went on"] == 4
    assert rows.loc[("A-1/A", "L2"), "not known which"] == 1
    assert rows.loc[("A-1/A", "L3"), "in it now"] == 4
    assert rows.loc[("B-1/A", "L3"), "entered"] == 4
    assert (rows["not seen"] == 0).all()


def test_both_broods_together_have_no_doubt(story: Story, tmp_path: Path) -> None:
    tell(story, TWO_BROODS)
    tell(story, "R1 died 10 not known")
    rows = life_table(story, tmp_path)
    assert rows.loc[("A-1/A", "L2"), "died"] == 5, "of all that died it does not matter which"
    assert rows.loc[("B-1/A", "L2"), "not known which"] == 0


async def test_a_stage_that_still_runs_has_no_share(story: Story, tmp_path: Path) -> None:
    tell(story, RUNNING)
    story.later(days=1)
    tell(story, "R1 died 1 mould")
    shown = await page(story, "A-1/A")
    assert "0 of 1; 5 still in it" in shown
    assert "0.00 (" not in shown
    assert "L2: mould 1; 5 still in it, no share yet" in shown
    told = note(story, tmp_path, "A-1/A")
    assert "0 of 1; 5 still in it" in told
    row = life_table(story, tmp_path).loc[("A-1/A", "L2")]
    assert row["in it now"] == 5
    assert pd.isna(row["share that went on"])
    assert pd.isna(row["share of the first stage that came through"])


async def test_a_stage_that_ended_has_its_share(story: Story, tmp_path: Path) -> None:
    tell(story, RUNNING)
    story.later(days=1)
    tell(story, "R1 died 1 mould\nR1 moulted all to L3")
    assert "0.83 (" in await page(story, "A-1/A")
    assert life_table(story, tmp_path).loc[("A-1/A", "L2"), "share that went on"] == pytest.approx(
        5 / 6
    )


def test_broods_that_stand_in_two_pools_count_no_animal_twice(story: Story, tmp_path: Path) -> None:
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
    file = tmp_path / "life-table.csv"
    assert story.shell("export", "csv", str(file), "--table", "life-table").status == 0
    rows = [line.split(",") for line in file.read_text().splitlines()]
    entered = rows[0].index("entered")
    assert {row[0]: row[entered] for row in rows[1:] if row[0] in ("S1", "S2", "S3")} == {
        "S1": "5",
        "S2": "10",
        "S3": "5",
    }
