"""The same table again: under another name, on two laptops, after a line of it was crossed out; and asked in a terminal."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pexpect
import pytest

from tests.stories.telling import Ran, Story
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Melitaea athalia"
TABLE = f"""brood,species,laid,eggs,hatched,larvae,dead eggs
A,{SPECIES},2024-05-03,30,2024-05-12,28,2
B,{SPECIES},2024-05-13,20,2024-05-22,20,0
"""


def imported(story: Story, tmp_path: Path, name: str, text: str, *options: str) -> Ran:
    (tmp_path / name).write_text(text, encoding="utf-8")
    story.reopen()
    ran = story.shell("import", str(tmp_path / name), "--yes", *options)
    story.reopen()
    return ran


def broods(story: Story) -> list[str]:
    story.reopen()
    return sorted(story.desk.bench.broods)


def test_a_copy_under_another_name_is_asked_about(story: Story, tmp_path: Path) -> None:
    assert imported(story, tmp_path, "old.csv", TABLE).status == 0
    grown = f"{TABLE}C,{SPECIES},2024-06-03,10,2024-06-12,8,\n"
    ran = imported(story, tmp_path, "older.csv", grown)
    assert ran.status == 1
    assert "Say --same-as old.csv; if another, --same-as new" in ran.err
    assert broods(story) == ["A", "B"]
    ran = imported(story, tmp_path, "older.csv", grown, "--same-as", "old.csv")
    assert ran.status == 0, ran.err
    assert broods(story) == ["A", "B", "C"]
    assert story.shell("import", "--yes", "--undo").status == 0
    assert broods(story) == []


def test_another_table_beside_it_is_another(story: Story, tmp_path: Path) -> None:
    assert imported(story, tmp_path, "old.csv", TABLE).status == 0
    other = f"brood,species,laid,eggs\nA,{SPECIES},2023-05-03,12\n"
    assert imported(story, tmp_path, "other.csv", other).status == 0
    assert broods(story) == ["A", "A/23", "B"]
    assert story.shell("import", "--yes", "--undo", "old.csv").status == 0
    assert broods(story) == ["A/23"]


def test_a_line_crossed_out_by_hand_stays_crossed_out(story: Story, tmp_path: Path) -> None:
    assert imported(story, tmp_path, "old.csv", TABLE).status == 0
    (died,) = [line for line in story.on_disk() if line["what"] == "died"]
    story.desk.strike(died["id"], "two were found later")
    again = imported(story, tmp_path, "old.csv", TABLE)
    assert "the book has all of it already" in again.out
    assert died["id"] in story.desk.struck


def test_two_laptops_that_take_in_one_table_have_it_once(
    story: Story, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = Story(tmp_path / "other", monkeypatch, laptop="bbbb2222").at("2027-05-02 21:00")
    other.type("setting keeper XY")
    assert imported(other, tmp_path, "old.csv", TABLE).status == 0
    story.at("2027-05-01 20:00")
    assert imported(story, tmp_path, "old.csv", TABLE).status == 0
    story.at("2027-05-03 08:00")
    assert story.shell("merge", str(other.folder)).status == 0
    story.reopen()
    assert story.desk.gaps == []
    checked = story.shell("check")
    assert checked.status == 0, checked.out
    assert broods(story) == ["A", "B"]
    assert not story.desk.bench.oddities


def test_a_dry_run_begins_no_book(story: Story, tmp_path: Path) -> None:
    (tmp_path / "old.csv").write_text(TABLE, encoding="utf-8")
    ran = story.shell("import", str(tmp_path / "old.csv"), "--dry-run")
    assert ran.status == 0, ran.err
    assert "nothing is recorded, for --dry-run was given" in ran.out
    assert not story.folder.exists()


def test_in_a_terminal_it_asks_and_waits_for_yes(tmp_path: Path) -> None:
    text = "brood,laid,eggs\nA,3/5/2024,30\nB,4/6/2024,20\n"
    (tmp_path / "old.csv").write_text(text, encoding="utf-8")
    child = pexpect.spawn(
        sys.executable,
        ["-m", "rounds", "import", "old.csv", "--book", "book"],
        cwd=str(tmp_path),
        dimensions=(40, 200),
        env=os.environ | {"TZ": "Europe/Paris", "PYTHONPATH": os.getcwd()},
        encoding="utf-8",
        timeout=60,
    )
    child.expect("can be day first or month first.*: ")
    child.sendline("")
    child.expect("Enter alone is no answer; type one, back for the question before, or stop")
    child.expect("month-first.*: ")
    child.sendline("day-first")
    child.expect("no column says the species.*: ")
    child.sendline(SPECIES)
    child.expect("no line says what became of them.*: ")
    child.sendline("living")
    child.expect("Record it. Type yes: ")
    child.sendline("yes")
    child.expect("recorded: 1")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0
    lines = "".join(file.read_text() for file in (tmp_path / "book").glob("entries-*"))
    assert '"laid_from":"2024-05-03' in lines.replace(": ", ":")


def test_nobody_there_to_say_yes(story: Story, tmp_path: Path) -> None:
    (tmp_path / "old.csv").write_text(TABLE, encoding="utf-8")
    ran = story.shell("import", str(tmp_path / "old.csv"))
    assert ran.status == 1
    assert "nothing is recorded; add --yes" in ran.err
    assert story.on_disk() == []


def test_taking_back_asks_and_can_be_tried(story: Story, tmp_path: Path) -> None:
    assert imported(story, tmp_path, "old.csv", TABLE).status == 0
    tried = story.shell("import", "--undo", "--dry-run")
    assert tried.status == 0, tried.err
    assert "to take back: 15 entries from old.csv" in tried.out
    assert "nothing is taken back, for --dry-run was given" in tried.out
    unasked = story.shell("import", "--undo")
    assert unasked.status == 1
    assert "nothing is taken back; add --yes if it is right" in unasked.err
    assert broods(story) == ["A", "B"]
    assert story.shell("import", "--undo", "--yes").status == 0
    assert broods(story) == []


NOTEBOOK = """Datum;Gefäß;Was;Anzahl;Art
12.05.2022;M1;Eier gelegt;45;Melitaea fuscina
20.05.2022;M1;geschlüpft;30;Melitaea fuscina
20.06.2022;M1;verpuppt;25;Melitaea fuscina
"""


def test_a_cell_mended_and_changed_back_says_again_what_it_said(
    story: Story, tmp_path: Path
) -> None:
    """There and back, and there and back again; nothing is lost, and nothing new is written of what was there."""
    mended = NOTEBOOK.replace("45", "47")
    assert imported(story, tmp_path, "buch.csv", NOTEBOOK).status == 0
    for text, eggs in ((mended, 47), (NOTEBOOK, 45), (mended, 47), (NOTEBOOK, 45)):
        ran = imported(story, tmp_path, "buch.csv", text)
        assert ran.status == 0, ran.err
        life = table_of(story, tmp_path, "life-table").set_index("stage")
        assert life.loc["egg", ["entered", "went on"]].tolist() == [eggs, 30]
        assert story.shell("check").status == 0
    assert "that were crossed out count again" in ran.out
    again = imported(story, tmp_path, "buch.csv", NOTEBOOK)
    assert "the book has all of it already" in again.out
    assert story.shell("import", "--yes", "--undo").status == 0
    assert broods(story) == []


def test_what_the_keeper_crossed_out_stays_so_when_a_cell_is_changed_back(
    story: Story, tmp_path: Path
) -> None:
    assert imported(story, tmp_path, "old.csv", TABLE).status == 0
    (died,) = [line for line in story.on_disk() if line["what"] == "died"]
    story.later(minutes=5).desk.strike(died["id"], "")
    story.later(minutes=5)
    mended = TABLE.replace("2024-05-22,20", "2024-05-22,19")
    for text in (mended, TABLE):
        assert imported(story, tmp_path, "old.csv", text).status == 0
        story.later(minutes=5)
    assert died["id"] in story.desk.struck
    life = table_of(story, tmp_path, "life-table").set_index(["brood", "stage"])
    assert life.loc[("B", "egg"), "went on"] == 20


def test_the_same_as_a_table_that_never_came_in_is_refused(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "older.csv", TABLE, "--same-as", "old.csv")
    assert ran.status == 1
    assert "no table called 'old.csv' came in before; none did yet" in ran.err
    assert imported(story, tmp_path, "old.csv", TABLE).status == 0
    ran = imported(story, tmp_path, "older.csv", TABLE, "--same-as", "odl.csv")
    assert "no table called 'odl.csv' came in before; it can be old.csv" in ran.err
    ran = imported(story, tmp_path, "older.csv", TABLE, "--same-as", str(tmp_path / "OLD.csv"))
    assert ran.status == 0, ran.err
    assert "the book has all of it already" in ran.out
    assert broods(story) == ["A", "B"]
