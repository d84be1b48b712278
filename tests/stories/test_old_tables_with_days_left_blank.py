"""A table of days in each stage of which one is blank, is a range, or is more than the sum tells."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Saturnia verrina"
BROODS = "Brood;Species;Laid;Eggs;Larvae;Pupae;Adults"


def took(story: Story, tmp_path: Path) -> dict[str, list[float]]:
    """How many days each stage took, by stage: of one duration after the other."""
    lines = table_of(story, tmp_path, "durations")
    found: dict[str, list[float]] = {}
    for _, line in lines.iterrows():
        found.setdefault(str(line["stage"]), []).extend([line["mean (days)"]] * int(line["number"]))
    return {stage: sorted(days) for stage, days in found.items()}


@pytest.mark.parametrize(
    ("blank", "pupa", "whole"),
    [
        (",30,17,", [16, 17], [55]),
        (",30,17,56", [16, 17], [55, 56]),
        (",,17,", [16, 17], [55]),
        (",30,,56", [16], [55, 56]),
    ],
)
def test_days_that_are_told_count_by_themselves(
    story: Story, tmp_path: Path, blank: str, pupa: list[int], whole: list[int]
) -> None:
    heads = "ID,Species,Laid,Days as egg,Days as larva,Days as pupa,Total days,Temp,Died"
    rows = [f"1,{SPECIES},2021-05-01,{blank},20,no", f"2,{SPECIES},2021-05-01,8,31,16,55,22,no"]
    ran = imported(story, tmp_path, "old.csv", "\n".join((heads, *rows, "")))
    assert ran.status == 0, ran.err
    assert "not used" not in ran.out
    days = took(story, tmp_path)
    assert days["larva"] == ([30, 31] if ",30" in blank else [31])
    assert (days["pupa"], days["egg to adult"]) == (pupa, whole)
    lines = table_of(story, tmp_path, "durations")
    warm = lines[lines["stage"] == "pupa"].set_index("mean (days)")["mean temperature (C)"]
    assert dict(warm) == {one: {17: 20, 16: 22}[one] for one in pupa}


def test_days_of_larvae_that_come_in_as_such_are_theirs(story: Story, tmp_path: Path) -> None:
    table = "Brood,Species,Hatched,Larvae,Pupae,Adults,Days as larva,Days as pupa\n"
    ran = imported(story, tmp_path, "old.csv", f"{table}B1,{SPECIES},2021-05-10,18,14,9,30,17\n")
    assert ran.status == 0, ran.err
    assert "not used" not in ran.out
    assert took(story, tmp_path) == {"larva": [30] * 14, "pupa": [17] * 9}


def test_days_in_which_a_larva_died_end_no_stage(story: Story, tmp_path: Path) -> None:
    table = "ID,Species,Laid,Days as egg,Days as larva,Days as pupa,Died\n"
    rows = f"1,{SPECIES},2021-05-01,,11,,larva\n2,{SPECIES},2021-05-01,8,31,16,no\n"
    ran = imported(story, tmp_path, "old.csv", table + rows, "--as", "larva=died")
    assert ran.status == 0, ran.err
    assert "line 2: Days as larva '11' is not used, for when they hatched is not written" in ran.out
    assert took(story, tmp_path)["larva"] == [31]


def test_a_sum_of_more_days_than_the_stages_have_is_told(story: Story, tmp_path: Path) -> None:
    table = "ID,Species,Laid,Days as egg,Days as larva,Days as pupa,Total days,Died\n"
    rows = "".join(
        f"{one},{SPECIES},2021-05-01,8,30,12,{whole},{fate}\n"
        for one, whole, fate in ((1, 50, "no"), (2, 55, "no"))
    )
    ran = imported(story, tmp_path, "old.csv", table + rows)
    assert ran.status == 0, ran.err
    assert "line 3: Total days '55' is not used, for its stages have 50" in ran.out
    assert "line 2" not in ran.out
    assert took(story, tmp_path)["egg to adult"] == [50, 50]


def test_the_one_that_is_blank_is_the_rest_of_the_sum(story: Story, tmp_path: Path) -> None:
    table = f"{BROODS};Days as larva;Days as pupa;Total days\n"
    table += f"B1;{SPECIES};2021-05-01;20;18;14;13;30;17;56\n"
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err
    assert "not used" not in ran.out
    days = {stage: set(found) for stage, found in took(story, tmp_path).items()}
    assert (days["egg"], days["pupa"], days["egg to adult"]) == ({9.0}, {17.0}, {56.0})


@pytest.mark.parametrize(
    "headings",
    [
        ("Egg period", "Larval period", "Pupal period"),
        ("Incubation", "Days as larva", "Days as pupa"),
        ("Eiperiode", "Larvenperiode", "Puppenperiode"),
        ("Période d'incubation", "Période larvaire", "Période nymphale"),
        ("Periodo de huevo", "Periodo de larva", "Periodo de pupa"),
        ("Eiperiode", "Rupsperiode", "Popperiode"),
    ],
)
def test_a_range_of_days_is_no_date(
    story: Story, tmp_path: Path, headings: tuple[str, str, str]
) -> None:
    table = f"{BROODS};{';'.join(headings)}\n"
    table += f"B1;{SPECIES};2021-05-01;20;18;14;13;9;8-12;17\n"
    table += f"B2;{SPECIES};2021-05-03;30;24;18;16;9-11;28-32;15-17\n"
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err
    days = {stage: set(found) for stage, found in took(story, tmp_path).items()}
    assert (days["egg"], days["pupa"]) == ({9.0, 10.0}, {16.0, 17.0})
