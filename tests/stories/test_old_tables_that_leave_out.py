"""What old tables leave unsaid: codes, dates as above, sums, whose codes; nothing is dropped in silence."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pexpect
import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages
from tests.stories.test_old_tables_taken_in_again import broods, imported

SPECIES = "Pieris verrina"


def year_of(day: int, eggs: int) -> str:
    return f"Species;Laid;Eggs;Larvae\n{SPECIES};2021-05-{day:02d};{eggs};{eggs - 2}\n"


def test_a_second_table_without_codes_has_the_next_code(story: Story, tmp_path: Path) -> None:
    assert imported(story, tmp_path, "spring.csv", year_of(3, 20)).status == 0
    assert imported(story, tmp_path, "late.csv", year_of(20, 34)).status == 0
    assert broods(story) == ["VERR21.1", "VERR21.2"]
    for name, text in (("spring.csv", year_of(3, 20)), ("late.csv", year_of(20, 34))):
        assert "the book has all of it already" in imported(story, tmp_path, name, text).out
    grown = year_of(3, 20) + f"{SPECIES};2021-07-01;12;11\n"
    assert imported(story, tmp_path, "spring.csv", grown).status == 0
    assert broods(story) == ["VERR21.1", "VERR21.2", "VERR21.3"]


EMPTY = f"""Datum;Gefäß;Was;Anzahl;Art
13.5.2020;T1;Eier;20;{SPECIES}
;T2;Eier;12;{SPECIES}
18.5.2020;T1;Raupen geschlüpft;20;
;T2;Raupen geschlüpft;11;
"""


def test_an_empty_date_is_asked_once(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "alt.csv", EMPTY)
    assert ran.status == 1
    assert (
        "under Datum nothing stands in 2 lines, as line 3: is it that of the line above (as above)"
        in ran.err
    )
    ran = imported(story, tmp_path, "alt.csv", EMPTY, "--as", "empty Datum=no date")
    assert "line 3 cannot be read: it has no date" in ran.out
    ran = imported(story, tmp_path, "alt.csv", EMPTY, "--as", "empty Datum=as above")
    assert ran.status == 0, ran.err
    hatched = [line["at"][:10] for line in story.on_disk() if line["what"] == "hatched"]
    assert hatched == ["2020-05-18", "2020-05-18"]


@pytest.mark.parametrize(
    "sign", ["dto", "dto.", "''", '-"-', "〃", '"', '""""', "do.", "ditto", "„"]
)
def test_a_sign_for_the_same_date(story: Story, tmp_path: Path, sign: str) -> None:
    table = EMPTY.replace("\n;", f"\n{sign};")
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 0, ran.err + ran.out
    hatched = [line["at"][:10] for line in story.on_disk() if line["what"] == "hatched"]
    assert hatched == ["2020-05-18", "2020-05-18"]


@pytest.mark.parametrize(
    "heading",
    ["Élevage", "Elevage", "Cría", "Lot", "Lote", "Charge", "Familie", "Série", "Zucht", "Brood"],
)
def test_codes_of_broods_in_other_languages(story: Story, tmp_path: Path, heading: str) -> None:
    table = f"{heading};Species;Laid;Eggs\nK7;{SPECIES};2021-05-03;20\nK8;{SPECIES};2021-05-04;12\n"
    assert imported(story, tmp_path, "alt.csv", table).status == 0
    assert broods(story) == ["K7", "K8"]


def test_codes_that_are_not_understood_are_asked_about(story: Story, tmp_path: Path) -> None:
    table = f"Perdauz;Species;Laid;Eggs\nK7;{SPECIES};2021-05-03;20\nK8;{SPECIES};2021-05-04;12\n"
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 1
    assert "Perdauz holds codes (K7, K8); what are they?" in ran.err
    assert imported(story, tmp_path, "alt.csv", table, "--map", "Perdauz=brood").status == 0
    assert broods(story) == ["K7", "K8"]


def test_columns_that_are_left_out_are_told_last(story: Story, tmp_path: Path) -> None:
    table = f"Brood;Species;Laid;Eggs;Perdauz\nK7;{SPECIES};2021-05-03;20;plitsch\n"
    ran = imported(story, tmp_path, "alt.csv", table, "--dry-run")
    assert ran.out.splitlines()[-2] == "columns that are left out: Perdauz (plitsch)"


def test_a_sum_is_no_cup_and_no_brood(story: Story, tmp_path: Path) -> None:
    table = f"""Datum;Gefäß;Was;Anzahl;Art
13.5.2020;T1;Eier;20;{SPECIES}
14.5.2020;T1;Eier;12;{SPECIES}
15.5.2020;T1;Summe Eier;32;
15.5.2020;gesamt;Eier;32;{SPECIES}
"""
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 1
    assert "line 4: 'Summe Eier' reads as a sum or a mean of other lines" in ran.err
    said = ("--as", "Summe Eier=sum", "--as", "gesamt=sum")
    ran = imported(story, tmp_path, "alt.csv", table, *said)
    assert ran.status == 0, ran.err
    assert "left out, for they are sums or means of others: lines 4, 5" in ran.out
    assert stages(story, tmp_path)["egg"][0] == 32
    assert len(broods(story)) == 1


def test_what_was_learned_outlasts_the_taking_back(story: Story, tmp_path: Path) -> None:
    table = f"Perdauz;Species;Laid;Eggs\nK7;{SPECIES};2021-05-03;20\nK8;{SPECIES};2021-05-04;12\n"
    assert imported(story, tmp_path, "alt.csv", table, "--map", "Perdauz=brood").status == 0
    assert story.shell("import", "--undo", "--yes").status == 0
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 0, ran.err
    assert "brood (as the last time)" in ran.out
    assert broods(story) == ["K7", "K8"]


def test_dates_with_dots_are_day_first(story: Story, tmp_path: Path) -> None:
    table = f"Brood;Species;Laid;Eggs\nA;{SPECIES};3.4.2021;20\n"
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 0, ran.err
    assert "day first, for dates with dots are written so" in ran.out
    assert story.desk.bench.broods["A"].laid_from.date().isoformat() == "2021-04-03"


@pytest.mark.parametrize("answer", ["d", "day", "day first", "day-first", "dmy"])
def test_the_order_of_dates_in_short(story: Story, tmp_path: Path, answer: str) -> None:
    table = f"Brood;Species;Laid;Eggs\nA;{SPECIES};3/4/2021;20\n"
    assert imported(story, tmp_path, "alt.csv", table, "--dates", answer).status == 0
    assert story.desk.bench.broods["A"].laid_from.date().isoformat() == "2021-04-03"


def test_the_order_of_dates_in_short_in_a_terminal(tmp_path: Path) -> None:
    (tmp_path / "alt.csv").write_text(f"Brood;Species;Laid;Eggs\nA;{SPECIES};3/4/2021;20\n")
    child = pexpect.spawn(
        sys.executable,
        ["-m", "rounds", "import", "alt.csv", "--book", "book"],
        cwd=str(tmp_path),
        dimensions=(40, 200),
        env=os.environ | {"TZ": "Europe/Paris", "PYTHONPATH": os.getcwd()},
        encoding="utf-8",
        timeout=60,
    )
    child.expect("can be day first or month first.*: ")
    child.sendline("d")
    child.expect("no line says what became of them.*: ")
    child.sendline("dead")
    child.expect("Record it. Type yes: ")
    child.sendline("yes")
    child.expect("recorded: ")
    child.expect(pexpect.EOF)
    child.close()


def test_a_generation_for_a_mother_is_taken_in(story: Story, tmp_path: Path) -> None:
    """F1 of several species, one season: a female of each, as long as nobody says that it is none."""
    rows = "".join(
        f"{code};Pieris {name};F1;13.5.2020;20\n"
        for code, name in (("A", "verrina"), ("B", "orata"), ("C", "selma"), ("D", "tristis"))
    )
    table = f"Zuchtnr;Art;Mutter;Eiablage;Eier\n{rows}"
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 1
    assert "Mutter: F1 is of 4 species; is it a generation (note) or a female of each" in ran.err
    ran = imported(story, tmp_path, "alt.csv", table, "--map", "Mutter=note")
    assert ran.status == 0, ran.err
    assert not story.desk.bench.founders
    assert story.shell("import", "--undo", "--yes").status == 0
    ran = imported(story, tmp_path, "alt.csv", table, "--map", "Mutter=mother")
    assert ran.status == 0, ran.err
    assert len(story.desk.bench.founders) == 4


def test_a_cup_is_called_as_it_was_written_first(story: Story, tmp_path: Path) -> None:
    table = f"""Datum;Gefäß;Was;Anzahl;Art
13.5.2020;J1;Eier;20;{SPECIES}
13.5.2021;j 1;Eier;20;{SPECIES}
"""
    assert imported(story, tmp_path, "alt.csv", table).status == 0
    cups = [line["container"] for line in story.on_disk() if line["what"] == "set up"]
    assert cups == ["J1/20", "J1/21"]


def test_a_line_of_a_remark_alone_is_no_cup(story: Story, tmp_path: Path) -> None:
    table = (
        "Datum;Dose;Art;Was;Anz.;Bem.\n"
        "03.06.21;D1;Aglia verrina;gelegt;20;\n"
        "04.06.21;Balkon;;;;Gewitter\n"
        "05.06.21;;;;;verreist bis Montag\n"
        "06.06.21;D1;;;;unruhig\n"
        "URLAUB;;;;;\n"
        "07.06.21;D2;;;;leer\n"
        "13.06.21;D1;;geschlüpft;18;\n"
        "14.06.21;D1;;umgesetzt nach D2;18;\n"
    )
    ran = imported(story, tmp_path, "old.csv", table, "--as", "left=not known")
    assert ran.status == 0, ran.err + ran.out
    assert "left out, for they hold a remark alone: lines 3, 4, 6" in ran.out
    assert sorted(story.desk.bench.closed) == ["D1/21", "D2/21"]
    assert [line["text"] for line in story.on_disk() if line["what"] == "note"] == [
        "unruhig",
        "leer",
    ]


def test_an_empty_cup_is_asked_once(story: Story, tmp_path: Path) -> None:
    table = (
        "Date;Boîte;Espèce;Quoi;Combien;Remarque\n"
        "3/6/21;B1;Aglia verrina;ponte;20;\n"
        ";;;ponte;4;\n"
        "13/6/21;B1;;naissance;20;\n"
        "13/6/21;;;oeufs clairs;4;\n"
        "14/6/21;;;;;partis en vacances\n"
    )
    ran = imported(story, tmp_path, "old.csv", table, "--as", "empty Date=as above")
    assert (
        "under Boîte nothing stands in 2 lines, as line 3: is it that of the line above" in ran.err
    )
    said = ("--as", "empty Date=as above", "--as", "empty Boîte=as above")
    ran = imported(story, tmp_path, "old.csv", table, *said)
    assert ran.status == 0, ran.err + ran.out
    assert "left out, for they hold a remark alone: line 6" in ran.out
    assert stages(story, tmp_path) == {"egg": (24, 4), "larva": (20, 0)}


RECKONED = "gem.; MW; Total général; n =; Σ; s.d.; Écart-type; Zwischensumme; mediana; prom.; max"


@pytest.mark.parametrize("word", RECKONED.split("; "))
def test_what_is_reckoned_of_others_is_no_animal(story: Story, tmp_path: Path, word: str) -> None:
    rows = "".join(f"{one},G,{SPECIES},2020-06-0{one},8,30\n" for one in range(1, 5))
    table = f"Nr.,Groep,Soort,Eileg,dagen ei,dagen rups\n{rows}{word},,,,8,30\n"
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 1
    assert f"line 6: '{word}' reads as a sum or a mean of other lines" in ran.err


@pytest.mark.parametrize(
    "name",
    [
        *("Total des pontes", "Total anotaciones", "Total (2 broods)", "Sum of all"),
        *("Mittelwert der Bruten", "Totaal kweken", "Suma de puestas", "2 broods in total"),
    ],
)
def test_what_begins_or_ends_as_a_sum_is_asked_about(
    story: Story, tmp_path: Path, name: str
) -> None:
    table = (
        "Brood;Species;Laid;Eggs;Hatched\n"
        f"B1;{SPECIES};2022-05-01;40;36\nB2;{SPECIES};2022-05-21;30;26\n{name};;;70;62\n"
    )
    ran = imported(story, tmp_path, "old.csv", table)
    assert f"line 4: '{name}' reads as a sum or a mean of other lines" in ran.err
    ran = imported(story, tmp_path, "old.csv", table, "--as", f"{name}=sum")
    assert ran.status == 0, ran.err
    assert broods(story) == ["B1", "B2"]


@pytest.mark.parametrize("name", ["Summer", "Sommerbrut 1", "Summer brood"])
def test_a_season_is_no_sum(story: Story, tmp_path: Path, name: str) -> None:
    table = f"Brood;Species;Laid;Eggs;Hatched\n{name};{SPECIES};2022-05-01;40;36\n"
    ran = imported(story, tmp_path, "old.csv", f"{table}B2;{SPECIES};2022-05-21;30;26\n")
    assert ran.status == 0, ran.err
