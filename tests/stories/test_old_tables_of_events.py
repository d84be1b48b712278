"""A notebook, a row an event: what comes out of what, the dead of no stage, cups by slips of their codes."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Ran, Story
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Colias verrina"


def taken(story: Story, tmp_path: Path, text: str, *options: str) -> Ran:
    """A notebook that comes in; lines may be indented."""
    lines = "\n".join(line.strip() for line in text.strip().splitlines()) + "\n"
    ran = imported(story, tmp_path, "notebook.csv", lines, *options)
    assert ran.status == 0, ran.err + ran.out
    assert story.shell("check").status == 0
    return ran


def stages(story: Story, tmp_path: Path) -> dict[str, tuple[int, int]]:
    """Of all broods together: stage to how many entered it and died in it."""
    table = table_of(story, tmp_path, "life-table")
    instars = table["stage"].str.match(r"L\d")
    later = instars & (table["stage"] != "L1")
    table.loc[later, "entered"] = 0
    table.loc[instars, "stage"] = "larva"
    sums = table.groupby("stage").sum(numeric_only=True)
    return {str(name): (int(row["entered"]), int(row["died"])) for name, row in sums.iterrows()}


@pytest.mark.parametrize("heading", ["Deaths", "Died", "Dead", "gestorben"])
def test_the_dead_in_a_column_of_their_own_died(story: Story, tmp_path: Path, heading: str) -> None:
    ran = taken(
        story,
        tmp_path,
        f"""Date;Cage;Event;Number;Species;{heading}
        2024-05-03;X1;laid;20;{SPECIES};
        2024-05-07;X1;hatched;15;{SPECIES};2
        2024-06-05;X1;pupated;12;{SPECIES};1
        2024-06-18;X1;emerged;10;{SPECIES};0""",
    )
    assert "deaths (by its name), 3 of 4 lines" in ran.out
    assert stages(story, tmp_path) == {
        "egg": (20, 5),
        "larva": (15, 2),
        "pupa": (12, 1),
        "adult": (10, 0),
    }
    assert "of which stage 3 were is not written: taken for larvae (2), pupae (1)" in ran.out
    notes = [line["text"] for line in story.on_disk() if line["what"] == "note"]
    assert sorted(notes) == [
        "5 eggs of which nothing more is written: dead",
        "of which stage 1 were is not written; taken for pupae",
        "of which stage 2 were is not written; taken for larvae",
    ]


def test_the_dead_of_a_row_that_tells_of_the_dead_are_told_once(
    story: Story, tmp_path: Path
) -> None:
    taken(
        story,
        tmp_path,
        f"""Date;Cage;Event;Number;Species;Deaths
        2024-05-03;X1;laid;20;{SPECIES};
        2024-05-05;X1;died;3;{SPECIES};3
        2024-05-07;X1;all hatched;;{SPECIES};1
        2024-05-09;X1;dead;;{SPECIES};4""",
    )
    assert stages(story, tmp_path) == {"egg": (20, 4), "larva": (16, 4)}


@pytest.mark.parametrize("column", ["Fate", "Outcome"])
def test_a_column_of_fates_makes_no_batch_of_each_row(
    story: Story, tmp_path: Path, column: str
) -> None:
    taken(
        story,
        tmp_path,
        f"""Date;Cage;Event;Number;Species;{column}
        2024-05-03;X1;laid;20;{SPECIES};
        2024-05-07;X1;larvae;15;{SPECIES};
        2024-06-05;X1;pupated;12;{SPECIES};
        2024-06-18;X1;emerged;10;{SPECIES};released""",
    )
    assert {name: entered for name, (entered, _) in stages(story, tmp_path).items()} == {
        "egg": 20,
        "larva": 15,
        "pupa": 12,
        "adult": 10,
    }
    notes = [line["text"] for line in story.on_disk() if line["what"] == "note"]
    assert sorted(notes) == ["5 eggs of which nothing more is written: dead", f"{column}: released"]


def test_a_column_that_tells_no_fate_is_none(story: Story, tmp_path: Path) -> None:
    """In French it would be the fate."""
    ran = taken(
        story,
        tmp_path,
        f"""Date;Cage;Event;Number;Species;Sort
        2024-05-03;X1;laid;20;{SPECIES};A2
        2024-05-07;X1;hatched;15;{SPECIES};B1""",
    )
    assert "left out: not understood, 2 of 2 lines" in ran.out


@pytest.mark.parametrize("came_out", ["geschlüpft", "éclosion", "hatched", "uitgekomen"])
def test_what_comes_out_after_the_pupation_comes_out_of_pupae(
    story: Story, tmp_path: Path, came_out: str
) -> None:
    taken(
        story,
        tmp_path,
        f"""Datum;Gefäß;Was;Anzahl;Art
        03.05.2022;M1;Eier gelegt;40;{SPECIES}
        12.05.2022;M1;{came_out};15;{SPECIES}
        02.06.2022;M1;verpuppt;12;{SPECIES}
        14.06.2022;M1;{came_out};10;{SPECIES}""",
    )
    entered = {name: entered for name, (entered, _) in stages(story, tmp_path).items()}
    assert entered == {"egg": 40, "larva": 15, "pupa": 12, "adult": 10}


def test_with_fewer_eggs_left_they_come_out_of_pupae_too(story: Story, tmp_path: Path) -> None:
    taken(
        story,
        tmp_path,
        f"""Datum;Gefäß;Was;Anzahl;Art
        03.05.2022;M1;Eier gelegt;33;{SPECIES}
        12.05.2022;M1;geschlüpft;30;
        02.06.2022;M1;verpuppt;28;
        14.06.2022;M1;geschlüpft;25;""",
    )
    entered = {name: entered for name, (entered, _) in stages(story, tmp_path).items()}
    assert entered == {"egg": 33, "larva": 30, "pupa": 28, "adult": 25}


@pytest.mark.parametrize("came_out", ["geschlüpft", "hatched"])
def test_a_cup_that_begins_with_what_came_out_of_eggs(
    story: Story, tmp_path: Path, came_out: str
) -> None:
    taken(
        story,
        tmp_path,
        f"""Datum;Gefäß;Was;Anzahl;Art
        12.05.2022;M1;{came_out};33;{SPECIES}
        20.05.2022;M1;L3;30;{SPECIES}
        02.06.2022;M1;verpuppt;28;{SPECIES}
        14.06.2022;M1;{came_out};25;{SPECIES}""",
    )
    story.reopen()
    assert len(story.desk.bench.broods) == 1
    entered = {name: entered for name, (entered, _) in stages(story, tmp_path).items()}
    assert entered == {"larva": 33, "pupa": 28, "adult": 25}


def test_where_it_is_not_clear_what_came_out_it_is_asked(story: Story, tmp_path: Path) -> None:
    """Eggs were laid after the others had hatched: of them or of the pupae."""
    rows = f"""Datum;Gefäß;Was;Anzahl;Art
03.05.2022;M1;Eier gelegt;40;{SPECIES}
12.05.2022;M1;geschlüpft;40;
02.06.2022;M1;verpuppt;12;
06.06.2022;M1;Eier gelegt;30;
14.06.2022;M1;geschlüpft;10;
"""
    ran = imported(story, tmp_path, "notebook.csv", rows)
    assert ran.status == 1
    assert (
        "line 6 cannot be read: whether larvae or adults came out is not clear; write larvae"
        " hatched, or emerged" in ran.out
    )
    assert story.on_disk() == []
    clear = rows.replace("14.06.2022;M1;geschlüpft", "14.06.2022;M1;Falter geschlüpft")
    taken(story, tmp_path, clear)
    assert stages(story, tmp_path)["adult"] == (10, 0)


def test_one_cup_by_slips_of_its_code(story: Story, tmp_path: Path) -> None:
    ran = taken(
        story,
        tmp_path,
        f"""Date;Cage;Event;Number;Species
        2024-05-03;J1;laid;20;{SPECIES}
        2024-05-07;J 1;hatched;15;{SPECIES}
        2024-06-05;j1;pupated;12;{SPECIES}
        2024-06-18;J-1;emerged;10;{SPECIES}
        2024-05-03;MF4;laid;8;{SPECIES}
        2024-05-08;MF 4;hatched;8;{SPECIES}""",
    )
    story.reopen()
    assert len(story.desk.bench.broods) == 2
    assert stages(story, tmp_path) == {
        "egg": (28, 5),
        "larva": (23, 11),
        "pupa": (12, 2),
        "adult": (10, 0),
    }
    assert "taken for one: J1, J 1, j1, J-1; MF4, MF 4" in ran.out


def test_the_dead_of_no_stage_are_of_the_most_likely(story: Story, tmp_path: Path) -> None:
    """Of the oldest of whom later lines leave so many: larvae once they hatched, whatever eggs never did."""
    ran = taken(
        story,
        tmp_path,
        f"""Datum;Gefäß;Was;Anzahl;Art
        03.05.2022;M1;Eier gelegt;44;{SPECIES}
        12.05.2022;M1;geschlüpft;29;
        15.05.2022;M1;tot;2;
        20.05.2022;M1;L3;27;
        25.05.2022;M1;gestorben;1;
        02.06.2022;M1;verpuppt;25;
        03.06.2022;M1;tot;1;
        14.06.2022;M1;geschlüpft;25;
        15.06.2022;M1;freigelassen;25;
        15.06.2022;M1;tot;3;""",
    )
    assert stages(story, tmp_path) == {
        "egg": (44, 15),
        "larva": (29, 4),
        "pupa": (25, 0),
        "adult": (25, 0),
    }
    assert "of which stage 4 were is not written: taken for larvae (4)" in ran.out


def test_a_move_whose_goal_is_not_written_is_a_note(story: Story, tmp_path: Path) -> None:
    taken(
        story,
        tmp_path,
        f"""Datum;Gefäß;Was;Anzahl;Art
        03.05.2022;M1;Eier gelegt;44;{SPECIES}
        12.05.2022;M1;geschlüpft;29;
        15.05.2022;M1;umgesetzt;29;
        16.05.2022;M1;verpuppt;0;
        16.05.2022;M2;Eier gelegt;0;{SPECIES}
        17.05.2022;M1;umgesetzt nach M3;;""",
        "--as",
        "left=not known",
    )
    notes = [line["text"] for line in story.on_disk() if line["what"] == "note"]
    assert sorted(notes) == ["Eier gelegt: 0", "umgesetzt: 29", "verpuppt: 0"]
    moved = [line for line in story.on_disk() if line["what"] == "moved"]
    assert sum(line["number"] for line in moved) == 44


def test_the_dead_among_larvae_of_no_known_instar(story: Story, tmp_path: Path) -> None:
    """Of a cup that begins with larvae some of which reach L3: which of them died, and are left, nobody knows."""
    ran = taken(
        story,
        tmp_path,
        f"""Datum;Gefäß;Was;Anzahl;Art
        12.05.2022;M1;Raupen;33;{SPECIES}
        20.05.2022;M1;L3;30;{SPECIES}
        21.05.2022;M1;tot;2;{SPECIES}
        02.06.2022;M1;verpuppt;28;{SPECIES}""",
    )
    assert "28 pupae taken as not known" in ran.out
    assert stages(story, tmp_path)["pupa"] == (28, 0)


@pytest.mark.parametrize(
    ("slip", "meaning"),
    [
        ("verpupt", "pupated"),
        ("geschlüft", "hatched"),
        ("hached", "hatched"),
        ("gestrben", "died"),
        ("ausgesezt", "released"),
        ("perdauz", "note"),
    ],
)
def test_the_nearest_word_is_proposed(
    story: Story, tmp_path: Path, slip: str, meaning: str
) -> None:
    rows = f"Datum;Gefäß;Was;Anzahl;Art\n03.05.2022;M1;Eier gelegt;30;{SPECIES}\n22.05.2022;M1;{slip};2;\n"
    ran = imported(story, tmp_path, "notebook.csv", rows)
    assert ran.status == 1
    assert f"what does it mean? Say it as: --as '{slip}={meaning}'" in ran.err


def test_months_in_roman_figures_and_a_mother_in_a_column_of_females(
    story: Story, tmp_path: Path
) -> None:
    ran = taken(
        story,
        tmp_path,
        f"""Date;Boîte;Quoi;Nombre;Espèce;Femelle
        3-V-2023;B1;ponte;30;{SPECIES};F7
        12-V-2023;B1;éclosion;28;;""",
    )
    assert "mother (by its name)" in ran.out
    story.reopen()
    (brood,) = story.desk.bench.broods.values()
    assert brood.mothers == ("F7",)
    assert brood.laid_from.date().isoformat() == "2023-05-03"


@pytest.mark.parametrize("came_in", ["Eier gelegt", "geschlüpft"])
def test_a_cup_that_is_used_again_next_year_holds_another_brood(
    story: Story, tmp_path: Path, came_in: str
) -> None:
    """What was left of the year before, eggs that never hatched and a pupa, is none of the new ones."""
    years = [
        f"""03.05.{year};M1;{came_in if year > 2021 else "Eier gelegt"};40;{SPECIES}
        {f"12.05.{year};M1;geschlüpft;30;" if came_in == "Eier gelegt" or year == 2021 else ""}
        02.06.{year};M1;verpuppt;28;
        14.06.{year};M1;geschlüpft;27;
        15.06.{year};M1;freigelassen;27;"""
        for year in (2021, 2022, 2023)
    ]
    rows = "\n".join(line for line in "\n".join(years).splitlines() if line.strip())
    taken(story, tmp_path, f"Datum;Gefäß;Was;Anzahl;Art\n{rows}")
    story.reopen()
    assert sorted(story.desk.bench.broods) == ["M1/21A", "M1/22A", "M1/23A"]
    assert stages(story, tmp_path)["adult"] == (81, 0)


def test_pupae_of_a_winter_are_not_what_was_left(story: Story, tmp_path: Path) -> None:
    taken(
        story,
        tmp_path,
        f"""Datum;Gefäß;Was;Anzahl;Art
        03.07.2021;M1;Eier gelegt;40;{SPECIES}
        12.07.2021;M1;geschlüpft;30;
        02.09.2021;M1;verpuppt;28;
        14.05.2022;M1;geschlüpft;27;
        15.05.2022;M1;Eier gelegt;60;
        25.05.2022;M1;geschlüpft;50;""",
        "--as",
        "left=not known",
    )
    story.reopen()
    assert sorted(story.desk.bench.containers) == []
    assert stages(story, tmp_path) == {
        "egg": (100, 0),
        "larva": (80, 0),
        "pupa": (28, 0),
        "adult": (27, 0),
    }


def test_cups_into_which_they_are_moved_each_year(story: Story, tmp_path: Path) -> None:
    """What came out of pupae there, and what is left of the year before, is told as where they were laid."""
    years = [
        f"""03.05.{year};M1;Eier gelegt;40;{SPECIES};
        12.05.{year};M1;geschlüpft;30;;
        20.05.{year};M1;umgesetzt;;;R1
        02.06.{year};R1;verpuppt;28;;
        14.06.{year};R1;geschlüpft;26;;
        15.06.{year};R1;freigelassen;26;;"""
        for year in (2021, 2022)
    ]
    taken(story, tmp_path, "Datum;Gefäß;Was;Anzahl;Art;nach\n" + "\n".join(years))
    assert stages(story, tmp_path) == {
        "egg": (80, 20),
        "larva": (60, 0),
        "pupa": (56, 0),
        "adult": (52, 0),
    }


@pytest.mark.parametrize(
    "column",
    [("stage", "larva", "larva", "pupa"), ("stage", "larva", "pupa", "adult"), ("stage", "egg", "Raupe", "Puppe"),
     ("instar", "L1", "L5", "pupa")],
)  # fmt: skip
def test_what_happened_decides_whatever_stage_stands_beside_it(
    story: Story, tmp_path: Path, column: tuple[str, ...]
) -> None:
    heading, hatched, pupated, emerged = column
    taken(
        story,
        tmp_path,
        f"""date;container;what happened;number;{heading}
        1.5.2021;C1;hatched;30;{hatched}
        2.5.2021;C1;died;3;larva
        5.6.2021;C1;pupated;18;{pupated}
        15.6.2021;C1;emerged;10;{emerged}""",
        "--species",
        SPECIES,
    )
    told = stages(story, tmp_path)
    assert [told[one][0] for one in ("larva", "pupa", "adult")] == [30, 18, 10]


def test_an_instar_reached_is_that_of_the_event_not_the_one_before(
    story: Story, tmp_path: Path
) -> None:
    taken(
        story,
        tmp_path,
        """date;container;what happened;number;stage
        1.5.2021;C1;hatched;20;L1
        9.5.2021;C1;L3;20;L2
        5.6.2021;C1;verpuppt;18;Raupe""",
        "--species",
        SPECIES,
    )
    moulted = [line["instar"] for line in story.on_disk() if line["what"] == "moulted"]
    assert 3 in moulted
    assert stages(story, tmp_path)["pupa"][0] == 18
