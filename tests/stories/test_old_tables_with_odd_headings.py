"""Old tables whose headings say less than their cells: what happened to it, moth, came to."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Actias verrina"


@pytest.mark.parametrize(
    "heading", ["What happened to it", "What became of it", "Was wurde daraus", "Devenu"]
)
def test_what_happened_to_it_is_its_fate(story: Story, tmp_path: Path, heading: str) -> None:
    text = f"""Animal,Species,Laid,Hatched,{heading}
A1,{SPECIES},2019-05-06,2019-05-14,died
A2,{SPECIES},2019-05-06,2019-05-14,released
"""
    ran = imported(story, tmp_path, "alt.csv", text)
    assert ran.status == 0, ran.err + ran.out
    assert "fate (by its name)" in ran.out
    assert stages(story, tmp_path)["larva"] == (2, 1)


@pytest.mark.parametrize("heading", ["Came to", "Attached to"])
@pytest.mark.parametrize(("cells", "is_to"), [(("lamp", "sugar"), False), (("T2", "T3"), True)])
def test_only_codes_are_containers_moved_to(
    story: Story, tmp_path: Path, heading: str, cells: tuple[str, str], is_to: bool
) -> None:
    what = "moved" if is_to else "died"
    text = f"""date,cup,species,what,number,{heading}
2024-05-03,X1,{SPECIES},laid,20,
2024-05-07,X1,{SPECIES},hatched,20,
2024-05-12,X1,{SPECIES},{what},3,{cells[0]}
2024-05-14,X1,{SPECIES},{what},3,{cells[1]}
"""
    ran = imported(story, tmp_path, "alt.csv", text, "--dry-run")
    line = next(one for one in ran.out.splitlines() if one.strip().startswith(heading))
    assert ("  to (" in line) is is_to, line


@pytest.mark.parametrize("heading", ["Moth", "Specie", "Gatunek", "Animal"])
def test_binomials_are_the_species(story: Story, tmp_path: Path, heading: str) -> None:
    text = f"""Brood,{heading},Laid,Eggs,Larvae
K1,{SPECIES},2019-05-06,20,18
K2,Saturnia verrina,2019-05-09,12,12
"""
    ran = imported(story, tmp_path, "alt.csv", text)
    assert ran.status == 0, ran.err + ran.out
    assert "species (by what is in it)" in ran.out
    taxa = {line["taxon"] for line in story.on_disk() if line["what"] == "brood"}
    assert taxa == {SPECIES, "Saturnia verrina"}


def test_remarks_of_two_words_are_no_species(story: Story, tmp_path: Path) -> None:
    text = "Brood,Laid,Eggs,Larvae,Xyz\nK1,2019-05-06,20,18,Found dead\nK2,2019-05-07,12,12,Very small\n"
    ran = imported(story, tmp_path, "alt.csv", text)
    assert "no column says the species" in ran.err


@pytest.mark.parametrize("said", ["brood", "Brood", "eggs", "larva"])
def test_a_word_for_a_column_is_no_species(story: Story, tmp_path: Path, said: str) -> None:
    text = "Brood,Laid,Eggs,Larvae\nK1,2019-05-06,20,18\nK2,2019-05-07,12,12\n"
    ran = imported(story, tmp_path, "alt.csv", text, "--species", said)
    assert ran.status == 1
    assert f"'{said}' is no species" in ran.err


@pytest.mark.parametrize("unit", ["giorni", "pv"])
def test_a_bracket_that_is_not_understood_is_asked_about(
    story: Story, tmp_path: Path, unit: str
) -> None:
    table = (
        f"Nr,Brood,Species,Laid,Larva ({unit}),Pupa ({unit})\n"
        "1,A,Pieris verrina,2021-06-01,21,11\n2,A,Pieris verrina,2021-06-01,22,12\n"
    )
    ran = imported(story, tmp_path, "old.csv", table)
    asked = f"'{unit}' is not known; are its numbers (21, 22) days as larva or larvae?"
    assert f"Larva ({unit}): {asked}" in ran.err
    said = ("--map", f"Larva ({unit})=days as larva", "--dry-run")
    ran = imported(story, tmp_path, "old.csv", table, *said)
    assert "days as pupa (by its name)" in ran.out
    said = ("--map", f"Larva ({unit})=larvae", "--dry-run")
    ran = imported(story, tmp_path, "old.csv", table, *said)
    assert "pupae (by its name)" in ran.out + ran.err or ran.status


@pytest.mark.parametrize("beside", ["n", "total", "L1", "Stück", "found", "alive"])
def test_a_bracket_that_says_how_many_is_not_asked_about(
    story: Story, tmp_path: Path, beside: str
) -> None:
    table = (
        f"Brood,Species,Laid,Eggs,Larvae ({beside}),Pupae\n"
        "A,Pieris verrina,2021-06-01,40,30,20\nB,Pieris verrina,2021-06-01,35,30,22\n"
    )
    ran = imported(story, tmp_path, "old.csv", table, "--dry-run")
    assert ran.status == 0, ran.err
    assert "larvae (by its name)" in ran.out
