"""Cells under 'Died?' that say that it still lives, and as what: neither a death nor an adult; and days that are at least so many."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Melitaea orata"
HEAD = "ID,Species,Laid,Egg (d),Larva (d),Total (d),Died?\n"
OTHER = f"T2,{SPECIES},2023-05-01,6,26,44,N\n"


def ends_of(story: Story, tmp_path: Path, row: str) -> dict[str, list[str]]:
    """What the lines of the first animal of a table are, and of which stage each is."""
    ran = imported(story, tmp_path, "old.csv", HEAD + row + OTHER, "--as", "left=not known")
    assert ran.status == 0, ran.err + ran.out
    cup = next(one["container"] for one in story.on_disk() if "T1" in one.get("container", ""))
    found: dict[str, list[str]] = {}
    for line in story.on_disk():
        if line.get("container") == cup:
            found.setdefault(line["what"], []).append(line.get("stage", ""))
    return found


@pytest.mark.parametrize(
    "cell",
    [
        *("N (still pupa)", "N pupa", "still pupa", "No (still pupa)", "alive (pupa)"),
        *("living pupa", "overwintering pupa", "N (overwintering)", "N (diapause)"),
        *("n, noch Puppe", "N - nog pop", "toujours chrysalide"),
    ],
)
def test_it_lives_as_a_pupa(story: Story, tmp_path: Path, cell: str) -> None:
    found = ends_of(story, tmp_path, f'T1,{SPECIES},2023-05-01,6,26,44,"{cell}"\n')
    assert "pupated" in found
    assert not {"died", "emerged"} & found.keys()
    assert found["missing"] == ["pupa"]


@pytest.mark.parametrize(
    ("days", "cell"),
    [
        ("6,20,26", "still larva"),
        ("6,20,", "N (still larva)"),
        ("6,,26", "still larva"),
        ("6,,26", "N (larva)"),
    ],
)
def test_it_lives_as_a_larva(story: Story, tmp_path: Path, days: str, cell: str) -> None:
    found = ends_of(story, tmp_path, f"T1,{SPECIES},2023-05-01,{days},{cell}\n")
    assert not {"died", "pupated", "emerged"} & found.keys()
    assert found["missing"] == ["larva"]


@pytest.mark.parametrize("cell", ["Y pupa", "y (pupa)", "Y"])
def test_it_died_as_a_pupa(story: Story, tmp_path: Path, cell: str) -> None:
    found = ends_of(story, tmp_path, f"T1,{SPECIES},2023-05-01,6,26,44,{cell}\n")
    assert found["died"] == ["pupa"]


def spans_of(story: Story, tmp_path: Path) -> dict[str, float]:
    """The mean days of each stage of the table of durations."""
    told = table_of(story, tmp_path, "durations")
    return dict(zip(told["stage"], told["mean (days)"], strict=True))


@pytest.mark.parametrize("days", [">20", "≥ 20", "> 20 d"])
def test_a_larva_of_at_least_so_many_days_that_died(
    story: Story, tmp_path: Path, days: str
) -> None:
    found = ends_of(story, tmp_path, f"T1,{SPECIES},2023-05-01,6,{days},30,Y\n")
    assert found["died"] == ["larva"]
    assert spans_of(story, tmp_path)["larva"] == 26  # that of the other alone


def test_it_is_told_and_noted(story: Story, tmp_path: Path) -> None:
    row = f"T1,{SPECIES},2023-05-01,6,>20,30,Y\n"
    ran = imported(story, tmp_path, "old.csv", HEAD + row + OTHER)
    assert "Larva (d) '>20' is taken for at least 20, no duration" in ran.out
    assert "Larva (d): >20" in {line.get("text") for line in story.on_disk()}


def test_one_that_lives_is_so_old_at_least(story: Story, tmp_path: Path) -> None:
    found = ends_of(story, tmp_path, f"T1,{SPECIES},2023-05-01,6,>20,,N\n")
    assert found["missing"] == ["larva"]
    assert spans_of(story, tmp_path)["larva"] == 26


def test_one_that_emerged_has_no_such_duration(story: Story, tmp_path: Path) -> None:
    head = "ID,Species,Laid,Egg (d),Larva (d),Pupa (d),Total (d),Died?\n"
    rows = f"T1,{SPECIES},2023-05-01,6,>20,12,44,N\nT2,{SPECIES},2023-05-01,6,25,13,44,N\n"
    ran = imported(story, tmp_path, "old.csv", head + rows, "--as", "left=not known")
    assert ran.status == 0, ran.err + ran.out
    # by its total and the two others it was a larva for 26 days
    assert spans_of(story, tmp_path) == {
        "egg": 6,
        "larva": 25.5,
        "pupa": 12.5,
        "egg to adult": 44,
    }


@pytest.mark.parametrize(
    ("cells", "why"),
    [
        ("6,>20,55,N", "Larva (d) is '>20' of 55 days in all; write the days, or as what it lives"),
        ("6,26,>44,N", "Total (d) is '>44'; write how many days, or leave it empty"),
        ("6,<20,44,N", "Larva (d) is '<20'; write how many days, or leave it empty"),
    ],
)
def test_what_that_leaves_open_is_said(story: Story, tmp_path: Path, cells: str, why: str) -> None:
    row = f"T1,{SPECIES},2023-05-01,{cells}\n"
    ran = imported(story, tmp_path, "old.csv", HEAD + row + OTHER)
    assert f"line 2 cannot be read: {why}" in ran.out + ran.err
