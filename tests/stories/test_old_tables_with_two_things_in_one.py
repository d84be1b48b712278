"""Old tables that tell two things in one cell, or call two broods alike: taken for two, or asked."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import broods, imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES, OTHER = "Pieris verrina", "Pieris orata"
HEAD = f"""Datum;Gefäß;Art;Was;Anzahl
3.5.2021;G1;{SPECIES};Eier gelegt;40
9.5.2021;G1;;Raupen geschlüpft;40
"""


@pytest.mark.parametrize(
    ("cells", "expected"),
    [
        ("2 tot, 1 entkommen;", {"died": 2, "escaped": 1}),
        ("2 tot, 1 entkommen;3", {"died": 2, "escaped": 1}),
        ("12 verpuppt, 2 tot, 1 entkommen;", {"pupated": 12, "died": 2, "escaped": 1}),
        ("12 verpuppt, 2 tot, 1 entkommen;15", {"pupated": 12, "died": 2, "escaped": 1}),
        ("L3 (1 tot);", {"died": 1, "moulted": 39}),
        ("Häutung, 1 tot;", {"died": 1}),
        ("5 verpuppt und 2 freigelassen;", {"pupated": 5, "released": 2}),
    ],
)
def test_each_thing_of_a_cell_counts(
    story: Story, tmp_path: Path, cells: str, expected: dict[str, int]
) -> None:
    ran = imported(story, tmp_path, "alt.csv", f"{HEAD}1.6.2021;G1;;{cells}\n")
    assert ran.status == 0, ran.err + ran.out
    counted: Counter[str] = Counter()
    for line in story.on_disk():
        if line["what"] in ("died", "escaped", "pupated", "moulted", "released"):
            counted[line["what"]] += line["number"]
    assert counted == expected


def test_a_moult_to_nobody_knows_which_instar_is_told(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "alt.csv", f"{HEAD}1.6.2021;G1;;Häutung;\n")
    assert (
        "to which instar is not written, so that they are kept by a note alone: line 4" in ran.out
    )
    assert any(one.get("text") == "Häutung" for one in story.on_disk())


def test_a_sum_that_is_another_is_told(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "alt.csv", f"{HEAD}1.6.2021;G1;;12 verpuppt, 2 entkommen;15\n")
    assert "'12 verpuppt, 2 entkommen', but Anzahl is 15; mend one of them" in ran.out


BROODS = f"""Zucht;Art;Eiablage;Eier;Schlupf;Raupen
A;{SPECIES};3.5.2021;40;9.5.2021;38
B;{SPECIES};4.5.2021;40;10.5.2021;37
A;{SPECIES};3.5.2022;30;11.5.2022;28
B;{OTHER};5.5.2021;20;9.5.2021;18
"""


def test_a_brood_called_as_an_earlier_one_is_asked_about(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "alt.csv", BROODS)
    assert "Zucht A of line 4 (Pieris verrina, 03 May 2022) is called as that of line 2" in ran.err
    assert "are they others (other, as A.2), or do they go on (same)?" in ran.err
    ran = imported(story, tmp_path, "alt.csv", BROODS, "--as", "broods called alike=other")
    assert ran.status == 0, ran.err + ran.out
    assert broods(story) == ["A", "A.2", "B", "B.2"]
    life = table_of(story, tmp_path, "life-table").set_index(["brood", "stage"])
    assert life.loc[("A", "egg"), ["entered", "went on"]].tolist() == [40, 38]
    assert life.loc[("A.2", "egg"), ["entered", "went on"]].tolist() == [30, 28]
    again = imported(story, tmp_path, "alt.csv", BROODS)
    assert "the book has all of it already" in again.out


def test_a_brood_that_goes_on_is_one(story: Story, tmp_path: Path) -> None:
    table = "".join(BROODS.splitlines(keepends=True)[:4])
    ran = imported(story, tmp_path, "alt.csv", table, "--as", "broods called alike=same")
    assert ran.status == 0, ran.err + ran.out
    assert broods(story) == ["A", "B"]


def test_so_are_those_of_a_notebook(story: Story, tmp_path: Path) -> None:
    year = "{0};Z1;{1};Eier gelegt;40\n{2};Z1;;geschlüpft;38\n"
    table = (
        "Datum;Zucht;Art;Was;Anzahl\n"
        + year.format("3.5.2020", SPECIES, "9.5.2020")
        + year.format("3.5.2021", SPECIES, "9.5.2021")
    )
    ran = imported(story, tmp_path, "alt.csv", table)
    assert "Zucht Z1 of line 4" in ran.err
    ran = imported(story, tmp_path, "alt.csv", table, "--as", "broods called alike=other")
    assert ran.status == 0, ran.err + ran.out
    assert broods(story) == ["Z1", "Z1.2"]


@pytest.mark.parametrize(
    ("words", "entered", "died"),
    [
        ("3 L4 verpilzt, tot", 20, {"larva": 3}),
        ("3 Raupen am Deckel (tot)", 20, {"larva": 3}),
        ("9 Falter (5 m, 4 w)", 9, {}),
        ("9 Falter geschlüpft, 5♂ 4♀", 9, {}),
        ("2 Weibchen geschlüpft, 1 verkrüppelt", 2, {}),
    ],
)
def test_what_is_told_beside_is_no_other_thing(
    story: Story, tmp_path: Path, words: str, entered: int, died: dict[str, int]
) -> None:
    came = "pupae" if "tot" not in words and "verpilzt" not in words else "larvae"
    rows = f"3.6.2021;A1;Aglia verrina;20 {came}\n14.6.2021;A1;;{words}\n"
    ran = imported(
        story, tmp_path, "old.csv", f"Datum;Becher;Art;Was\n{rows}", "--as", "left=not known"
    )
    assert ran.status == 0, ran.err + ran.out
    lost = {line["stage"]: line["number"] for line in story.on_disk() if line["what"] == "died"}
    assert lost == died
    emerged = [line["number"] for line in story.on_disk() if line["what"] == "emerged"]
    assert sum(emerged) == (0 if died else entered)
    notes = [line["text"] for line in story.on_disk() if line["what"] == "note"]
    assert ("1 verkrüppelt" in notes) == ("verkrüppelt" in words)
