"""Deaths in old tables: how many, by words and signs; where nobody wrote how many, it is asked."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages, taken
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Pieris verrina"


def notebook(what: str, number: str = "") -> str:
    return f"""Datum;Gefäß;Was;Anzahl;Art
13.5.2020;T1;Eier;20;{SPECIES}
18.5.2020;T1;Raupen geschlüpft;20;
20.5.2020;T1;{what};{number};
12.6.2020;T1;verpuppt;15;
25.6.2020;T1;Falter;15;
"""


def test_a_death_without_a_number_is_asked(story: Story, tmp_path: Path) -> None:
    """It kills neither all, nor do those that live on come in as another brood."""
    ran = imported(story, tmp_path, "alt.csv", notebook("tot"))
    assert ran.status == 1
    assert (
        "line 4, 20.5.2020 T1 tot: how many died is not written; by the lines before 20 larvae are"
        " there. 1, all, or how many?" in ran.err
    )
    assert "--as 'tot without a number=1 each'" in ran.err
    assert story.on_disk() == []
    ran = imported(story, tmp_path, "alt.csv", notebook("tot"), "--as", "20.5.2020 T1 tot=all")
    assert ran.status == 1
    assert "line 4 cannot be read: all 20 larvae of T1/20 died, but line 5 says" in ran.out
    taken(story, tmp_path, notebook("tot"), "--as", "20.5.2020 T1 tot=3")
    assert stages(story, tmp_path)["larva"] == (20, 3)
    assert (
        "in 1 brood: 20 animals" in imported(story, tmp_path, "notebook.csv", notebook("tot")).out
    )


@pytest.mark.parametrize(("answer", "died"), [("3", 3), ("drei", 3), ("ca. 3", 3), ("1", 1)])
def test_how_many_can_be_answered_in_words(
    story: Story, tmp_path: Path, answer: str, died: int
) -> None:
    taken(story, tmp_path, notebook("tot"), "--as", f"20.5.2020 T1 tot={answer}")
    assert stages(story, tmp_path)["larva"] == (20, died)


def test_one_word_without_a_number_is_answered_for_all_lines(story: Story, tmp_path: Path) -> None:
    taken(story, tmp_path, notebook("tot"), "--as", "tot=1 died")
    assert stages(story, tmp_path)["larva"] == (20, 1)


@pytest.mark.parametrize(
    ("what", "number"),
    [
        ("2tot", ""),
        ("2x tot", ""),
        ("2 × tot", ""),
        ("zwei tot", ""),
        ("two dead", ""),
        ("deux chenilles mortes", ""),
        ("dos orugas muertas", ""),
        ("twee dood", ""),
        ("tot", "zwei"),
        ("†", "2"),
        ("✝", "2"),
        ("(†) 2", ""),
        ("2 †", ""),
        ("✗", "2"),
    ],
)
def test_how_many_died_by_words_and_signs(
    story: Story, tmp_path: Path, what: str, number: str
) -> None:
    ran = taken(story, tmp_path, notebook(what, number))
    assert "in 1 brood: 20 animals" in ran.out
    assert stages(story, tmp_path)["larva"] == (20, 2)


@pytest.mark.parametrize(
    "what", ["†", "ein paar tot", "zwei Drittel tot", "2-3 tot", "10 % tot", "entwischt", "weg"]
)
def test_what_is_no_number_is_none(story: Story, tmp_path: Path, what: str) -> None:
    ran = imported(story, tmp_path, "alt.csv", notebook(what))
    assert ran.status == 1
    assert "1, all, or how many?" in ran.err
    assert story.on_disk() == []


def test_all_died_where_it_says_so(story: Story, tmp_path: Path) -> None:
    head = "\n".join(notebook("alle tot").splitlines()[:4])
    taken(story, tmp_path, head)
    assert stages(story, tmp_path)["larva"] == (20, 20)
    ran = imported(story, tmp_path, "notebook.csv", notebook("alle tot"))
    assert "but line 5 says that some live on; write how many" in ran.out


def test_the_dead_do_not_pupate(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "alt.csv", notebook("tot", "20"))
    assert ran.status == 1
    assert "line 5 cannot be read: pupae, but T1/20 is empty by the lines before" in ran.out


def test_a_number_beside_another(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "alt.csv", notebook("2 tot", "18"))
    assert ran.status == 1
    assert "line 4 cannot be read: '2 tot', but Anzahl is 18; mend one of them" in ran.out


def test_a_word_that_is_not_known_keeps_its_number(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "alt.csv", notebook("2 hinüber"))
    assert "--as 'hinüber=note'" in ran.err
    taken(story, tmp_path, notebook("2 hinüber"), "--as", "2 hinüber=died")
    assert stages(story, tmp_path)["larva"] == (20, 2)


@pytest.mark.parametrize("eggs", ["55Eier", "55œufs", "55huevos"])
def test_a_number_that_is_glued_to_its_word(story: Story, tmp_path: Path, eggs: str) -> None:
    taken(story, tmp_path, f"Datum;Gefäß;Was;Anzahl;Art\n13.5.2020;T1;{eggs};;{SPECIES}\n")
    assert stages(story, tmp_path)["egg"][0] == 55


@pytest.mark.parametrize("what", ["verpuppt, 2 tot", "2 tot, verpuppt", "verpuppt und zwei tot"])
def test_the_dead_beside_what_else_happened(story: Story, tmp_path: Path, what: str) -> None:
    rows = "\n".join(notebook("L3").splitlines()[:4])
    taken(story, tmp_path, f"{rows}\n12.6.2020;T1;{what};15;\n25.6.2020;T1;Falter;15;\n")
    assert stages(story, tmp_path)["pupa"] == (15, 0)
    assert stages(story, tmp_path)["larva"] == (20, 2)


def test_the_dead_beside_those_that_were_moved(story: Story, tmp_path: Path) -> None:
    taken(
        story,
        tmp_path,
        notebook("3 tot, 16 umgesetzt nach T2")
        .replace("T1;ver", "T2;ver")
        .replace("T1;Fal", "T2;Fal"),
    )
    (moved,) = [line for line in story.on_disk() if line["what"] == "moved"]
    assert (moved["to"], moved["number"]) == ("T2/20", 16)
    assert stages(story, tmp_path)["larva"] == (20, 3)


@pytest.mark.parametrize("what", ["verpuppt, einige tot", "tot, verpuppt"])
def test_some_dead_beside_what_else_happened(story: Story, tmp_path: Path, what: str) -> None:
    ran = imported(story, tmp_path, "alt.csv", notebook(what))
    assert ran.status == 1
    assert f"line 4 cannot be read: '{what}' says several things; write a line for each" in ran.out


def test_several_numbers_are_none(story: Story, tmp_path: Path) -> None:
    table = notebook("1 tot").replace("Raupen geschlüpft;20", "18 von 20 geschlüpft;")
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 1
    assert "line 3 cannot be read: '18 von 20 geschlüpft' holds several numbers" in ran.out
