"""Old tables with a column of dates under a heading that nobody knows: asked once, never dropped."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Pieris verrina"


def broods(heading: str) -> str:
    return f"""brood,species,laid,eggs,hatched,larvae,pupated,pupae,{heading},adults
A,{SPECIES},2016-05-14,20,2016-05-20,18,2016-06-14,17,2016-06-25,16
B,{SPECIES},2016-05-24,20,2016-05-30,18,2016-06-24,17,2016-07-05,16
"""


def pupa_days(story: Story, tmp_path: Path) -> list[float]:
    took = table_of(story, tmp_path, "durations")
    return list(took[took["stage"] == "pupa"]["mean (days)"])


@pytest.mark.parametrize("heading", ["Out", "Ausgeflogen", "Envol", "Vuelo", "Gecontroleerd"])
def test_it_is_asked_with_what_fits_by_its_dates(
    story: Story, tmp_path: Path, heading: str
) -> None:
    ran = imported(story, tmp_path, "old.csv", broods(heading))
    assert ran.status == 1
    assert f"{heading} holds dates (2016-06-25, 2016-07-05); the day of what?" in ran.err
    assert f"--map '{heading}=emerged'" in ran.err
    ran = imported(story, tmp_path, "old.csv", broods(heading), "--map", f"{heading}=emerged")
    assert ran.status == 0, ran.err
    assert pupa_days(story, tmp_path) == [11.0, 11.0]


def test_left_out_is_an_answer(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "old.csv", broods("Out"), "--map", "Out=left out")
    assert ran.status == 0, ran.err
    assert pupa_days(story, tmp_path) == []


def test_two_of_them_are_asked_one_after_the_other(story: Story, tmp_path: Path) -> None:
    text = broods("Flug").replace("pupated", "Ruhe ab")
    ran = imported(story, tmp_path, "old.csv", text, "--map", "Flug=emerged")
    assert "Ruhe ab holds dates" in ran.err
    assert "--map 'Ruhe ab=pupated'" in ran.err


@pytest.mark.parametrize("heading", ["Kontrolle", "Visto"])
def test_no_date_is_that_of_laying_unasked(story: Story, tmp_path: Path, heading: str) -> None:
    rows = f"""brood,species,{heading},eggs,hatched,larvae
A,{SPECIES},2016-05-14,20,2016-05-20,18
B,{SPECIES},2016-05-24,20,2016-05-30,18
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert f"{heading} holds dates" in ran.err
    assert f"--map '{heading}=laid'" in ran.err
    days = f"""brood,species,{heading},eggs,days egg,larvae
A,{SPECIES},2016-05-14,20,6,18
B,{SPECIES},2016-05-24,20,6,18
"""
    ran = imported(story, tmp_path, "days.csv", days)
    assert f"--map '{heading}=laid'" in ran.err
    assert imported(story, tmp_path, "days.csv", days.replace(heading, "date")).status == 0


def test_a_date_beside_days_of_stages_is_asked_too(story: Story, tmp_path: Path) -> None:
    rows = f"""animal,species,laid,hatched,pupated,emerged,Datum
1,{SPECIES},2016-05-14,2016-05-20,2016-06-14,2016-06-25,2016-07-01
2,{SPECIES},2016-05-14,2016-05-20,2016-06-14,2016-06-25,2016-07-02
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert "Datum holds dates" in ran.err
    assert "--map 'Datum=died'" in ran.err
