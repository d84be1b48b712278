"""Old tables whose animals are numbered within each brood, or that call the column of codes No."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages
from tests.stories.test_old_tables_taken_in_again import broods, imported

SPECIES = "Actias verrina"
HEAD = "Brood,{},Species,Laid,Egg days,Larva days,Pupa days,Sex,Fate\n"


def numbered(heading: str) -> str:
    rows = [
        f"{brood},{number},{SPECIES},{day},{8 + number % 2},24,14,{'mf'[number % 2]},released\n"
        for brood, day in (("A", "2019-05-06"), ("B", "2019-05-09"))
        for number in range(1, 5)
    ]
    return HEAD.format(heading) + "".join(rows)


@pytest.mark.parametrize("heading", ["Nr", "No.", "#", "N", "N.", "Number", "Anzahl", "n°"])
def test_a_number_within_each_brood_is_the_animals(
    story: Story, tmp_path: Path, heading: str
) -> None:
    ran = imported(story, tmp_path, "alt.csv", numbered(heading))
    assert ran.status == 0, ran.err + ran.out
    assert "animal (it numbers the animals)" in ran.out
    assert stages(story, tmp_path)["adult"] == (8, 0)
    containers = {line["container"] for line in story.on_disk() if line["what"] == "emerged"}
    assert containers >= {"A-1/19", "B-1/19"}
    assert len(containers) == 8


def test_three_animals_of_two_broods_are_three(story: Story, tmp_path: Path) -> None:
    text = HEAD.format("Nr") + "".join(
        f"{code},{SPECIES},2019-05-06,8,24,14,m,released\n" for code in ("A,1", "A,2", "B,1")
    )
    assert imported(story, tmp_path, "alt.csv", text).status == 0
    assert stages(story, tmp_path)["egg"] == (3, 0)


def test_how_many_of_each_brood_stays_how_many(story: Story, tmp_path: Path) -> None:
    text = f"Brood,Nr,Species,Laid,Fate\nA,3,{SPECIES},2019-05-06,died\nA,5,{SPECIES},2019-05-06,\n"
    ran = imported(story, tmp_path, "alt.csv", text + f"B,2,{SPECIES},2019-05-07,died\n")
    assert "number (by its name, the only number)" in ran.out
    assert stages(story, tmp_path)["egg"][0] == 10


@pytest.mark.parametrize("heading", ["Cat #", "No.", "Nr", "Moth #"])
@pytest.mark.parametrize("brood", ["Batch", "Brood", "Clutch"])
def test_the_column_called_brood_is_the_brood(
    story: Story, tmp_path: Path, heading: str, brood: str
) -> None:
    text = f"""{heading},{brood},Species,Laid,Egg days,Larva days,Pupa days
A1,K,{SPECIES},2019-05-06,8,24,14
A2,K,{SPECIES},2019-05-06,9,24,14
A3,L,{SPECIES},2019-05-09,9,25,14
"""
    ran = imported(story, tmp_path, "alt.csv", text)
    assert ran.status == 0, ran.err + ran.out
    assert broods(story) == ["K", "L"]
    containers = {line["container"] for line in story.on_disk() if line["what"] == "emerged"}
    assert containers == {"A1/19", "A2/19", "A3/19"}
