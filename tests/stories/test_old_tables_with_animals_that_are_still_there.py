"""Cells under 'Died?' that say that it still lives, and as what: neither a death nor an adult; and days that are at least so many."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported

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
