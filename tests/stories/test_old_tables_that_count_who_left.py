"""A table of broods with a column of those that escaped, were released or given away, as larvae, pupae or adults."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of as table_of_book

SPECIES = "Saturnia verrina"


def table_of(left: str, rows: tuple[str, str] = ("34;30;3;22;20", "20;18;0;18;15")) -> str:
    (one, other), head = rows, f"Brood;Species;Laid;Eggs;Larvae;{left};Pupae;Adults"
    return f"{head}\nB1;{SPECIES};2018-05-06;{one}\nB2;{SPECIES};2018-05-16;{other}\n"


def left_as(story: Story) -> list[tuple[object, object, object]]:
    settled = {"taken": "given", "not known": "missing"}
    lines = [
        {**line, "what": settled.get(line.get("fate"), line["what"])}
        for line in story.on_disk()
        if line["what"] in ("escaped", "released") or line.get("fate") in settled
    ]
    return [
        (one["what"], one["number"], one.get("stage")) for one in lines if one["stage"] != "adult"
    ]


def bench_left(story: Story, tmp_path: Path) -> int:
    """How many larvae left the bench alive."""
    table = table_of_book(story, tmp_path, "life-table")
    return int(table.loc[table["stage"].str.match("larva|L"), "left the bench alive"].sum())


@pytest.mark.parametrize(
    ("heading", "what"),
    [
        *(("Larvae escaped", "escaped"), ("Raupen entwischt", "escaped")),
        *(("Chenilles échappées", "escaped"), ("Orugas escapadas", "escaped")),
        *(("Rupsen ontsnapt", "escaped"), ("Larvae released", "released")),
        *(("Raupen verschenkt", "given"), ("Larvae given away", "given")),
        *(("Chenilles données", "given"), ("Rupsen weggegeven", "given")),
        *(("abgegeben (Raupen)", "given"), ("abgegebene Raupen", "given")),
        ("Orugas regaladas", "given"),
    ],
)
def test_they_left_as_it_says(story: Story, tmp_path: Path, heading: str, what: str) -> None:
    ran = imported(story, tmp_path, "old.csv", table_of(heading), "--as", "left=dead")
    assert ran.status == 0, ran.err + ran.out
    assert left_as(story) == [(what, 3, "larva")]
    found = stages(story, tmp_path)
    assert [found[stage][0] for stage in ("egg", "larva", "pupa", "adult")] == [54, 48, 40, 35]
    assert bench_left(story, tmp_path) == 3
    assert found["larva"][1] == 5  # of whom no line says what became of them


def test_they_are_none_of_the_dead(story: Story, tmp_path: Path) -> None:
    table = table_of("Larvae dead;Larvae escaped", ("34;30;5;3;22;20", "20;18;0;0;18;15"))
    ran = imported(story, tmp_path, "old.csv", table, "--as", "left=dead")
    assert ran.status == 0, ran.err + ran.out
    assert left_as(story) == [("escaped", 3, "larva")]
    assert stages(story, tmp_path)["larva"] == (48, 5)


def test_more_than_did_not_go_on_are_told(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "old.csv", table_of("Larvae escaped").replace(";3;", ";13;"))
    assert "13 larvae gone, but only 8 did not go on; mend one of them" in ran.out


def test_adults_that_were_released(story: Story, tmp_path: Path) -> None:
    table = f"Brood;Species;Laid;Eggs;Adults;Released\nB1;{SPECIES};2018-05-06;30;22;20\n"
    ran = imported(story, tmp_path, "old.csv", table + f"B2;{SPECIES};2018-05-16;30;20;20\n")
    assert ran.status == 0, ran.err + ran.out
    assert sum(one["number"] for one in story.on_disk() if one["what"] == "released") == 40


def test_a_column_can_be_said_to_tell_it(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "old.csv", table_of("weg?"), "--map", "weg?=larvae gone")
    assert ran.status == 0, ran.err + ran.out
    assert left_as(story)[0] == ("missing", 3, "larva")
