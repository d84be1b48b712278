"""A table a year: in a sheet each of one spreadsheet, or one below the other with the year between them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_broods import taken
from tests.stories.test_old_tables_taken_in_again import broods, imported

SPECIES = "Aglia verrina"
HEAD = ["Datum", "Dose", "Art", "Was", "Anz."]


def workbook(tmp_path: Path) -> Path:
    """Two years, a sheet each, in which the cups are called alike."""
    openpyxl = pytest.importorskip("openpyxl")
    book = openpyxl.Workbook()
    first, second = book.active, book.create_sheet("2022")
    first.title = "2021"
    for sheet, year in ((first, 2021), (second, 2022)):
        sheet.append(HEAD)
        sheet.append([f"3.5.{year}", "D1", SPECIES, "gelegt", 20])
        sheet.append([f"12.5.{year}", "D1", None, "geschlüpft", 18])
    path = tmp_path / "old.xlsx"
    book.save(path)
    return path


def test_each_sheet_is_a_table_of_its_own(story: Story, tmp_path: Path) -> None:
    path = str(workbook(tmp_path))
    ran = story.shell("import", path, "--yes")
    assert ran.status == 0, ran.err + ran.out
    assert "sheet 2021; not read: 2022; --tab '2022' reads it" in ran.out
    assert broods(story) == ["D1/21A"]
    ran = story.shell("import", path, "--yes", "--tab", "2022")
    assert ran.status == 0, ran.err + ran.out
    assert "rounds import --undo 'old.xlsx (2022)'" in ran.out
    assert broods(story) == ["D1/21A", "D1/22A"]
    ran = story.shell("import", path, "--yes", "--tab", "2021")
    assert "the book has all of it already" in ran.out
    assert story.shell("import", "--yes", "--undo", "old.xlsx (2022)").status == 0
    assert broods(story) == ["D1/21A"]


async def test_a_sheet_is_chosen_on_the_screen(
    story: Story, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    workbook(tmp_path)
    monkeypatch.chdir(tmp_path)
    async with story.screens((80, 24)) as screen:
        await screen.type("import old.xlsx")
        assert "sheet 2021; not read: 2022; tab '2022' reads it" in screen.words
        await screen.type("tab 2023")
        assert "no sheet is called '2023'; there are 2021, 2022" in screen.words
        await screen.press(*["backspace"] * 8)
        await screen.type("tab 2022")
        assert "old.xlsx (2022)" in screen.words
        await screen.press("f2")
        assert "NEW species: Aglia verrina" in screen.words
        await screen.press("f10")
    assert broods(story) == ["D1/22A"]


@pytest.mark.parametrize("title", ["{}", "Saison {}", "*** {} ***"])
def test_the_year_stands_above_its_lines(story: Story, tmp_path: Path, title: str) -> None:
    parts = [
        f"{title.format(year)};;;;\n3.5.;D1;{SPECIES};gelegt;20\n12.5.;D1;;geschlüpft;18\n"
        for year in (2021, 2022)
    ]
    ran = taken(story, tmp_path, ";".join(HEAD) + "\n" + "".join(parts))
    assert "left out, for they hold a remark alone: lines 2, 5" in ran.out
    assert "those left in D1/21A, D1/22A: 4 eggs and 36 larvae taken as dead" in ran.out
    assert broods(story) == ["D1/21A", "D1/22A"]


def test_the_year_above_the_headings_is_that_of_the_lines(story: Story, tmp_path: Path) -> None:
    rows = f"3.5.;D1;{SPECIES};gelegt;20\n12.5.;D1;;geschlüpft;18\n"
    ran = imported(story, tmp_path, "old.csv", f"Saison 2021;;;;\n{';'.join(HEAD)}\n{rows}")
    assert ran.status == 0, ran.err + ran.out
    assert broods(story) == ["D1/21A"]


def test_the_year_of_a_sum_is_no_title(story: Story, tmp_path: Path) -> None:
    rows = f"3.5.;D1;{SPECIES};gelegt;20\nSumme 2019;;;;\n12.5.;D1;;geschlüpft;18\n"
    said = ("--as", "Summe=sum", "--year", "2021")
    ran = imported(story, tmp_path, "old.csv", f"{';'.join(HEAD)}\n{rows}", *said)
    assert ran.status == 0, ran.err + ran.out
    assert broods(story) == ["D1/21A"]


async def test_the_sheet_that_is_not_read_is_told_to_the_end(
    story: Story, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    workbook(tmp_path)
    monkeypatch.chdir(tmp_path)
    async with story.screens((110, 40)) as screen:
        await screen.type("import old.xlsx")
        await screen.press("f2")
        assert "understood" in screen.words
        assert "not read: 2022; tab '2022' reads it" in screen.words
        await screen.press("f10")
    ran = story.shell("import", str(tmp_path / "old.xlsx"), "--yes", "--tab", "2022")
    assert "not read of that file: 2021" in ran.out
