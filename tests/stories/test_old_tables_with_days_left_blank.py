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


def test_days_that_nobody_can_place_are_told(story: Story, tmp_path: Path) -> None:
    table = f"ID,Species,Laid,Days as egg,Days as larva,Days as pupa,Died\n1,{SPECIES},2021-05-01,"
    ran = imported(
        story, tmp_path, "old.csv", f"{table},30,17,no\n2,{SPECIES},2021-05-01,8,31,16,no\n"
    )
    assert ran.status == 0, ran.err
    assert "line 2: Days as larva '30' is not used, for when they hatched is not written" in ran.out
    assert "line 2: Days as pupa '17' is not used, for when they pupated is not written" in ran.out
    assert "line 3" not in ran.out


def test_days_of_larvae_that_come_in_as_such_are_told(story: Story, tmp_path: Path) -> None:
    table = f"Brood,Species,Hatched,Larvae,Pupae,Days as larva\nB1,{SPECIES},2021-05-10,18,14,30\n"
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err
    assert "line 2: Days as larva '30' is not used, for they come in as larvae" in ran.out


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
