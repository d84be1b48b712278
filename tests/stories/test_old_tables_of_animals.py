"""Old tables with a row for each animal: their numbers, means below them, broods by laying day."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages
from tests.stories.test_old_tables_taken_in_again import broods, imported

SPECIES = "Pieris verrina"
HEAD = "N°;Espèce;Ponte;Œuf (j);Chenille (j);Chrysalide (j);Température"
ROWS = (
    f"1;{SPECIES};3.5.2019;5;21;9;22",
    f"2;{SPECIES};3.5.2019;5;22;9;22 C",
    f"3;{SPECIES};3.5.2019;5;22;10;22",
    f"4;{SPECIES};9.5.2019;5;20;9;",
    f"5;{SPECIES};9.5.2019;5;20;9;",
)


def table(*more: str) -> str:
    return "\n".join((HEAD, *ROWS, *more)) + "\n"


def test_running_numbers_are_the_animals_beside_a_row_of_means(
    story: Story, tmp_path: Path
) -> None:
    text = table("Moyenne;;;5;21;9;")
    ran = imported(story, tmp_path, "alt.csv", text)
    assert "line 7: 'Moyenne' reads as a sum or a mean of other lines" in ran.err
    assert "is it one (sum), or a line of its own (no sum)?" in ran.err
    ran = imported(story, tmp_path, "alt.csv", text, "--as", "Moyenne=sum")
    assert ran.status == 0, ran.err + ran.out
    assert "5 animals" in ran.out
    assert stages(story, tmp_path)["egg"] == (5, 0)


@pytest.mark.parametrize("word", ["mean", "Average", "Media", "Mittel", "Ø", "Mittelwert"])
def test_a_row_of_means_in_other_languages(story: Story, tmp_path: Path, word: str) -> None:
    ran = imported(story, tmp_path, "alt.csv", table(f"{word};;;5;21;9;"))
    assert f"line 7: '{word}' reads as a sum or a mean of other lines" in ran.err


@pytest.mark.parametrize("heading", ["N°", "n", "Anzahl", "Nr", "Chrysalis no"])
def test_running_numbers_under_any_heading(story: Story, tmp_path: Path, heading: str) -> None:
    text = table().replace("N°", heading)
    ran = imported(story, tmp_path, "alt.csv", text)
    assert ran.status == 0, ran.err + ran.out
    assert stages(story, tmp_path)["egg"] == (5, 0)


def test_a_brood_is_of_one_laying_day(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "alt.csv", table())
    assert ran.status == 0, ran.err + ran.out
    assert broods(story) == ["VERR19.1", "VERR19.2"]


def test_animals_of_one_day_at_two_temperatures_are_two_broods(
    story: Story, tmp_path: Path
) -> None:
    text = table().replace("9;22 C\n", "9;26\n")
    assert imported(story, tmp_path, "alt.csv", text).status == 0
    assert broods(story) == ["VERR19.1", "VERR19.2", "VERR19.3"]


def test_one_odd_temperature_is_told_alone(story: Story, tmp_path: Path) -> None:
    text = table().replace("9;22 C\n", "9;20-23\n").replace("9;\n", "9;22\n", 1)
    ran = imported(story, tmp_path, "alt.csv", text)
    assert ran.status == 0, ran.err + ran.out
    assert "line 3: Température '20-23' is taken for 21.5" in ran.out


def test_how_they_died_is_a_cause(story: Story, tmp_path: Path) -> None:
    text = f"""Nr;Species;Laid;Hatched;Died how
1;{SPECIES};2019-05-03;2019-05-08;mould
2;{SPECIES};2019-05-03;2019-05-08;fell in the sink
3;{SPECIES};2019-05-03;2019-05-08;
"""
    ran = imported(story, tmp_path, "alt.csv", text)
    assert ran.status == 0, ran.err + ran.out
    assert stages(story, tmp_path)["larva"] == (3, 2)
    assert any("fell in the sink" in str(line.get("text", "")) for line in story.on_disk())


def test_all_and_two_sexes_in_a_row_of_a_brood(story: Story, tmp_path: Path) -> None:
    text = f"""Brood;Species;Laid;Eggs;Hatched;Pupae;Adults;Emerged on
K1;{SPECIES};2019-05-03;20;all;14;2 f + 10 m;2019-06-20
K2;{SPECIES};2019-05-04;12;11;9;3♀ 1♂;2019-06-21
"""
    ran = imported(story, tmp_path, "alt.csv", text)
    assert ran.status == 0, ran.err + ran.out
    assert stages(story, tmp_path)["larva"][0] == 31
    assert stages(story, tmp_path)["adult"][0] == 16
    sexes = [(x["sex"], x["number"]) for x in story.on_disk() if x["what"] == "emerged"]
    assert sexes == [("female", 2), ("male", 10), ("female", 3), ("male", 1)]
