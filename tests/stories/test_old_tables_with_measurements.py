"""Old tables with columns that measure a stage or number it: these are no counts, no days, no dates."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages
from tests.stories.test_old_tables_taken_in_again import broods, imported

SPECIES = "Actias verrina"


@pytest.mark.parametrize(
    "heading",
    [
        "Egg diameter mm",
        "Larva length (mm)",
        "Pupa weight (mg)",
        "Puppengewicht",
        "Raupengewicht g",
        "Raupenlänge",
        "Poids chrysalide (mg)",
        "Longueur chenille mm",
        "Peso de la crisálida",
        "Popgewicht",
        "Egg batch",
        "Egg cup",
        "Larva box",
        "Raupe Nr",
        "N° chenille",
        "Pupa ID",
    ],
)
def test_a_measure_or_a_number_of_a_stage_is_no_count_and_no_days(
    story: Story, tmp_path: Path, heading: str
) -> None:
    table = f"""ID,Family,Species,Laid,{heading},Days egg,Days larva,Days pupa,Died?
A1,A,{SPECIES},2022-06-13,23,8,25,12,N
A2,A,{SPECIES},2022-06-13,22,9,26,12,N
A3,A,{SPECIES},2022-06-13,24,8,26,13,N
"""
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err + ran.out
    assert {name: number for name, (number, _) in stages(story, tmp_path).items()} == {
        "egg": 3,
        "larva": 3,
        "pupa": 3,
        "adult": 3,
    }
    emerged = sorted(line["at"][:10] for line in story.on_disk() if line["what"] == "emerged")
    assert emerged == ["2022-07-28", "2022-07-30", "2022-07-30"]


def test_a_clutch_of_eggs_is_a_brood_beside_their_count(story: Story, tmp_path: Path) -> None:
    table = f"""Egg batch,Species,Laid,Eggs,Larvae,Pupae,Adults
7,{SPECIES},3 May 2019,20,18,15,10
8,{SPECIES},4 May 2019,30,25,21,14
"""
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err + ran.out
    assert broods(story) == ["7", "8"]


@pytest.mark.parametrize("heading", ["Number of eggs", "No. eggs", "Egg clutch size", "Eggs/batch"])
def test_how_many_eggs_a_clutch_has_stays_how_many(
    story: Story, tmp_path: Path, heading: str
) -> None:
    table = f"Brood,Species,Laid,{heading},Larvae\nA,{SPECIES},2019-05-03,20,18\n"
    assert imported(story, tmp_path, "old.csv", table).status == 0
    assert stages(story, tmp_path)["egg"][0] == 20


@pytest.mark.parametrize("heading", ["N° ponte", "Ponte n°", "Gelege-Nr.", "Ref"])
def test_a_number_like_a_date_is_a_code_beside_whole_dates(
    story: Story, tmp_path: Path, heading: str
) -> None:
    table = f"""{heading};Espèce;Mère;Ponte;Œufs;Éclosion;Chenilles
1/4;{SPECIES};F1;13/04/2019;20;28/04/2019;18
2/4;{SPECIES};F2;14/04/2019;30;29/04/2019;25
3/4;{SPECIES};F3;16/04/2019;10;30/04/2019;9
"""
    ran = imported(story, tmp_path, "old.csv", table, "--dates", "day-first")
    assert ran.status == 0, ran.err + ran.out
    assert "brood (by" in ran.out
    laid = [line["at"][:10] for line in story.on_disk() if line["what"] == "stocked"]
    assert laid == ["2019-04-13", "2019-04-14", "2019-04-16"]


@pytest.mark.parametrize(("heading", "eggs"), [("Ponte", "Oeufs"), ("Eiablage", "Eier")])
def test_a_laying_that_is_numbered_beside_its_eggs_is_a_brood(
    story: Story, tmp_path: Path, heading: str, eggs: str
) -> None:
    table = f"""{heading};Species;{eggs};Date;Larvae
1;{SPECIES};40;2019-05-12;38
2;{SPECIES};25;2019-05-15;20
4;{SPECIES};31;2019-05-16;31
"""
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err + ran.out
    assert stages(story, tmp_path)["egg"][0] == 96
    assert broods(story) == ["1", "2", "4"]
