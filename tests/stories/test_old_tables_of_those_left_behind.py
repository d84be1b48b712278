"""Larvae and pupae that others of their brood left behind and of which a table tells no more: one answer holds for rows of events and of broods."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Pieris verrina"
EVENTS = f"""Date,Cup,Brood,Species,What,Number
2022-05-01,A1,A,{SPECIES},laid,20
2022-05-12,A1,A,,hatched,18
2022-06-12,A1,A,,pupated,16
2022-07-12,A1,A,,emerged,12
"""
ROW = f"Brood,Species,Laid,Eggs,Hatched,Pupae,Adults\nA,{SPECIES},2022-05-01,20,18,16,12\n"


@pytest.mark.parametrize("table", [EVENTS, ROW], ids=["events", "row"])
@pytest.mark.parametrize(
    ("answer", "died"),
    [
        ("dead", {"egg": 2, "larva": 2, "pupa": 4}),
        ("not known", {"egg": 2}),
        ("living", {"egg": 2}),
    ],
)
def test_the_same_brood_survives_alike(
    story: Story, tmp_path: Path, table: str, answer: str, died: dict[str, int]
) -> None:
    ran = imported(story, tmp_path, "old.csv", table, "--as", f"larvae and pupae left={answer}")
    assert ran.status == 0, ran.err
    lost: Counter[str] = Counter()
    for line in story.on_disk():
        if line["what"] == "died":
            lost[line["stage"]] += line["number"]
    assert lost == died
    assert f"taken as {answer}; else say" in ran.out
    life = table_of(story, tmp_path, "life-table").set_index(["brood", "stage"])
    assert life.loc[("A", "pupa"), ["entered", "went on"]].tolist() == [16, 12]


@pytest.mark.parametrize(("table", "words"), [(EVENTS, "not known"), (ROW, "dead")])
def test_what_they_are_taken_for_is_told(
    story: Story, tmp_path: Path, table: str, words: str
) -> None:
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err
    (line,) = (one for one in ran.out.splitlines() if "of which nothing more is written" in one)
    assert "4 pupae" in line
    assert "2 larvae" in line
    assert f"taken as {words}; else say --as 'larvae and pupae left=" in line


def test_another_answer_is_none(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "old.csv", EVENTS, "--as", "larvae and pupae left=gone")
    assert ran.status == 1
    assert "'gone' does not fit: what became of larvae and pupae left behind" in ran.err
