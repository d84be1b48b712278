"""Old tables as keepers have them: a row a container, counts by the day, words with numbers, dates without a year."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import broods, imported

SPECIES = "Melitaea cinxia"


def taken_in(story: Story, tmp_path: Path, text: str, *options: str) -> str:
    path = tmp_path / "old.csv"
    path.write_text(
        "\n".join(line.strip() for line in text.strip().splitlines()) + "\n", encoding="utf-8"
    )
    ran = story.shell("import", str(path), "--yes", *options)
    assert ran.status == 0, ran.err + ran.out
    return ran.out


def refused(story: Story, tmp_path: Path, text: str, *options: str) -> str:
    path = tmp_path / "old.csv"
    path.write_text(
        "\n".join(line.strip() for line in text.strip().splitlines()) + "\n", encoding="utf-8"
    )
    ran = story.shell("import", str(path), "--yes", *options)
    assert ran.status == 1
    assert "nothing is recorded" in ran.err
    assert len(ran.err.splitlines()) == 1
    assert story.on_disk() == []
    return ran.err + ran.out


def exported(story: Story, name: str) -> pd.DataFrame:
    file = story.folder.parent / f"{name}.csv"
    ran = story.shell("export", "csv", str(file), "--table", name, "--replace")
    assert ran.status == 0, ran.err
    return pd.read_csv(file)


def stages(story: Story) -> dict[str, tuple[int, ...]]:
    """Of all broods together: stage to how many entered, died, left alive, and of how many the record ends."""
    table = exported(story, "life-table").groupby("stage").sum(numeric_only=True)
    return {
        str(stage): tuple(
            int(row[name]) for name in ("entered", "died", "left the bench alive", "fate not known")
        )
        for stage, row in table.iterrows()
    }


def test_a_row_a_container(story: Story, tmp_path: Path) -> None:
    taken_in(
        story,
        tmp_path,
        f"""container,species,what it held,n,from,until,fate
        K1,{SPECIES},larvae,12,2024-06-01,2024-06-25,released
        K2,{SPECIES},pupae,5,2024-06-03,2024-07-01,died
        K3,{SPECIES},eggs,20,2024-05-20,2024-05-29,escaped""",
    )
    assert stages(story) == {"egg": (20, 0, 20, 0), "larva": (12, 0, 12, 0), "pupa": (5, 5, 0, 0)}


def test_counts_day_by_day(story: Story, tmp_path: Path) -> None:
    """Who is more of a stage than before reached it; who is fewer and reached no other died."""
    taken_in(
        story,
        tmp_path,
        f"""date,cup,species,eggs,larvae,pupae,adults,dead
        2024-05-03,7,{SPECIES},30,0,0,0,0
        2024-05-12,7,,10,18,0,0,2
        2024-05-14,7,,0,26,0,0,2
        2024-06-01,7,,0,10,15,0,1
        2024-06-08,7,,0,0,24,0,1
        2024-06-20,7,,0,0,2,20,2""",
    )
    assert stages(story) == {
        "egg": (30, 4, 0, 0),
        "larva": (26, 2, 0, 0),
        "pupa": (24, 2, 0, 2),
        "adult": (20, 0, 0, 20),
    }


def test_numbers_among_the_words(story: Story, tmp_path: Path) -> None:
    told = taken_in(
        story,
        tmp_path,
        f"""Date\tCup\tSpecies\tWhat happened\tNotes
        3 May 2025\tE1\t{SPECIES}\t30 eggs\tfrom K2
        12 May 2025\tE1\t\t28 hatched\t
        14 May 2025\tE1\t\t2 eggs died\tdried up
        27 May 2025\tE1\t\t3 moved to E2\t
        2 June 2025\tE1\t\tlid loose, 1 escaped\t""",
    )
    assert "left in E1/25A: 27 larvae taken as not known, for the table says what" in told
    assert stages(story) == {"egg": (30, 2, 0, 0), "larva": (28, 0, 1, 27)}
    notes = [line["text"] for line in story.on_disk() if line["what"] == "note"]
    assert notes == ["from K2", "dried up"]


def test_one_animal_by_the_dates_of_its_instars(story: Story, tmp_path: Path) -> None:
    taken_in(
        story,
        tmp_path,
        f"""Tier;Art;Ei;L1;L2;L3;L4;L5;Puppe;Falter;tot am;Geschlecht;Temp
        1;{SPECIES};3.5.24;10.5.24;14.5.24;18.5.24;22.5.24;26.5.24;1.6.24;12.6.24;;w;22
        2;{SPECIES};3.5.24;10.5.24;15.5.24;19.5.24;;;;;21.5.24;;22""",
    )
    took = exported(story, "durations")
    assert list(zip(took["stage"], took["instar"].fillna(0), took["mean (days)"], strict=True)) == [
        ("egg", 0, 7),
        ("larva", 1, 4.5),
        ("larva", 2, 4),
        ("larva", 3, 4),
        ("larva", 4, 4),
        ("larva", 5, 6),
        ("larva", 0, 22),
        ("pupa", 0, 11),
        ("egg to adult", 0, 40),
    ]
    assert set(took["mean temperature (C)"]) == {22}
    assert stages(story)["L3"] == (2, 1, 0, 0)


def test_dates_without_a_year(story: Story, tmp_path: Path) -> None:
    table = f"""brood,species,laid,eggs,hatched,larvae
    A,{SPECIES},3.5.,20,12.5.,18
    B,{SPECIES},13.5.,20,22.5.,20"""
    assert "of dates without a year say --year" in refused(story, tmp_path, table)
    taken_in(story, tmp_path, table, "--year", "2019")
    (first,) = [line for line in story.on_disk() if line["what"] == "brood" and line["code"] == "A"]
    assert first["laid_from"].startswith("2019-05-03T12:00")


def test_a_year_in_a_column_of_its_own(story: Story, tmp_path: Path) -> None:
    taken_in(
        story,
        tmp_path,
        f"""year,brood,species,laid,eggs,hatched,larvae
        2019,A,{SPECIES},3/5,20,12/5,18
        2021,B,{SPECIES},13/5,20,22/5,20""",
    )
    laid = {
        line["code"]: line["laid_from"][:10] for line in story.on_disk() if line["what"] == "brood"
    }
    assert laid == {"A": "2019-05-03", "B": "2021-05-13"}


def test_in_dutch_what_comes_out_comes_out_of_what_is_there(story: Story, tmp_path: Path) -> None:
    taken_in(
        story,
        tmp_path,
        f"""datum,bakje,soort,gebeurtenis,aantal,opmerking
        03-05-2023,1,{SPECIES},eitjes gelegd,40,
        12-05-2023,1,,uitgekomen,36,
        14-05-2023,1,,eitjes dood,4,
        30-05-2023,1,,verpopt,34,
        31-05-2023,1,,rups dood,2,
        10-06-2023,1,,uitgekomen,30,vlinders
        11-06-2023,1,,vrijgelaten,30,""",
    )
    assert stages(story) == {
        "egg": (40, 4, 0, 0),
        "larva": (36, 2, 0, 0),
        "pupa": (34, 0, 0, 4),
        "adult": (30, 0, 30, 0),
    }


@pytest.mark.parametrize(
    ("rows", "why"),
    [
        (
            "A,X,2024-05-03,30,2024-05-01,28",
            "hatched 01 May 2024 is before laid 03 May 2024; mend one of them",
        ),
        ("A,X,2024-05-03,30,soon,28", "hatched is 'soon'; it must be a date, as 2026-05-03"),
        (
            "A,X,2024-05-03,lots,2024-05-09,28",
            "eggs is 'lots'; it must be a whole number, as 12 or ca. 12",
        ),
        ("A,X,2024-05-03,20,2024-05-09,28", "28 larvae of 20 eggs; mend one of them"),
        ("A,X,2034-05-03,20,2034-05-09,18", "that is ahead of now"),
        (
            "A,X,,20,,18",
            "no date says when it began; give the day of laying, or one for all: --laid DAY",
        ),
    ],
)
def test_what_cannot_be_so_is_said_of_its_line(
    story: Story, tmp_path: Path, rows: str, why: str
) -> None:
    good = "\n".join(f"G{number},X,2024-05-0{number},20,2024-05-19,18" for number in range(1, 6))
    told = refused(
        story,
        tmp_path,
        f"brood,species,laid,eggs,hatched,larvae\n{good}\n{rows.replace('X', SPECIES)}".replace(
            "X", SPECIES
        ),
    )
    assert f"line 7 cannot be read: {why}" in told


def test_a_word_that_is_not_known_is_asked_about(story: Story, tmp_path: Path) -> None:
    table = f"""Datum;Gefäß;Art;Anzahl;was
    3.5.2024;7;{SPECIES};30;Ei
    18.5.2024;7;{SPECIES};5;perdauz"""
    assert (
        "was: 'perdauz' in 1 line is not known; what does it mean? Say it as: --as 'perdauz=note'"
        in refused(story, tmp_path, table)
    )
    taken_in(story, tmp_path, table, "--as", "perdauz=died")
    assert stages(story) == {"egg": (30, 5, 0, 25)}


def test_a_file_that_holds_no_table(story: Story, tmp_path: Path) -> None:
    for text, why in (
        ("nothing here", "no line has two columns"),
        ("1,2,3\n4,5,6", "no line names the columns"),
        ("a,b,c", "a table has a line of names"),
    ):
        assert why in refused(story, tmp_path, text)
    ran = story.shell("import", str(tmp_path / "not-there.csv"), "--yes")
    assert ran.status == 1
    assert "not-there.csv" in ran.err


def test_a_code_that_stands_today_gets_its_year(story: Story, tmp_path: Path) -> None:
    """The brood of a table is never taken for one of today's."""
    story.type("K2 set up laying", f"K2 founder A taxon='{SPECIES}' female")
    story.reopen()
    taken_in(
        story,
        tmp_path,
        f"brood,species,laid,eggs,hatched,larvae\nA,{SPECIES},2024-05-03,30,2024-05-12,28",
    )
    assert list(exported(story, "life-table").brood.unique()) == ["A/24"]


def test_a_count_and_the_dead_of_its_day(story: Story, tmp_path: Path) -> None:
    """The dead of the day of a count are of those that it misses; later ones are of those that it found."""
    told = taken_in(
        story,
        tmp_path,
        f"""date,cup,species,what,n
        2024-05-03,7,{SPECIES},laid,30
        2024-05-12,7,,hatched,30
        2024-05-20,7,,counted,26
        2024-05-20,7,,died,3
        2024-05-25,7,,died,2
        2024-06-01,7,,pupated,24""",
    )
    assert "6 lines are understood" in told
    assert stages(story) == {"egg": (30, 0, 0, 0), "larva": (30, 5, 0, 1), "pupa": (24, 0, 0, 24)}
    story.reopen()
    assert story.due() == {}


def test_what_a_row_of_events_does_not_use_is_named(story: Story, tmp_path: Path) -> None:
    told = taken_in(
        story,
        tmp_path,
        f"""date,cup,species,what,n,days as egg,mother
        2024-05-03,7,{SPECIES},laid,30,9,the worn one""",
        "--as",
        "left=not known",
    )
    assert "not used in rows of this sort: days as egg" in told
    assert [line["text"] for line in story.on_disk() if line["what"] == "note"] == [
        "mother: the worn one"
    ]


def test_numbers_of_lines_are_codes_of_broods_without_another(story: Story, tmp_path: Path) -> None:
    rows = "".join(f"{n},Aglia verrina,2014-05-0{n},30,20\n" for n in range(1, 5))
    ran = imported(story, tmp_path, "old.csv", f"Nr.,Species,Laid,Eggs,Larvae\n{rows}")
    assert ran.status == 0, ran.err + ran.out
    assert broods(story) == ["1", "2", "3", "4"]


@pytest.mark.parametrize("heading", ["m/w", "♂/♀", "M oder W"])
def test_a_column_of_sexes_is_known_by_what_is_in_it(
    story: Story, tmp_path: Path, heading: str
) -> None:
    rows = "".join(f"{n};Aglia verrina;3.5.2014;9;{'mw'[n % 2]};nein\n" for n in range(1, 5))
    ran = imported(story, tmp_path, "old.csv", f"Nr;Art;Eiablage;Ei (d);{heading};tot\n{rows}")
    assert ran.status == 0, ran.err + ran.out
    assert "sex (by " in ran.out


@pytest.mark.parametrize(
    "words", ["10 nach A2 umgesetzt", "10 moved to A2 (full)", "10 moved to A2", "moved 10 -> A2"]
)
def test_where_they_were_moved_to_stands_among_the_words(
    story: Story, tmp_path: Path, words: str
) -> None:
    rows = f"3.6.2021;A1;Aglia verrina;30 larvae\n4.6.2021;A1;;{words}\n5.6.2021;A2;;10 pupated\n"
    ran = imported(story, tmp_path, "old.csv", f"Datum;Becher;Art;Ereignis\n{rows}")
    assert ran.status == 0, ran.err + ran.out
    moved = [line for line in story.on_disk() if line["what"] == "moved"]
    assert [(line["to"], line["number"]) for line in moved] == [("A2/21", 10)]


def test_so_many_of_a_sex_are_asked_as_those_that_emerged(story: Story, tmp_path: Path) -> None:
    rows = "3.6.2021;A1;Aglia verrina;30 pupae\n4.6.2021;A1;;4 males\n"
    ran = imported(story, tmp_path, "old.csv", f"Datum;Becher;Art;Ereignis\n{rows}")
    assert "--as 'males=male emerged'" in ran.err
    ran = imported(
        story, tmp_path, "old.csv", f"Datum;Becher;Art;Ereignis\n{rows}", "--as", "males=emerged"
    )
    emerged = [line for line in story.on_disk() if line["what"] == "emerged"]
    assert [(one["number"], one["sex"]) for one in emerged] == [(4, "male")]


def test_numbers_of_stages_under_what_happened_are_no_days(story: Story, tmp_path: Path) -> None:
    rows = "3.6.21;A1;Aglia verrina;20 Eier\n13.6.21;A1;;18 Raupen\n13.7.21;A1;;16 Puppen\n"
    ran = imported(story, tmp_path, "old.csv", f"Datum;Becher;Art;Was\n{rows}")
    assert ran.status == 0, ran.err + ran.out
    assert "in 1 brood: 20 animals, 18 hatched, 16 pupated" in ran.out


def test_short_headings_of_broods(story: Story, tmp_path: Path) -> None:
    table = (
        "ponte n°,espèce,date ponte,nb œufs,nb geschl.,nb verp.,nb ♂,nb ♀,j. œuf,j. chenille\n"
        "1,Aglia verrina,03/05/2019,40,35,30,12,13,9,30\n"
        "2,Aglia verrina,15/05/2019,20,15,10,3,5,8,28\n"
        "3,Aglia verrina,19/05/2019,30,25,10,4,5,8,28\n"
    )
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err + ran.out
    assert "in 3 broods: 90 animals, 75 hatched, 50 pupated, 42 emerged" in ran.out
    assert broods(story) == ["1", "2", "3"]
