"""A table of animals with days of each stage, some of which still live in the stage whose days it tells last."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Pararge verrina"
HEAD = "ID,Family,Species,Oviposited,Egg d,Larval d,Pupal d,Outcome\n"


def of_fate(fate: str, larval: int, pupal: str, sex: str = "") -> str:
    """One that emerged, and one of some fate."""
    head = HEAD.replace("\n", ",Sex\n") if sex else HEAD
    end = f",{sex}" if sex else ""
    return (
        f"{head}1,F1,{SPECIES},2021-05-03,6,20,10,eclosed{end}\n"
        f"2,F1,{SPECIES},2021-05-03,6,{larval},{pupal},{fate}{end}\n"
    )


@pytest.mark.parametrize(
    "fate",
    [
        *("still pupa", "pupa alive", "pupa", "overwintering", "diapause", "pupa overwintering"),
        *("noch Puppe", "überwintert", "encore chrysalide", "hiverne", "sigue pupa"),
        *("hibernando", "nog pop", "overwintert"),
    ],
)
def test_a_pupa_that_lives_is_a_pupa(story: Story, tmp_path: Path, fate: str) -> None:
    ran = imported(story, tmp_path, "old.csv", of_fate(fate, 21, "40"))
    assert ran.status == 0, ran.err
    assert stages(story, tmp_path) == {
        "egg": (2, 0),
        "larva": (2, 0),
        "pupa": (2, 0),
        "adult": (1, 0),
    }
    notes = [line["text"] for line in story.on_disk() if line["what"] == "note"]
    assert fate == "pupa" or f"Outcome: {fate}" in notes
    ends = [line["at"] for line in story.on_disk() if line.get("container") == "2/21"]
    assert str(max(map(str, ends))).startswith("2021-07-09")  # 67 days after it was laid


@pytest.mark.parametrize("fate", ["still larva", "larva alive", "noch Raupe", "sigue oruga"])
def test_a_larva_that_lives_is_a_larva(story: Story, tmp_path: Path, fate: str) -> None:
    ran = imported(story, tmp_path, "old.csv", of_fate(fate, 15, ""))
    assert ran.status == 0, ran.err
    assert stages(story, tmp_path)["pupa"] == (1, 0)
    assert stages(story, tmp_path)["larva"] == (2, 0)


def test_a_pupa_of_known_sex_that_lives_is_a_pupa(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "old.csv", of_fate("still pupa", 21, "40", "f"))
    assert ran.status == 0, ran.err
    assert stages(story, tmp_path)["adult"] == (1, 0)
