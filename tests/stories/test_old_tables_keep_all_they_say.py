"""Nothing of an old table is lost: infertile broods, words that become notes, a number called 'no'."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_broods import taken
from tests.stories.test_old_tables_of_events import stages
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Aglia verrina"
HEAD = "brood,species,laid,laid until,eggs,hatched,larvae,pupae,adults\n"


@pytest.mark.parametrize(
    "text",
    [
        f"{HEAD}Z1,{SPECIES},2016-05-14,2016-05-15,37,,0,,\n",
        f"{HEAD}Z1,{SPECIES},2016-05-14,2016-05-15,37,,0,-,0\n",
        f"brood,species,laid,laid until,eggs,dead eggs\nZ1,{SPECIES},2016-05-14,2016-05-15,37,37\n",
    ],
)
def test_an_infertile_brood_laid_on_two_days(story: Story, tmp_path: Path, text: str) -> None:
    taken(story, tmp_path, text)
    assert stages(story, tmp_path)["egg"] == (37, 37)
    broods = table_of(story, tmp_path, "broods")
    assert broods["laid to"][0].startswith("2016-05-15")


def test_eggs_that_hatched_before_the_last_were_laid(story: Story, tmp_path: Path) -> None:
    taken(story, tmp_path, f"{HEAD}Z1,{SPECIES},2016-05-14,2016-05-28,37,2016-05-24,30,20,15\n")
    assert stages(story, tmp_path)["larva"][0] == 30
    broods = table_of(story, tmp_path, "broods")
    assert broods["laid to"][0].startswith("2016-05-28")


def test_a_word_that_means_a_note_is_kept(story: Story, tmp_path: Path) -> None:
    text = f"""date,cup,species,what,number
2016-05-14,C1,{SPECIES},laid,37
2016-05-16,C1,{SPECIES},misted,
2016-05-17,C1,{SPECIES},weighed,4
"""
    taken(
        story, tmp_path, text, "--as", "misted=note", "--as", "weighed=note", "--as", "left=living"
    )
    notes = [line["text"] for line in story.on_disk() if line["what"] == "note"]
    assert notes == ["misted", "weighed: 4", "37 eggs of which nothing more is written: living"]


@pytest.mark.parametrize("heading", ["no", "No.", "nr", "Nr.", "anz.", "Anz", "N°"])
def test_the_only_number_is_how_many(story: Story, tmp_path: Path, heading: str) -> None:
    taken(
        story,
        tmp_path,
        f"""Date;Tub;Sp;what;{heading}
10/05/2020;T5;{SPECIES};laid;22
20/05/2020;T5;{SPECIES};hatched;20
25/05/2020;T6;{SPECIES};laid;12
""",
        "--map",
        "Sp=species",
    )
    assert stages(story, tmp_path)["egg"][0] == 34


def test_a_running_number_is_none(story: Story, tmp_path: Path) -> None:
    ran = imported(
        story,
        tmp_path,
        "old.csv",
        f"""Nr;Date;Tub;Species;what
3;10/05/2020;T5;{SPECIES};22 laid
5;20/05/2020;T5;{SPECIES};20 hatched
8;25/05/2020;T6;{SPECIES};12 laid
""",
    )
    assert ran.status == 0, ran.err + ran.out
    assert stages(story, tmp_path)["egg"][0] == 34


@pytest.mark.parametrize("heading", ["Bem.", "Rem.", "Rmq.", "Obs.", "Anm.", "Komm."])
def test_short_words_for_remarks(story: Story, tmp_path: Path, heading: str) -> None:
    taken(
        story,
        tmp_path,
        f"brood,species,laid,eggs,adults,{heading}\nZ1,{SPECIES},2016-05-14,37,15,2 Krüppel\n",
    )
    assert any(line.get("text") == "2 Krüppel" for line in story.on_disk())


def test_the_means_of_a_french_table(story: Story, tmp_path: Path) -> None:
    rows = "".join(f"{n};A;{SPECIES};23/6/2018;8;{30 + n};12\n" for n in range(1, 5))
    head = "N°;Lot;Espèce;Ponte;J. oeuf;J. chenille;J. chrysalide\n"
    ran = imported(story, tmp_path, "old.csv", f"{head}{rows};moy.;;;8;32;12\n")
    assert "'moy.' reads as a sum or a mean of other lines" in ran.err


def test_sums_of_one_shape_are_asked_about_once(story: Story, tmp_path: Path) -> None:
    text = f"""brood,species,laid,eggs,adults
Z1,{SPECIES},2016-05-14,37,15
Summe 2016,,,37,15
Z2,{SPECIES},2017-05-14,30,10
Summe 2017,,,30,10
moy. A,,,33,12
"""
    said = ("--as", "empty species=no species", "--as", "Summe=sum", "--as", "moy.=sum")
    ran = imported(story, tmp_path, "old.csv", text, *said)
    assert ran.status == 0, ran.err + ran.out
    assert "left out, for they are sums or means of others: lines 3, 5, 6" in ran.out
