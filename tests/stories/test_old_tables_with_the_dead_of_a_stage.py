"""A cell that tells what happened, and of which stage some died beside: the stage is kept."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages, taken
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Aglia verrina"
HEAD = f"""date,cup,species,what,number
2016-05-14,C1,{SPECIES},laid,30
"""
HATCHED, PUPATED = f"2016-05-24,C1,{SPECIES},hatched,30\n", f"2016-06-24,C1,{SPECIES},pupated,20\n"


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        ('2016-05-24,C1,,"28 hatched, 2 dead eggs",', {"egg": (30, 2), "larva": (28, 0)}),
        ('2016-05-24,C1,,"28 hatched, 2 dead eggs",30', {"egg": (30, 2), "larva": (28, 0)}),
        ('2016-05-24,C1,,"28 hatched, 2 dead eggs",28', {"egg": (30, 2), "larva": (28, 0)}),
        ('2016-05-24,C1,,"hatched, 2 dead eggs",28', {"egg": (30, 2), "larva": (28, 0)}),
        ('2016-05-24,C1,,"2 dead eggs, rest hatched",', {"egg": (30, 2), "larva": (28, 0)}),
        ('2016-05-24,C1,,"28 geschlüpft, 2 tote Eier",', {"egg": (30, 2), "larva": (28, 0)}),
    ],
)
def test_dead_eggs_beside_the_hatched(
    story: Story, tmp_path: Path, row: str, expected: dict[str, tuple[int, int]]
) -> None:
    ran = taken(story, tmp_path, HEAD + row)
    assert stages(story, tmp_path) == expected
    assert "of which stage" not in ran.out


@pytest.mark.parametrize(
    "what", ["20 pupated, 3 dead larvae", "20 pupated, 3 larvae died", "3 larvae died; 20 pupated"]
)
def test_dead_larvae_beside_the_pupated(story: Story, tmp_path: Path, what: str) -> None:
    ran = taken(story, tmp_path, HEAD + HATCHED + f'2016-06-24,C1,,"{what}",')
    assert stages(story, tmp_path) == {"egg": (30, 0), "larva": (30, 3), "pupa": (20, 0)}
    assert "of which stage" not in ran.out


@pytest.mark.parametrize("what", ["15 emerged, 2 pupae died", "15 emerged and 2 dead pupae"])
def test_dead_pupae_beside_the_emerged(story: Story, tmp_path: Path, what: str) -> None:
    ran = taken(story, tmp_path, HEAD + HATCHED + PUPATED + f'2016-07-24,C1,,"{what}",')
    found = stages(story, tmp_path)
    assert found["pupa"] == (20, 2)
    assert found["adult"] == (15, 0)
    assert "of which stage" not in ran.out


def test_both_of_a_cell_need_what_the_column_says(story: Story, tmp_path: Path) -> None:
    """The dead of no stage stay as they were: taken for the likeliest, which is told."""
    ran = taken(story, tmp_path, HEAD + HATCHED + '2016-06-24,C1,,"20 pupated, 3 dead",23')
    assert stages(story, tmp_path)["pupa"][0] == 20
    assert "of which stage 3 were is not written" in ran.out


@pytest.mark.parametrize("first", ["3", "3 œufs"])
def test_the_dead_of_each_stage_in_one_cell_are_of_these(
    story: Story, tmp_path: Path, first: str
) -> None:
    table = f"""Ponte;Espèce;Oeufs;Date ponte;Éclosion;Larves;Morts;Nymphose;Chrysalides;Imagos;Sortie;Observations
1;{SPECIES};40;2019-05-12;2019-05-24;37;{first};2019-06-20;37;37;2019-07-10;au frais
2;{SPECIES};25;2019-05-15;2019-05-27;20;2 larves, 1 chrysalide;2019-06-22;18;17;2019-07-12;
"""
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err + ran.out
    assert "note (by its name)" in ran.out
    dead = sorted(
        (line["stage"], line["number"]) for line in story.on_disk() if line["what"] == "died"
    )
    assert dead == [("egg", 3), ("larva", 2), ("pupa", 1)]
