"""Tables for a spreadsheet, read back by the standard library's reader and by pandas."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rounds.entries import registry as k
from rounds.exchange.exports import TABLE_NAMES
from rounds.exchange.tables.table import cell, harmless
from rounds.exchange.tables.tables import TABLES
from rounds.shell.main import main
from rounds.views.words import literal
from tests.exchange.conftest import HOSTILE, Told

# The first signs by which a cell is taken for a formula, as the Open Worldwide Application Security Project lists them
# on its page 'CSV Injection' (from memory): equals, plus, minus, at, tab, carriage return.
LISTED = ("=", "+", "-", "@", "\t", "\r")


def rows(path: Path) -> list[dict[str, str]]:
    """A table read back."""
    return list(csv.DictReader(io.StringIO(path.read_bytes().decode("utf-8-sig"), newline="")))


def story(told: Told) -> None:
    """A female on two hosts, eggs on the second, a hot afternoon."""
    told.log(
        "L2 set up laying",
        "L2 founder QUE-26-02, Boloria dia female",
        "L2 host in violet leaf water",
    )
    told.on(days=2)
    told.log("L2 searched 0")
    told.log("L2 host out violet held", "L2 host in bramble leaf water", "room air 31.5C 40%")
    told.on(days=1)
    told.log("L2 searched 7 lens plant=bramble")


def test_the_names_of_the_tables_are_those_that_the_command_offers() -> None:
    assert tuple(TABLES) == TABLE_NAMES


def test_entries_come_back_with_their_times_and_what_was_struck(
    told: Told, export: Callable[..., Path]
) -> None:
    story(told)
    wrong = told.log("L2 drank")
    told.desk.strike(wrong.id, "wrong cup")

    found = rows(export("csv", "all.csv"))

    assert [row["counts"] for row in found if row["id"] == wrong.id] == ["struck"]
    assert {row["counts"] for row in found if row["id"] != wrong.id} == {"yes"}
    assert all(datetime.fromisoformat(row["happened at"]).utcoffset() is not None for row in found)
    assert len(found) == len(told.desk.entries(whole=True))


def test_laying_gives_effort_in_female_days_with_its_limits(
    told: Told, export: Callable[..., Path]
) -> None:
    story(told)

    by_host = {row["host"]: row for row in rows(export("csv", "laying.csv", "--table", "laying"))}

    assert float(by_host["violet"]["effort (female-days)"]) == pytest.approx(2.0)
    assert by_host["violet"]["eggs"] == "0"
    # Exact 95 % Poisson limits for 7 events: 2.814 to 14.423 (Garwood 1936; table in Ulm 1990, Am J Epidemiol 131:373).
    assert float(
        by_host["bramble"]["lower exact two-sided 95 % limit (eggs per female-day)"]
    ) == pytest.approx(2.814, abs=0.001)
    assert float(
        by_host["bramble"]["upper exact two-sided 95 % limit (eggs per female-day)"]
    ) == pytest.approx(14.423, abs=0.001)


def test_a_general_library_reads_every_table_of_the_zip(
    told: Told, export: Callable[..., Path]
) -> None:
    story(told)

    with zipfile.ZipFile(export("csv", "all.zip")) as archive:
        tables = {name: pd.read_csv(archive.open(name)) for name in archive.namelist()}

    assert set(tables) == {f"{name}.csv" for name in TABLES}
    assert tables["warmth.csv"]["temperature (C)"].tolist() == [31.5]
    assert tables["stock.csv"]["number"].sum() == 8


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_is_shown_and_never_run(
    told: Told, export: Callable[..., Path], text: str
) -> None:
    told.log("L2 set up laying")
    told.record(k.Note, container="L2", text=text)
    told.record(k.Taxon, name=text)

    for row in rows(export("csv", "all.csv")):
        for value in row.values():
            assert not value.startswith(LISTED)
    read = rows(export("csv", "all.csv", "--replace"))
    assert any(literal(text).strip() in row["told"] for row in read)
    fields = rows(export("csv", "fields.csv", "--table", "fields"))
    shown = harmless(literal(text))
    assert [row["value"] for row in fields if row["field"] == "text"] == [shown]


@given(st.text())
def test_no_text_begins_a_formula_and_none_is_lost(text: str) -> None:
    made = harmless(text)

    assert not made.startswith(LISTED)
    assert made in (text, f"'{text}")


@given(st.text())
def test_a_cell_comes_back_as_it_was_written(text: str) -> None:
    out = io.StringIO()
    csv.writer(out).writerow([cell(text), "end"])

    (row,) = csv.reader(io.StringIO(out.getvalue(), newline=""))

    assert row == [cell(text), "end"]


def test_numbers_stay_numbers() -> None:
    assert (cell(-5.25), cell(0), cell(None), cell(7)) == ("-5.25", "0", "", "7")


def test_the_life_table_counts_what_each_stage_came_to(
    told: Told, export: Callable[..., Path]
) -> None:
    story(told)
    told.record(k.Hatched, container="L2", number=5)
    told.record(k.Died, container="L2", number=2, stage="egg", cause="collapsed")

    egg, larva = rows(export("csv", "life.csv", "--table", "life-table"))

    assert (egg["brood"], egg["taxon"]) == ("QUE-26-02/A", "Boloria dia")
    assert [egg[name] for name in ("stage", "entered", "went on", "died", "in it now")] == [
        "egg",
        "7",
        "5",
        "2",
        "0",
    ]
    # Exact 95 % limits of 5 in 7: 0.2904 to 0.9633 (Clopper and Pearson 1934; scipy's binomtest, method 'exact').
    assert float(egg["lower 95 % limit"]) == pytest.approx(0.2904, abs=0.0001)
    assert float(egg["upper 95 % limit"]) == pytest.approx(0.9633, abs=0.0001)
    assert [larva[name] for name in ("stage", "entered", "in it now")] == ["L1", "5", "5"]


def test_readings_of_loggers_come_back_at_their_instants(
    told: Told, export: Callable[..., Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told.log("L2 set up laying")
    file = tmp_path / "logger.csv"
    file.write_text(
        "time,temperature (C)\n2026-05-19T06:00:00+02:00,14.5\n2026-05-19T07:00:00+02:00,15.25\n"
    )
    monkeypatch.setattr("rounds.shell.temperatures.desk_of", lambda book, **_: told.desk)
    assert main(["temperatures", str(file), "--place", "L2"]) == 0

    found = rows(export("csv", "warmth.csv", "--table", "warmth"))

    assert [(row["place"], row["temperature (C)"]) for row in found] == [
        ("L2", "14.5"),
        ("L2", "15.25"),
    ]
    assert datetime.fromisoformat(found[1]["at"]) == datetime.fromisoformat(
        "2026-05-19T07:00:00+02:00"
    )


def test_places_of_protected_taxa_are_generalised_in_tables_too(
    told: Told, export: Callable[..., Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    told.record(k.Taxon, name="Boloria dia", protected=True)
    told.log("L2 set up laying")
    told.record(
        k.FounderIntake,
        container="L2",
        code="Q-1",
        taxon="Boloria dia",
        place="ride 3",
        latitude=51.9471,
        longitude=0.2049,
    )

    assert "ride 3" not in export("csv", "all.csv").read_text()
    text = export("csv", "fields.csv", "--table", "fields").read_text()
    assert "ride 3" not in text
    assert "51.9471" not in text
    assert "51.95" in text
    assert "ride 3" in export("csv", "exact.csv", "--exact-localities", "--yes").read_text()


@pytest.mark.parametrize(("answer", "status"), [("yes\n", 0), ("y\n", 1), ("\n", 1), ("", 1)])
def test_at_a_terminal_exact_places_are_asked_about(
    told: Told,
    export: Callable[..., Path],
    monkeypatch: pytest.MonkeyPatch,
    answer: str,
    status: int,
) -> None:
    class Typed(io.StringIO):
        def isatty(self) -> bool:
            return True

    told.log("L2 set up laying")
    monkeypatch.setattr("sys.stdin", Typed(answer))

    assert export("csv", "all.csv", "--exact-localities", status=status).exists() == (status == 0)
