"""A table, a row a brood or an animal: which brood it is, whose, how it ended, and what nobody wrote down."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from tests.stories.telling import Ran, Story
from tests.stories.test_leaving_note import note_of
from tests.stories.test_old_tables_of_events import stages
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Colias verrina"
ONE_A_ROW = f"""mother,species,laid,hatched,pupated,emerged,eggs,larvae,pupae,adults
F1,{SPECIES},2022-05-03,2022-05-09,2022-06-03,2022-06-14,40,30,20,18
F2,{SPECIES},2022-05-20,2022-05-26,2022-06-19,2022-06-30,50,10,8,2
F1,{SPECIES},2022-05-12,2022-05-18,2022-06-11,2022-06-22,20,15,9,9
"""


def taken(story: Story, tmp_path: Path, text: str, *options: str, name: str = "old.csv") -> Ran:
    """A table that comes in and gives a book without faults."""
    ran = imported(story, tmp_path, name, text, *options)
    assert ran.status == 0, ran.err + ran.out
    assert story.shell("check").status == 0
    return ran


def broods_of(story: Story, tmp_path: Path) -> dict[str, tuple[str, int, int]]:
    """Each brood with its mother, its eggs, and how many emerged."""
    mothers = table_of(story, tmp_path, "broods").set_index("brood")["mothers"]
    lived = table_of(story, tmp_path, "life-table").set_index(["brood", "stage"])["entered"]
    return {
        str(code): (str(mother), int(lived[code, "egg"]), int(lived[code, "adult"]))
        for code, mother in mothers.items()
    }


def test_each_row_is_a_brood_by_its_mother(story: Story, tmp_path: Path) -> None:
    ran = taken(story, tmp_path, ONE_A_ROW)
    assert "in 3 broods: 110 animals" in ran.out
    assert broods_of(story, tmp_path) == {
        "F1/A": ("F1", 40, 18),
        "F1/B": ("F1", 20, 9),
        "F2/A": ("F2", 50, 2),
    }


def test_fifty_rows_are_fifty_broods(story: Story, tmp_path: Path) -> None:
    rows = "".join(f"{SPECIES},2022-05-{1 + n % 28:02d},60,{n}\n" for n in range(50))
    ran = taken(story, tmp_path, f"species,laid,eggs,adults\n{rows}")
    assert "in 50 broods: 3000 animals" in ran.out.replace(",", "")
    story.reopen()
    assert len(story.desk.bench.broods) == 50


def test_a_number_used_again_is_another_female_with_broods_of_her_own(
    story: Story, tmp_path: Path
) -> None:
    rows = "".join(f"3,{SPECIES},{year}-05-03,40,9\n" for year in (2022, 2023))
    taken(story, tmp_path, f"mother,species,laid,eggs,adults\n{rows}")
    assert broods_of(story, tmp_path) == {"3/A": ("3", 40, 9), "3/23/A": ("3/23", 40, 9)}


def test_a_brood_in_two_cups_is_one(story: Story, tmp_path: Path) -> None:
    """Laid by one female on one day."""
    rows = "".join(f"{cup},F1,{SPECIES},2022-05-03,20,9\n" for cup in ("K1", "K2"))
    taken(story, tmp_path, f"cup,mother,species,laid,eggs,adults\n{rows}")
    assert broods_of(story, tmp_path) == {"F1/A": ("F1", 40, 18)}


def test_a_cup_used_again_holds_another_brood(story: Story, tmp_path: Path) -> None:
    rows = "".join(f"7,{SPECIES},{day},20,9\n" for day in ("2022-05-03", "2022-07-03"))
    taken(story, tmp_path, f"cup,species,laid,eggs,adults\n{rows}")
    assert {eggs for _, eggs, _ in broods_of(story, tmp_path).values()} == {20}
    assert len(broods_of(story, tmp_path)) == 2


def test_one_code_of_a_brood_by_slips(story: Story, tmp_path: Path) -> None:
    ran = taken(
        story,
        tmp_path,
        f"""brood,species,laid,eggs,adults
J1,{SPECIES},2022-05-03,20,9
J 1,{SPECIES},2022-05-05,10,4
""",
    )
    assert "taken for one: J1, J 1" in ran.out
    assert {code: one[1:] for code, one in broods_of(story, tmp_path).items()} == {"J1": (30, 13)}


def test_of_a_mother_in_a_table_nobody_wrote_who_the_father_was(
    story: Story, tmp_path: Path
) -> None:
    taken(story, tmp_path, ONE_A_ROW)
    assert "Mother: F1. Father: not known." in note_of(story, tmp_path, "F1/A")


@pytest.mark.parametrize(
    ("heading", "dead", "lives"),
    [
        ("Died", "died", "no"),
        ("Died", "yes", "no"),
        ("Died?", "1", "0"),
        ("Dead", "x", ""),
        ("died or not", "died", "not"),
        ("died or not", "died", "no"),
        ("tot", "ja", "nein"),
        ("mort", "oui", ""),
    ],
)
def test_a_column_that_says_who_died(
    story: Story, tmp_path: Path, heading: str, dead: str, lives: str
) -> None:
    ran = taken(
        story,
        tmp_path,
        f"""id,species,laid,days as egg,days as larva,{heading}
a1,{SPECIES},2022-05-03,6,9,{dead}
a2,{SPECIES},2022-05-03,6,20,{lives}
a3,{SPECIES},2022-05-03,6,21,{lives}
a4,{SPECIES},2022-05-03,6,11,{dead}
""",
    )
    assert "fate (by its name)" in ran.out
    found = stages(story, tmp_path)
    assert (found["larva"], found["pupa"]) == ((4, 2), (2, 0))


def test_days_in_all_say_not_that_it_emerged(story: Story, tmp_path: Path) -> None:
    """Nine days after it was laid its record ends: of what, nobody wrote down."""
    ran = taken(
        story,
        tmp_path,
        f"""id,species,laid,days as egg,days as larva,days as pupa,total
a1,{SPECIES},2022-05-03,6,20,10,36
a2,{SPECIES},2022-05-03,,,,9
a3,{SPECIES},2022-05-03,5,,,9
""",
    )
    found = stages(story, tmp_path)
    assert {stage: entered for stage, (entered, _) in found.items()} == {
        "egg": 3,
        "larva": 2,
        "pupa": 1,
        "adult": 1,
    }
    assert (
        "left in VERR22.1: 1 egg and 1 larva taken as dead, for the table names no death" in ran.out
    )


def test_dates_that_cannot_be_read_are_told_line_by_line(story: Story, tmp_path: Path) -> None:
    days = ["2022-05-03", "early May", "2022-05-05", "2022-05-06", "??5", "2022-05-08"]
    days += ["2022-05-09", "spring", "2022-05-11"]
    rows = "".join(f"B{n},{SPECIES},{day},20,9\n" for n, day in enumerate(days))
    ran = imported(story, tmp_path, "old.csv", f"brood,species,laid,eggs,adults\n{rows}")
    assert ran.status == 1
    told = ran.out + ran.err
    assert "laid (by its name), 9 of 9 lines" in told
    for line, cell in ((3, "early May"), (6, "??5"), (9, "spring")):
        assert f"line {line} cannot be read: laid is '{cell}'; it must be a date" in told
    assert told.count("cannot be read: ") == 3
    ran = taken(story, tmp_path, f"brood,species,laid,eggs,adults\n{rows}", "--leave-out")
    assert len(story.desk.bench.broods) == 6


@pytest.mark.parametrize(
    "heading",
    [
        "Brut;Art;gelegt;Eier;Raupen;Raupentage;Puppen;Falter",
        "Brut;Art;gelegt;Eier;Raupentage;Raupen;Puppen;Falter",
        "couvée;espèce;ponte;Œufs;Chenilles;Jours chenille;Chrysalides;Papillons",
        "couvée;espèce;ponte;Œufs;Jours chenille;Chenilles;Chrysalides;Papillons",
        "brood;species;laid;eggs;larvae;larva days;pupae;adults",
    ],
)
def test_a_column_of_days_makes_no_days_of_the_counts(
    story: Story, tmp_path: Path, heading: str
) -> None:
    names = heading.split(";")
    days = next(
        at
        for at, name in enumerate(names)
        if "age" in name or "day" in name.lower() or "Jour" in name
    )
    rows = []
    for code, *numbers in (("A", 40, 30, 20, 18), ("B", 50, 40, 30, 22)):
        cells = [str(number) for number in numbers]
        cells.insert(days - 3, "23")
        rows.append(";".join([code, SPECIES, "2022-05-03", *cells]))
    ran = taken(story, tmp_path, "\n".join([heading, *rows]) + "\n")
    assert "days as larva (by its name)" in ran.out
    assert {stage: entered for stage, (entered, _) in stages(story, tmp_path).items()} == {
        "egg": 90,
        "larva": 70,
        "pupa": 50,
        "adult": 40,
    }


NOTEBOOK = f"""date;cup;what;number;species
2022-05-03;M1;eggs laid;44;{SPECIES}
2022-05-09;M1;larvae hatched;29;{SPECIES}
2022-06-03;M1;pupated;20;{SPECIES}
2022-06-14;M1;emerged;18;{SPECIES}
"""
SAME_AS_A_ROW = f"""brood,species,laid,hatched,pupated,emerged,eggs,larvae,pupae,adults
M1,{SPECIES},2022-05-03,2022-05-09,2022-06-03,2022-06-14,44,29,20,18
"""


def lived(story: Story, tmp_path: Path) -> dict[str, dict[str, float]]:
    """Each stage of the only brood, by the table of lives."""
    table = table_of(story, tmp_path, "life-table").set_index("stage")
    return {str(stage): row.to_dict() for stage, row in table.iterrows()}


@pytest.mark.parametrize("text", [NOTEBOOK, SAME_AS_A_ROW])
def test_eggs_that_never_hatched_are_dead_in_a_notebook_as_in_a_row(
    story: Story, tmp_path: Path, text: str
) -> None:
    taken(story, tmp_path, text)
    egg = lived(story, tmp_path)["egg"]
    assert (egg["died"], egg["fate not known"], egg["left the bench alive"]) == (15, 0, 0)
    assert egg["share that went on"] == pytest.approx(29 / 44)


def test_what_nobody_wrote_down_did_not_leave_alive(story: Story, tmp_path: Path) -> None:
    """On the page, in the table and in the note."""
    taken(story, tmp_path, NOTEBOOK, "--as", "left=not known")
    for stage, unknown in (("larva", 9), ("pupa", 2), ("adult", 18)):
        row = lived(story, tmp_path)[stage]
        assert (row["fate not known"], row["left the bench alive"]) == (unknown, 0)
    (code,) = broods_of(story, tmp_path)
    note = note_of(story, tmp_path, code)
    rows = [line for line in note.splitlines() if line.startswith("| ")]
    (heads,) = [row for row in rows if "fate not known" in row]
    pupa = next(row for row in rows[rows.index(heads) :] if row.startswith("| pupa"))
    cells = dict(zip(heads.split("|"), pupa.split("|"), strict=True))
    assert cells[" fate not known "].strip() == "2"
    assert cells[" left, or kept as a specimen "].strip() == "-"


UNCOUNTED = f"""brood,species,laid,hatched,pupated,emerged,eggs,larvae,pupae,adults,deaths
C1,{SPECIES},2021-07-03,2021-07-07,2021-07-25,2021-08-06,{{}}
"""


def test_how_many_pupated_that_nobody_counted_is_not_made_up(story: Story, tmp_path: Path) -> None:
    """At least as many as emerged; so no share of the larvae or pupae is told."""
    taken(
        story,
        tmp_path,
        UNCOUNTED.format("40,30,,18,"),
        "--as",
        "left=not known",
        "--as",
        "eggs left=dead",
    )
    found = lived(story, tmp_path)
    assert found["egg"]["share that went on"] == pytest.approx(0.75)
    for stage, entered, unknown in (("larva", 30, 12), ("pupa", 18, 0)):
        assert (found[stage]["entered"], found[stage]["fate not known"]) == (entered, unknown)
        assert pd.isna(found[stage]["share that went on"]), stage
        assert pd.isna(found[stage]["share of the first stage that came through"]), stage
    assert found["pupa"]["number that entered is"] == "at least"
    assert pd.isna(found["larva"]["number that entered is"])
    words = "At least 18 came to be pupae; how many more is not known, and no share"
    assert words in note_of(story, tmp_path, "C1")
    (pupated,) = [line for line in story.on_disk() if line["what"] == "pupated"]
    assert (pupated["number"], pupated["at_least"]) == (18, True)


@pytest.mark.parametrize(
    ("numbers", "died"),
    [
        ("40,30,,18,22", {"egg": 10, "larva": 12}),
        ("103,76,,33,70", {"egg": 27, "larva": 43}),
        ("103,,40,33,70", {"egg": 63, "pupa": 7}),
        ("103,,,33,70", {"egg": 70}),
        ("40,30,,18,20", {"egg": 10, "larva": 10}),
    ],
)
def test_the_dead_in_all_are_dead_whose_stage_nobody_wrote(
    story: Story, tmp_path: Path, numbers: str, died: dict[str, int]
) -> None:
    ran = taken(story, tmp_path, UNCOUNTED.format(numbers))
    found = lived(story, tmp_path)
    assert {stage: row["died"] for stage, row in found.items() if row["died"]} == died
    assert sum(row["fate not known"] for name, row in found.items() if name != "adult") == (
        2 if numbers.endswith("20") else 0
    )
    doubtful = next(
        stage for stage in died if stage != "pupa" and pd.isna(found[stage]["share that went on"])
    )
    assert (
        f"were is not written: taken for {'larvae' if doubtful == 'larva' else 'eggs'}" in ran.out
    )


def test_more_dead_than_there_were_is_refused(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "old.csv", UNCOUNTED.format("40,30,,18,45"))
    assert ran.status == 1
    assert "45 died, but by the other numbers at most 40 can have" in ran.out + ran.err


def test_an_empty_cell_of_adults_says_not_that_all_emerged(story: Story, tmp_path: Path) -> None:
    """A day of emergence stands beside it: one did at least."""
    other = f"C2,{SPECIES},2021-07-03,,,,40,30,20,18,"
    taken(story, tmp_path, UNCOUNTED.format(f"40,30,20,,\n{other}"), "--as", "left=not known")
    table = table_of(story, tmp_path, "life-table")
    found = table[table["brood"] == "C1"].set_index("stage").to_dict("index")
    assert (found["adult"]["entered"], found["adult"]["number that entered is"]) == (1, "at least")
    assert "At least 1 came to be an adult; how many more" in note_of(story, tmp_path, "C1")
    assert found["pupa"]["fate not known"] == 19
    assert pd.isna(found["pupa"]["share that went on"])
    assert found["larva"]["fate not known"] == 10
