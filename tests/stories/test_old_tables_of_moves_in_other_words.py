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
