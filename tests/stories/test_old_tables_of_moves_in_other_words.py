"""Moves of old tables in words that nobody knows, and those that no line tells: none doubles the animals."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Melitaea orata"
HEAD = f"""date;cup;species;what;number
2023-05-19;jar 1;{SPECIES};laid;20
2023-06-01;jar 1;{SPECIES};hatched;20
"""
LEFT = ("--as", "left=not known")


@pytest.mark.parametrize(
    ("words", "answer", "to"),
    [
        ("flyttade till jar 3", "flyttade till=moved", "jar 3"),
        ("flyttade till Jar3", "flyttade till=moved", "jar 3"),
        ("flyttade till jar 3", "flyttade till jar 3=moved", "jar 3"),
        ("flyttade till jar 3", "flyttade till jar=moved", "jar 3"),
        ("larver flyttade till jar 3", "larver flyttade till=moved", "jar 3"),
        ("flyttade till C9", "flyttade till=moved", "C9"),
        ("mudada a C9", "mudada a=moved", "C9"),
        ("skocilo v C9", "skocilo v C9=moved", "C9"),
        ("relocated to C9", "relocated to C9=moved", "C9"),
        ("relocated to C9", "", "C9"),
        ("umquartiert nach C9", "", "C9"),
        ("verhuisd naar jar 3", "", "jar 3"),
        ("déménagé en C9", "", "C9"),
    ],
)
def test_an_answer_moved_keeps_where_to(
    story: Story, tmp_path: Path, words: str, answer: str, to: str
) -> None:
    rows = f"2023-06-01;jar 1;{SPECIES};{words};20\n2023-07-01;{to};{SPECIES};pupated;20\n"
    said = ("--as", answer) if answer else ()
    ran = imported(story, tmp_path, "old.csv", HEAD + rows, *said, *LEFT)
    assert ran.status == 0, ran.err + ran.out
    assert "in 1 brood: 20 animals, 20 hatched, 20 pupated" in ran.out
    assert "where to is not written" not in ran.out


def test_moves_to_several_cups_are_one_question(story: Story, tmp_path: Path) -> None:
    rows = f"""2023-06-02;jar 1;{SPECIES};flyttade till jar 2;8
2023-06-02;jar 1;{SPECIES};flyttade till jar 3;12
2023-07-01;jar 2;{SPECIES};pupated;8
2023-07-02;jar 3;{SPECIES};pupated;12
"""
    ran = imported(story, tmp_path, "old.csv", HEAD + rows)
    assert "'flyttade till' in 2 lines is not known" in ran.err
    assert "--as 'flyttade till=moved'" in ran.err
    ran = imported(story, tmp_path, "old.csv", HEAD + rows, "--as", "flyttade till=moved", *LEFT)
    assert ran.status == 0, ran.err + ran.out
    assert "20 animals, 20 hatched, 20 pupated" in ran.out


def test_to_a_cup_of_which_no_other_line_tells(story: Story, tmp_path: Path) -> None:
    rows = f"2023-06-02;jar 1;{SPECIES};flyttade till jar 7;20\n"
    ran = imported(story, tmp_path, "old.csv", HEAD + rows, "--as", "flyttade till=moved", *LEFT)
    assert ran.status == 0, ran.err + ran.out
    (moved,) = [line for line in story.on_disk() if line["what"] == "moved"]
    assert (moved["number"], moved["to"]) == (20, "jar-7/23")


@pytest.mark.parametrize("words", ["kollat vid jar 3", "kom ur jar 3", "from jar 3"])
def test_what_is_no_move_stays_whole(story: Story, tmp_path: Path, words: str) -> None:
    rows = f"2023-06-01;jar 1;{SPECIES};{words};\n2023-07-01;jar 1;{SPECIES};pupated;20\n"
    rows += f"2023-07-02;jar 3;{SPECIES};laid;5\n"
    said = " ".join(words.split()[:-2]) if words.startswith("kollat") else words.rsplit(" ", 1)[0]
    ran = imported(story, tmp_path, "old.csv", HEAD + rows, "--as", f"{said}=note", *LEFT)
    assert ran.status == 0, ran.err + ran.out
    assert words in {line.get("text") for line in story.on_disk()}


BROOD = f"""date;cup;brood;species;what;number
2023-05-19;C1;A1;{SPECIES};laid;20
2023-06-01;C1;A1;{SPECIES};hatched;20
"""


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        (["C9;A1;;pupated;20"], "20 animals, 20 hatched, 20 pupated"),
        (["C9;A1;;pupated;12", "C9;A1;;pupated;8"], "20 animals, 20 hatched, 20 pupated"),
        (["C9;A1;;L3;20", "C9;A1;;pupated;20"], "20 animals, 20 hatched, 20 pupated"),
        (["C9;A1;;counted;20", "C9;A1;;pupated;20"], "20 animals, 20 hatched, 20 pupated"),
        (["C9;A1;;larvae;20", "C9;A1;;pupated;20"], "20 animals, 20 hatched, 20 pupated"),
        (["C8;A1;;pupated;12", "C9;A1;;pupated;8"], "20 animals, 20 hatched, 20 pupated"),
        (
            ["C9;A1;;pupated;20", "C7;A1;;emerged;9", "C7;A1;;emerged;11"],
            "20 animals, 20 hatched, 20 pupated, 20 emerged",
        ),
    ],
)
def test_a_brood_that_goes_on_elsewhere_was_moved(
    story: Story, tmp_path: Path, rows: list[str], told: str
) -> None:
    text = BROOD + "".join(f"2023-07-{at + 1:02d};{row}\n" for at, row in enumerate(rows))
    ran = imported(story, tmp_path, "old.csv", text, *LEFT)
    assert ran.status == 0, ran.err + ran.out
    assert f"in 1 brood: {told}" in ran.out
    assert "moved, though no line says so, for their brood goes on there: line 4 (" in ran.out
    moved = [line for line in story.on_disk() if line["what"] == "moved"]
    assert {line["container"] for line in moved} >= {"C1/23"}


def test_more_than_are_left_are_asked_about(story: Story, tmp_path: Path) -> None:
    text = f"{BROOD}2023-07-01;C9;A1;;pupated;25\n"
    ran = imported(story, tmp_path, "old.csv", text, *LEFT)
    assert "A1 in C9: 25 pupated there, but 20 larvae are left of it elsewhere, in C1/23" in ran.err
    ran = imported(story, tmp_path, "old.csv", text, "--as", "A1 in C9=others", *LEFT)
    assert ran.status == 0, ran.err + ran.out
    assert "45 animals" in ran.out


def test_of_several_cups_it_is_asked_of_which(story: Story, tmp_path: Path) -> None:
    text = f"""{BROOD}2023-06-02;C1;A1;;moved to C2;8
2023-07-01;C9;A1;;pupated;5
"""
    ran = imported(story, tmp_path, "old.csv", text, *LEFT)
    assert "A1 in C9: 5 pupated there, but 20 larvae are left of it elsewhere" in ran.err
    assert "--as 'A1 in C9=C1/23'" in ran.err
    ran = imported(story, tmp_path, "old.csv", text, "--as", "A1 in C9=C2/23", *LEFT)
    assert ran.status == 0, ran.err + ran.out
    assert "20 animals, 20 hatched, 5 pupated" in ran.out
    assert "5 larvae of A1 from C2/23 to C9/23" in ran.out


def test_new_eggs_of_a_brood_in_another_cup_are_new(story: Story, tmp_path: Path) -> None:
    text = f"{BROOD}2023-06-02;C2;A1;;laid;7\n2023-06-12;C2;A1;;hatched;7\n"
    ran = imported(story, tmp_path, "old.csv", text, *LEFT)
    assert ran.status == 0, ran.err + ran.out
    assert "27 animals, 27 hatched" in ran.out
    assert "though no line says so" not in ran.out


@pytest.mark.parametrize("words", ["larvae", "20 larvae", "L3"])
def test_all_that_are_named_again_are_counted(story: Story, tmp_path: Path, words: str) -> None:
    text = f"{BROOD}2023-06-11;C1;A1;;{words};20\n2023-06-30;C1;A1;;pupated;20\n"
    ran = imported(story, tmp_path, "old.csv", text, *LEFT)
    assert ran.status == 0, ran.err + ran.out
    assert "20 animals, 20 hatched, 20 pupated" in ran.out


@pytest.mark.parametrize("again", [SPECIES, ""])
def test_a_brood_is_of_the_species_that_its_other_lines_name(
    story: Story, tmp_path: Path, again: str
) -> None:
    text = f"""date;cup;brood;species;what;number
2023-05-06;C3;A3;Brenthis lunaris;laid;5
2023-05-13;C4;A4;;laid;9
2023-05-14;C4;A4;{again};checked;
2023-05-22;C4;A4;{SPECIES};hatched;9
2023-05-23;C3;A3;Brenthis lunaris;hatched;5
"""
    ran = imported(story, tmp_path, "old.csv", text, *LEFT)
    assert ran.status == 0, ran.err + ran.out
    begun = {one["code"]: one["taxon"] for one in story.on_disk() if one["what"] == "brood"}
    assert begun == {"A3": "Brenthis lunaris", "A4": SPECIES}


def test_a_line_of_sums_is_asked_about_before_its_blank_date(story: Story, tmp_path: Path) -> None:
    text = f"""Covata;Specie;Deposizione;Uova;Schiusa;Larve
1/16;{SPECIES};22/05/2016;30;29/05/2016;23
2/16;{SPECIES};15/05/2016;10;24/05/2016;9
Totale;;;40;;32
"""
    ran = imported(story, tmp_path, "old.csv", text)
    assert "line 4: 'Totale' reads as a sum or a mean of other lines" in ran.err


def test_the_sex_in_words_that_are_asked_about_is_proposed(story: Story, tmp_path: Path) -> None:
    rows = f"""2023-07-01;jar 1;{SPECIES};pupated;20
2023-08-01;jar 1;{SPECIES};males sprungen;2
"""
    ran = imported(story, tmp_path, "old.csv", HEAD + rows)
    assert "male emerged" in ran.err
    said = ("--as", "males sprungen=male emerged")
    ran = imported(story, tmp_path, "old.csv", HEAD + rows, *said, *LEFT)
    assert ran.status == 0, ran.err + ran.out
    (emerged,) = [line for line in story.on_disk() if line["what"] == "emerged"]
    assert (emerged["number"], emerged["sex"]) == (2, "male")
