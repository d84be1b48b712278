"""What old tables say of a female and of a laying that failed: it is in the book, as it was written."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from tests.stories.telling import Story

HEAD = "brood,species,mother,laid,eggs,larvae,hatched,pupae,pupated,adults,emerged,note"
MOTH = "Hyphoraia lunata"
FIRST = f'Y1,{MOTH},Fx9,2024-05-01,50,40,2024-05-08,10,2024-06-20,8,2024-07-05,"{{note}}"'
FAILED = f"Y3,{MOTH},Fx9,2024-05-05,0,0,,0,,0,,nothing came"


def taken_in(story: Story, tmp_path: Path, *rows: str) -> str:
    path = tmp_path / "old.csv"
    path.write_text("\n".join([HEAD, *rows]) + "\n", encoding="utf-8")
    told = story.shell("import", str(path), "--dry-run")
    ran = story.shell("import", str(path), "--yes", "--as", "left=not known")
    assert ran.status == 0, ran.err + ran.out
    return told.out


def notes(story: Story) -> list[str]:
    return [line["text"] for line in story.on_disk() if line["what"] == "note"]


def exported(story: Story, name: str) -> list[dict[str, str]]:
    file = story.folder.parent / f"{name}.csv"
    ran = story.shell("export", "csv", str(file), "--table", name, "--replace")
    assert ran.status == 0, ran.err
    with file.open(encoding="utf-8-sig", newline="") as lines:
        return list(csv.DictReader(lines))


def test_a_laying_that_failed_is_in_the_book(story: Story, tmp_path: Path) -> None:
    told = taken_in(story, tmp_path, FIRST.format(note="damp"), FAILED)
    assert "nothing new" not in told
    assert "counted 0" in told
    assert "in 2 broods: 50 animals" in told
    (brood,) = [line for line in story.on_disk() if line.get("code") == "Y3"]
    assert brood["laid_from"].startswith("2024-05-05")
    (zero,) = [line for line in story.on_disk() if line["what"] == "counted"]
    assert (zero["number"], zero["stage"], zero["brood"]) == (0, "egg", "Y3")
    assert any(note.startswith("nothing came") for note in notes(story))
    assert {row["brood"] for row in exported(story, "broods")} >= {"Y1", "Y3"}


def test_none_laid_and_some_hatched_cannot_be(story: Story, tmp_path: Path) -> None:
    path = tmp_path / "old.csv"
    path.write_text(f"{HEAD}\nY3,{MOTH},,2024-05-05,0,4,2024-05-12,,,,,\n", encoding="utf-8")
    ran = story.shell("import", str(path), "--yes")
    assert ran.status == 1
    assert "4 larvae of 0 eggs; mend one of them" in ran.err + ran.out
    assert story.on_disk() == []


@pytest.mark.parametrize(
    ("cell", "kept"),
    [
        ('""north"" edge, damp', '"north" edge, damp'),
        ('edge ""north""', 'edge "north"'),
        ('""north""', '"north"'),
    ],
)
def test_quotes_within_a_note_stay(story: Story, tmp_path: Path, cell: str, kept: str) -> None:
    taken_in(story, tmp_path, FIRST.format(note=cell))
    assert any(note.startswith(kept) for note in notes(story))


def test_a_space_before_a_quoted_cell_is_none_of_it(story: Story, tmp_path: Path) -> None:
    taken_in(story, tmp_path, FIRST.format(note="damp, cold").replace(',"', ', "'))
    assert any(note.startswith("damp, cold") for note in notes(story))


def test_broods_of_one_mother_stand_together(story: Story, tmp_path: Path) -> None:
    """The later of two layings stands first in the table; she comes in with the first."""
    second = f"Y2,{MOTH},Fx9,2024-05-03,30,25,2024-05-09,,,,,"
    taken_in(story, tmp_path, second, FIRST.format(note="damp"))
    (mother,) = [line for line in story.on_disk() if line["what"] == "founder"]
    assert (mother["code"], mother["taxon"], mother["at"][:10]) == ("Fx9", MOTH, "2024-05-01")
    mothers = {row["brood"]: row["mothers"] for row in exported(story, "broods")}
    assert mothers == {"Y1": "Fx9", "Y2": "Fx9"}
    assert not any("mother:" in note for note in notes(story))
    season = story.folder.parent / "season.md"
    assert story.shell("export", "season", str(season)).status == 0
    assert "| Y1 | Fx9 | 50 | 8 |" in season.read_text(encoding="utf-8")
    checked = story.shell("check")
    assert checked.status == 0, checked.out
    again = story.shell("import", str(tmp_path / "old.csv"), "--yes")
    assert "the book has all of it already" in again.out
    assert story.shell("import", "--yes", "--undo").status == 0
    story.reopen()
    assert not story.desk.bench.founders


def test_a_number_of_another_year_is_another_female(story: Story, tmp_path: Path) -> None:
    rows = (f"A,{MOTH},3,2023-05-01,9,,,,,,,", f"B,{MOTH},3,2024-05-01,9,,,,,,,")
    taken_in(story, tmp_path, *rows)
    mothers = {row["brood"]: row["mothers"] for row in exported(story, "broods")}
    assert mothers == {"A": "3", "B": "3/24"}


@pytest.mark.parametrize("cell", ["wild", "two females", "Fx9+Fx10", "Fx9-12", "Y1"])
def test_what_is_no_code_of_a_female_stays_a_note(story: Story, tmp_path: Path, cell: str) -> None:
    taken_in(story, tmp_path, FIRST.format(note="damp").replace("Fx9", cell))
    assert notes(story) == [f"damp; mother: {cell}"]
    assert not [line for line in story.on_disk() if line["what"] == "founder"]


def test_a_female_of_a_table_is_not_said_to_be_wild(story: Story, tmp_path: Path) -> None:
    """The table says whose broods they are, not where she is from."""
    taken_in(story, tmp_path, FIRST.format(note="damp"))
    file = story.folder.parent / "told.csv"
    assert story.shell("export", "occurrences", str(file)).status == 0
    with file.open(encoding="utf-8-sig", newline="") as lines:
        (hers,) = [row for row in csv.DictReader(lines) if row["organismName"] == "Fx9"]
    assert hers["eventRemarks"] == "mother of broods in older records; where from is not said"
    ran = story.shell("export", "occurrences", str(file), "--wild-only", "--replace")
    assert ran.status == 0, ran.err
    assert "Fx9" not in file.read_text(encoding="utf-8-sig")


def test_the_season_does_not_count_her_among_the_wild_caught(story: Story, tmp_path: Path) -> None:
    taken_in(story, tmp_path, FIRST.format(note="damp"))
    story.type("K2 set up laying", f"K2 founder W3 '{MOTH}' female")
    season = tmp_path / "season.md"
    assert story.shell("export", "season", str(season)).status == 0
    text = season.read_text(encoding="utf-8")
    heads, _, row = [line for line in text.splitlines() if line.startswith("|")][:3]
    told = dict(zip(heads.split("|"), row.split("|"), strict=True))
    assert told[" wild-caught "] == " 1 "
    assert "1 mother of broods in older records is not among the wild-caught" in text


def test_no_life_of_hers_is_told(story: Story, tmp_path: Path) -> None:
    """When she came and when she left nobody wrote down: she is none of those whose lives are."""
    taken_in(story, tmp_path, FIRST.format(note="damp"))
    story.type("K2 set up laying", f"K2 founder W3 '{MOTH}' female")
    story.later(days=6).type("K2 died W3 old age")
    plot = tmp_path / "lives.svg"
    ran = story.shell("export", "plot", MOTH, str(plot), "--plot", "females")
    assert ran.status == 0, ran.err
    assert "wild-caught: 1 females, 1 died" in plot.read_text(encoding="utf-8")
