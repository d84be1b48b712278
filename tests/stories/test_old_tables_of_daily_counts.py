"""Old tables of how many of each stage there were each day, in the languages keepers write."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages, taken

SPECIES = "Aglia verrina"
HEADS = (
    "date,cup,species,eggs,larvae,pupae,adults,dead",
    "Datum,Dose,Art,Eier,Raupen,Puppen,Falter,tot",
    "Date,Boîte,Espèce,Œufs,Chenilles,Chrysalides,Papillons,morts",
    "Fecha,Caja,Especie,Huevos,Orugas,Crisálidas,Adultos,muertos",
    "Datum,Potje,Soort,Eieren,Rupsen,Poppen,Vlinders,dood",
)
ROWS = f"""
2022-05-01,X,{SPECIES},20,,,,
2022-05-12,X,{SPECIES},2,18,,,
2022-05-22,X,{SPECIES},,16,,,2
2022-05-30,X,{SPECIES},,16,,,0
2022-06-12,X,{SPECIES},,3,12,,1
2022-07-12,X,{SPECIES},,,1,11,
"""


@pytest.mark.parametrize("head", HEADS)
def test_daily_counts_are_counts(story: Story, tmp_path: Path, head: str) -> None:
    taken(story, tmp_path, head + ROWS)
    found = stages(story, tmp_path)
    assert {stage: entered for stage, (entered, _) in found.items()} == {
        "egg": 20,
        "larva": 18,
        "pupa": 12,
        "adult": 11,
    }
    assert found["larva"][1] == 3
    counted = [line for line in story.on_disk() if line["what"] == "counted"]
    assert [(line["at"][:10], line["number"]) for line in counted] == [("2022-05-30", 16)]


@pytest.mark.parametrize(
    "head", ["N°;Lot;Date;Œuf;Chenille;Chrysalide", "Nr;Zucht;Datum;Ei;Raupe;Puppe"]
)
def test_days_of_animals_stay_days(story: Story, tmp_path: Path, head: str) -> None:
    rows = "".join(f"{n};A;2018-06-{3 + n // 3:02d};8;{30 + n};1{n % 3}\n" for n in range(1, 9))
    ran = taken(story, tmp_path, f"{head}\n{rows}", "--species", SPECIES)
    assert "days as larva" in ran.out
    assert stages(story, tmp_path)["adult"] == (8, 0)


def test_the_dead_of_a_stage_that_is_over(story: Story, tmp_path: Path) -> None:
    """The cell of the larvae is empty once there are none; one more had died."""
    taken(
        story,
        tmp_path,
        f"""date,cup,species,eggs,larvae,pupae,dead
2022-05-01,X,{SPECIES},20,,,
2022-05-12,X,{SPECIES},,20,,
2022-05-22,X,{SPECIES},,18,,2
2022-06-12,X,{SPECIES},,,17,1
""",
    )
    assert stages(story, tmp_path)["larva"] == (20, 3)
    assert stages(story, tmp_path)["pupa"][0] == 17


def test_a_column_of_dead_that_holds_only_ones_is_how_many(story: Story, tmp_path: Path) -> None:
    taken(
        story,
        tmp_path,
        f"""date,cup,species,eggs,larvae,pupae,dead
2022-05-01,X,{SPECIES},20,,,
2022-05-12,X,{SPECIES},,20,,
2022-05-22,X,{SPECIES},,19,,1
2022-06-12,X,{SPECIES},,,18,1
""",
    )
    assert stages(story, tmp_path)["larva"] == (20, 2)


@pytest.mark.parametrize("heading", ["dead", "tot", "deaths"])
def test_one_dead_in_events_is_how_many(story: Story, tmp_path: Path, heading: str) -> None:
    taken(
        story,
        tmp_path,
        f"""date,cup,species,what,number,{heading}
2022-05-01,X,{SPECIES},laid,20,
2022-05-12,X,{SPECIES},hatched,20,
2022-06-12,X,{SPECIES},pupated,18,1
2022-07-12,X,{SPECIES},emerged,16,1
""",
    )
    assert sum(died for _, died in stages(story, tmp_path).values()) == 2
