"""Temperatures of old tables in Fahrenheit, said in a heading, in a cell, or by the numbers alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Melitaea orata"
# 40, 59, 68 and 86 F are 4.44, 15, 20 and 30 C: C = (F - 32) / 1.8, NIST SP 811, B.8.


def read_of(story: Story) -> list[float]:
    return [
        line["temperature_c"]
        for line in story.on_disk()
        if line["what"] == "air" and line.get("temperature_c") is not None
    ]


def events(heading: str, *cells: str) -> str:
    rows = "".join(f"2023-05-{20 + at};J1;;checked;;{cell}\n" for at, cell in enumerate(cells))
    return f"date;cup;species;what;number;{heading}\n2023-05-19;J1;{SPECIES};laid;20;\n{rows}"


@pytest.mark.parametrize(
    ("heading", "cells", "read"),
    [
        ("Temp (F)", ["59", "68F", "20 C"], [15, 20, 20]),
        ("Temp (°F)", ["59", "40"], [15, 4.444]),
        ("Temperature F", ["59"], [15]),
        ("Temperature (Fahrenheit)", ["59"], [15]),
        ("T_F", ["59"], [15]),
        ("Temp", ["40°F", "40 F", "68 °F", "20"], [4.444, 4.444, 20, 20]),
        ("Temp", ["~68F", "67-69 °F"], [20, 20]),
        ("Temp (C)", ["21", "68F"], [21, 20]),
        ("Temp", ["21", "24"], [21, 24]),
    ],
)
def test_the_unit_in_heading_or_cell_counts(
    story: Story, tmp_path: Path, heading: str, cells: list[str], read: list[float]
) -> None:
    table = events(heading, *cells)
    ran = imported(story, tmp_path, "old.csv", table, "--as", "left=not known")
    assert ran.status == 0, ran.err + ran.out
    assert read_of(story) == read


def test_a_heading_in_fahrenheit_is_told(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "old.csv", events("Temp (F)", "68"), "--as", "left=not known")
    assert "Temp (F) is in F, recorded in C" in ran.out


def test_numbers_that_can_be_fahrenheit_alone_are_asked_about_once(
    story: Story, tmp_path: Path
) -> None:
    table = events("Temp", "68", "59", "86", "40°F")
    ran = imported(story, tmp_path, "old.csv", table)
    assert "Temp: 59 to 86 in 3 lines: C or F? Say it with --as 'unit of Temp=F'" in ran.err
    said = ("--as", "unit of Temp=F", "--as", "left=not known")
    ran = imported(story, tmp_path, "old.csv", table, *said)
    assert ran.status == 0, ran.err + ran.out
    assert "said of words" not in ran.out
    assert read_of(story) == [20, 15, 30, 4.444]


def test_so_it_is_in_rows_of_a_life(story: Story, tmp_path: Path) -> None:
    table = f"""ID,Species,Laid,Egg (d),Larva (d),Pupa (d),Temp (F)
a,{SPECIES},2023-05-01,6,20,10,68
b,{SPECIES},2023-05-01,5,15,8,86
"""
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err + ran.out
    assert sorted(read_of(story)) == [20, 30]


def test_a_laying_that_was_kept_at_several_temperatures_is_told_apart(
    story: Story, tmp_path: Path
) -> None:
    table = f"""ID,Mother,Species,Laid,Egg (d),Larva (d),Pupa (d),Temp (F)
a,W1,{SPECIES},2023-05-01,6,20,10,68
b,W1,{SPECIES},2023-05-01,5,15,8,86
c,W2,{SPECIES},2023-05-02,5,15,8,86
"""
    ran = imported(story, tmp_path, "old.csv", table)
    told = "a brood at each temperature, of one laying: W1 (ORAT23.1 at 20 C, ORAT23.2 at 30 C)"
    assert told in ran.out
