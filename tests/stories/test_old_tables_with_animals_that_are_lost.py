"""What is lost is missing, in whatever language: it neither died nor escaped."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages, taken
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Gonepteryx verrina"
LOST = ("lost", "perdue", "perdu", "missing", "verloren", "weg", "disparue", "perdida", "kwijt")


@pytest.mark.parametrize("heading", ["died", "Mort?", "fate", "gestorben"])
def test_a_lost_animal_is_not_known(story: Story, tmp_path: Path, heading: str) -> None:
    rows = "".join(
        f"{n};{SPECIES};2018-06-03;9;;14;{word}\n" for n, word in enumerate(LOST, start=2)
    )
    text = f"animal;species;laid;days as egg;days as larva;total;{heading}\n"
    text += f"1;{SPECIES};2018-06-03;9;30;55;alive\n{rows}"
    ran = imported(story, tmp_path, "old.csv", text)
    assert ran.status == 0, ran.err + ran.out
    assert {line["what"] for line in story.on_disk()}.isdisjoint({"died", "escaped"})
    assert stages(story, tmp_path)["larva"] == (len(LOST) + 1, 0)


@pytest.mark.parametrize("word", LOST)
def test_a_line_of_lost_larvae_is_of_missing_ones(story: Story, tmp_path: Path, word: str) -> None:
    taken(
        story,
        tmp_path,
        f"""date,cup,species,what,number
        2024-05-03,X1,{SPECIES},laid,20
        2024-05-07,X1,{SPECIES},hatched,20
        2024-05-12,X1,{SPECIES},{word},3""",
    )
    lines = story.on_disk()
    assert {line["what"] for line in lines}.isdisjoint({"died", "escaped"})
    assert next(line["number"] for line in lines if line["what"] == "missing") == 3


@pytest.mark.parametrize("heading", ["Verluste", "losses", "pertes", "pérdidas", "verlies"])
def test_a_column_of_losses_is_of_the_dead(story: Story, tmp_path: Path, heading: str) -> None:
    ran = taken(
        story,
        tmp_path,
        f"""date,cup,species,what,number,{heading}
        2024-05-03,X1,{SPECIES},laid,20,
        2024-05-07,X1,{SPECIES},hatched,20,2
        2024-06-05,X1,{SPECIES},pupated,12,1""",
    )
    assert "deaths (by its name)" in ran.out
