"""Cells of old tables that are no plain number or word: each is told with its line, and no other cell is read otherwise for it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Pieris verrina"


def broods(cell: str, column: str = "Eggs") -> str:
    """Two broods, the first with an odd cell."""
    first = {"Eggs": "35", "Hatched": "30", "Pupae": "25", "Adults": "20"} | {column: cell}
    return f"""Brood;Species;Laid;Eggs;Hatched on;Hatched;Pupae;Adults
A;{SPECIES};13.5.2020;{first["Eggs"]};18.5.2020;{first["Hatched"]};{first["Pupae"]};{first["Adults"]}
B;{SPECIES};14.5.2020;20;19.5.2020;18;15;12
"""


@pytest.mark.parametrize("column", ["Eggs", "Hatched", "Pupae"])
@pytest.mark.parametrize("cell", ["30+5", "30-35", "30?", "viele", "33+", "30 (2 dry)", "2x15"])
def test_no_column_becomes_days_for_one_odd_cell(
    story: Story, tmp_path: Path, cell: str, column: str
) -> None:
    out = imported(story, tmp_path, "alt.csv", broods(cell, column), "--dry-run").out
    for heading, field in (("Eggs", "eggs"), ("Hatched", "larvae"), ("Pupae", "pupae")):
        (line,) = [
            one
            for one in out.splitlines()
            if one.split()[:1] == [heading] and "on" not in one.split()[1]
        ]
        assert f"  {field} (by its name)" in line
    assert "line 2 cannot be read" in out or f"line 2: {column} '{cell}' is taken for" in out
    assert "line 3 cannot be read" not in out


@pytest.mark.parametrize(
    ("cell", "right"),
    [
        ("30-35", "of a range write one number, as ca. 33"),
        ("33+", "write 33, or ca. 33"),
        ("30 (2 dry)", "write 30, and what stands behind it in a column of its own"),
        ("viele", "it must be a whole number, as 12 or ca. 12, or empty where nobody counted"),
    ],
)
def test_what_would_be_right(story: Story, tmp_path: Path, cell: str, right: str) -> None:
    ran = imported(story, tmp_path, "alt.csv", broods(cell))
    assert ran.status == 1
    assert f"line 2 cannot be read: Eggs is '{cell}'; {right}" in ran.out
    assert story.on_disk() == []


@pytest.mark.parametrize(("cell", "eggs"), [("30+5", 35), ("34?", 34), ("2x17", 34)])
def test_what_is_reckoned_is_told_and_kept_as_it_was_typed(
    story: Story, tmp_path: Path, cell: str, eggs: int
) -> None:
    ran = imported(story, tmp_path, "alt.csv", broods(cell))
    assert ran.status == 0, ran.err + ran.out
    assert f"line 2: Eggs '{cell}' is taken for {eggs}" in ran.out
    assert stages(story, tmp_path)["egg"][0] == eggs + 20
    assert f"Eggs: {cell}" in [line["text"] for line in story.on_disk() if line["what"] == "note"]


def animals(fates: list[str], heading: str = "died?") -> str:
    rows = "".join(
        f"{number};{SPECIES};2020-05-13;6;21;12;{fate}\n" for number, fate in enumerate(fates, 11)
    )
    return f"Animal;Species;Laid;days as egg;days as larva;days as pupa;{heading}\n{rows}"


@pytest.mark.parametrize(
    "cell",
    [
        "†",
        "✝",
        "(†)",
        "✗",
        "D",
        "d",
        "dead",
        "ja",
        "yes",
        "ja, Schimmel",
        "yes (mould)",
        "gestorben",
        "x",
        "✓",
    ],
)
def test_signs_and_words_of_the_dead(story: Story, tmp_path: Path, cell: str) -> None:
    ran = imported(story, tmp_path, "alt.csv", animals([cell, "no", "no"]))
    assert ran.status == 0, ran.err + ran.out
    died = [line for line in story.on_disk() if line["what"] == "died"]
    assert len(died) == 1
    assert died[0].get("cause", "") == ("mould" if "," in cell or "(m" in cell else "")
    assert sum(line["what"] == "emerged" for line in story.on_disk()) == 2


@pytest.mark.parametrize("cell", ["†", "D", "yes"])
def test_who_has_no_mark_lives(story: Story, tmp_path: Path, cell: str) -> None:
    assert imported(story, tmp_path, "alt.csv", animals([cell, "", "", cell])).status == 0
    assert sum(line["what"] == "died" for line in story.on_disk()) == 2
    assert sum(line["what"] == "emerged" for line in story.on_disk()) == 2


@pytest.mark.parametrize("cell", ["?", "(?)", "unbekannt"])
@pytest.mark.parametrize("other", ["", "no"])
def test_a_question_mark_is_neither_dead_nor_alive(
    story: Story, tmp_path: Path, cell: str, other: str
) -> None:
    """It is taken as far as its days tell."""
    table = animals(["†", cell, other]).replace(f"21;12;{cell}", f"21;;{cell}")
    assert imported(story, tmp_path, "alt.csv", table).status == 0
    assert sum(line["what"] == "died" for line in story.on_disk()) == 1
    settled = [line for line in story.on_disk() if line["what"] == "settled"]
    assert [line["stage"] for line in settled if line["fate"] == "not known"].count("pupa") == 1


@pytest.mark.parametrize(
    ("cell", "likely"),
    [("ja?", "died"), ("perdauz", "not known"), ("nicht gesehen", "not known")],
)
def test_an_unknown_word_is_asked(story: Story, tmp_path: Path, cell: str, likely: str) -> None:
    ran = imported(story, tmp_path, "alt.csv", animals([cell, "no", cell]))
    assert ran.status == 1
    assert f"died?: '{cell}' in 2 lines is not known; what became of them?" in ran.err
    assert (
        f"--as '{cell}={likely}' (died, alive, escaped, released, kept as specimen, given away, not known)"
        in ran.err
    )
    assert story.on_disk() == []
    assert (
        imported(
            story, tmp_path, "alt.csv", animals([cell, "no", cell]), "--as", f"{cell}=died"
        ).status
        == 0
    )
    assert sum(line["what"] == "died" for line in story.on_disk()) == 2


def test_a_column_of_signs_alone_is_one_of_fates(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "alt.csv", animals(["D", "?", "D", "†"]))
    assert "fate (by its name), 4 of 4 lines" in ran.out.replace("3 of 4", "4 of 4")
    assert sum(line["what"] == "died" for line in story.on_disk()) == 3


def moves(heading: str, verb: str = "moved", told: str = "") -> str:
    return f"""Date;Cup;Event;Number;Species;{heading}
2024-05-03;X1;laid;20;{SPECIES};{told}
2024-05-07;X1;hatched;20;;
2024-05-09;X1;{verb};10;;X2
2024-06-01;X2;pupated;9;;
"""


@pytest.mark.parametrize("verb", ["moved", "trasladadas", "umgesetzt", "déplacées"])
@pytest.mark.parametrize(
    "heading",
    ["to", "New cup", "neuer Becher", "nouvelle boîte", "al recipiente", "a", "Box", "Ziel"],
)
def test_where_they_were_moved_to(story: Story, tmp_path: Path, heading: str, verb: str) -> None:
    ran = imported(story, tmp_path, "alt.csv", moves(heading, verb))
    assert ran.status == 0, ran.err + ran.out
    (moved,) = [line for line in story.on_disk() if line["what"] == "moved"]
    assert (moved["to"], moved["number"]) == ("X2/24", 10)
    assert "in 1 brood: 20 animals" in ran.out


def test_a_second_column_of_containers_is_asked_about(story: Story, tmp_path: Path) -> None:
    table = moves("Box", told="B7").replace("pupated;9;;", "pupated;9;;B7")
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 1
    assert "Box is a second column of containers; is it where they were moved to?" in ran.err
    assert imported(story, tmp_path, "alt.csv", moves("Box"), "--map", "Box=to").status == 0


def test_a_move_that_does_not_say_where_to_is_told(story: Story, tmp_path: Path) -> None:
    table = moves("to").replace(";10;;X2", ";10;;").replace("X2;pup", "X1;pup")
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 0, ran.err
    assert (
        "moved, but where to is not written, so that they are taken as where they were, with a note: line 4"
        in ran.out
    )


@pytest.mark.parametrize(
    ("cell", "spans"),
    [
        ("egg 5-6 d, larva ca. 21 d, pupa 9 d", "egg 5.5 d, larva 21 d, pupa 9 d"),
        ("egg ~5 d", "egg 5 d"),
    ],
)
def test_spans_that_are_about_so_long(story: Story, tmp_path: Path, cell: str, spans: str) -> None:
    table = f'Animal;Species;Laid;Stages\n11;{SPECIES};2021-05-03;"{cell}"\n'
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 0, ran.err + ran.out
    assert f"line 2: Stages '{cell}' is taken for {spans}" in ran.out
    assert f"Stages: {cell}" in [line["text"] for line in story.on_disk() if line["what"] == "note"]


def test_days_between_two_numbers(story: Story, tmp_path: Path) -> None:
    table = f"Animal;Species;Laid;days as egg;days as larva\n11;{SPECIES};2021-05-03;5-6;21\n12;{SPECIES};2021-05-03;5;22\n"
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 0, ran.err + ran.out
    assert "line 2: days as egg '5-6' is taken for 5.5" in ran.out


def test_the_number_of_an_animal_is_kept(story: Story, tmp_path: Path) -> None:
    table = animals(["died", "no", "no"]).replace("Animal;", "No.;")
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 0, ran.err + ran.out
    cups = [line["container"] for line in story.on_disk() if line["what"] == "set up"]
    assert sorted(cups) == ["11/20", "12/20", "13/20"]


@pytest.mark.parametrize("cell", ["Puppe, Schimmel", "zu trocken", "ja"])
def test_in_a_column_of_fates_no_death_is_guessed(story: Story, tmp_path: Path, cell: str) -> None:
    ran = imported(story, tmp_path, "alt.csv", animals([cell, "Falter"], "Schicksal"))
    assert ran.status == 1
    likely = "died" if "Schimmel" in cell else "not known"
    assert (
        f"'{cell}' in 1 line is not known; what became of it? Say it as: --as '{cell}={likely}'"
        in ran.err
    )


@pytest.mark.parametrize(
    ("written", "options"),
    [
        ("KW {} 2021", ()),
        ("KW{}/21", ()),
        ("week {} 2021", ()),
        ("semaine {}", ("--year", "2021")),
    ],
)
def test_a_week_is_taken_for_its_middle_and_that_is_told(
    story: Story, tmp_path: Path, written: str, options: tuple[str, ...]
) -> None:
    """Week 20 of 2021 is that of Monday 17 May to Sunday 23 May (ISO 8601)."""
    weeks = [written.format(week) for week in (20, 21)]
    table = f"brood;species;laid;eggs;hatched;larvae\nA;{SPECIES};{weeks[0]};40;{weeks[1]};38\n"
    ran = imported(story, tmp_path, "alt.csv", table, *options)
    assert ran.status == 0, ran.err + ran.out
    assert f"is taken for {date.fromisocalendar(2021, 20, 4):%d %b %Y}, its middle" in ran.out
    (brood,) = [line for line in story.on_disk() if line["what"] == "brood"]
    assert brood["laid_from"][:10] == "2021-05-20"
    (hatched,) = [line for line in story.on_disk() if line["what"] == "hatched"]
    assert hatched["at"][:10] == "2021-05-27"
    assert any("laid: " in line.get("text", "") for line in story.on_disk())


def test_a_week_that_no_year_has_is_told(story: Story, tmp_path: Path) -> None:
    table = f"brood;species;laid;eggs\nA;{SPECIES};KW 20 2021;40\nB;{SPECIES};KW 54 2021;40\n"
    ran = imported(story, tmp_path, "alt.csv", table)
    assert "line 3 cannot be read: laid is 'KW 54 2021'; it must be a date" in ran.out


@pytest.mark.parametrize(
    ("heading", "remark"),
    [
        ("Remarks", "2 eggs infertile"),
        ("Bemerkung", "2 Eier taub"),
        ("Remarques", "1 chenille malade"),
        ("Notas", "3 huevos secos"),
        ("Opmerkingen", "2 poppen zwart"),
        ("x", "2 eggs infertile"),
    ],
)
def test_a_remark_with_a_number_tells_no_days(
    story: Story, tmp_path: Path, heading: str, remark: str
) -> None:
    table = (
        f"Brood;Species;Laid;Eggs;Hatched;Pupated;Adults;{heading}\n"
        f"B1;{SPECIES};2021-05-01;40;36;30;28;{remark}\nB2;{SPECIES};2021-05-21;30;26;20;18;\n"
    )
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err
    assert "stages (by its name)" not in ran.out
    hatched = [line for line in story.on_disk() if line["what"] == "hatched"]
    assert [str(line["at"])[:10] for line in hatched] == ["2021-05-01", "2021-05-21"]
    if heading != "x":
        assert any(remark in str(line.get("text")) for line in story.on_disk())
