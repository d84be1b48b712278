"""What was answered about an old table is not asked again, though nothing was recorded; an answer that does not fit is told why, and can be taken back."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pexpect
import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_on_the_screen import typed
from tests.stories.test_old_tables_taken_in_again import broods, imported

SPECIES = "Pieris verrina"
YES = "Record it. Type yes: "


def run(folder: Path, *options: str) -> pexpect.spawn:
    return pexpect.spawn(
        sys.executable,
        ["-m", "rounds", "import", "alt.csv", "--book", "book", *options],
        cwd=str(folder),
        dimensions=(40, 200),
        env=os.environ | {"TZ": "Europe/Paris", "PYTHONPATH": os.getcwd()},
        encoding="utf-8",
        timeout=60,
    )


def end(child: pexpect.spawn) -> None:
    child.expect(pexpect.EOF)
    child.close()


HEAD = f"Date;Cup;Species;What;Number\n3.5.2019;C1;{SPECIES};eggsies;20\n"


@pytest.mark.parametrize("options", [(), ("--dry-run",)])
def test_answers_outlast_a_run_that_ends_in_lines_to_mend(
    tmp_path: Path, options: tuple[str, ...]
) -> None:
    (tmp_path / "alt.csv").write_text(f"{HEAD}9.5.2019;C1;;hatched;30\n", encoding="utf-8")
    child = run(tmp_path, *options)
    child.expect("question 1 of 2: What: 'eggsies' in 1 line is not known.*: ")
    child.sendline("laid")
    child.expect("1 line to correct in alt.csv")
    if not options:
        child.expect("Enter ends: ")
        child.sendline("")
    child.expect("nothing is recorded")
    end(child)
    assert (
        list((tmp_path / "book").glob("entries-*") if not options else tmp_path.glob("book")) == []
    )
    (tmp_path / "alt.csv").write_text(f"{HEAD}9.5.2019;C1;;hatched;18\n", encoding="utf-8")
    child = run(tmp_path)
    child.expect("1 answer kept from the last time")
    child.expect("no line says what became of them.*: ")
    child.sendline("dead")
    assert child.expect([YES, "is not known"]) == 0
    child.sendline("yes")
    child.expect("recorded: ")
    end(child)


def test_answers_outlast_a_stop_and_go_back(tmp_path: Path) -> None:
    table = "Date;Cup;What;Number\n3/5/2019;C1;eggsies;20\n"
    (tmp_path / "alt.csv").write_text(table, encoding="utf-8")
    child = run(tmp_path)
    child.expect("question 1 of 3: Date: .*can be day first or month first.*: ")
    child.sendline("yesterday first")
    child.expect("'yesterday first' does not fit; it can be day-first, month-first")
    child.expect("question 1 of 3")
    child.sendline("month")
    child.expect("question 2 of 3: no column says the species.*: ")
    child.sendline("back")
    child.expect("question 1 of 3: Date.*: ")
    child.sendline("day")
    child.expect("question 2 of 3.*: ")
    child.sendline(SPECIES)
    child.expect("question 3 of 3: What: 'eggsies' in 1 line is not known.*: ")
    child.sendline("stop")
    end(child)
    child = run(tmp_path)
    child.expect("2 answers kept from the last time; back takes the last one back")
    assert (
        child.expect(["'eggsies' in 1 line is not known.*: ", "no column says", "Date: can"]) == 0
    )
    child.sendline("back")
    child.expect("no column says the species.*: ")
    child.sendline("Pieris orata")
    child.expect("'eggsies'.*: ")
    child.sendline("laid")
    child.expect("question . of .: of 20 eggs .C1/19A. no line says what became of them.*: ")
    child.sendline("not known")
    child.expect(YES)
    child.sendline("lines")
    child.expect("line 2: 3 May 2019: .*Pieris orata")
    child.sendline("yes")
    child.expect("recorded: ")
    end(child)


def test_another_table_is_asked_anew(story: Story, tmp_path: Path) -> None:
    table = "Date;Cup;What;Number\n3.5.2019;C1;laid;20\n"
    first = imported(story, tmp_path, "alt.csv", table, "--species", SPECIES, "--dry-run")
    assert first.status == 0, first.err
    assert story.on_disk() == []
    other = imported(story, tmp_path, "other.csv", table)
    assert "no column says the species" in other.err
    again = imported(story, tmp_path, "alt.csv", table)
    assert "1 answer kept from the last time" in again.out
    assert again.status == 0, again.err
    assert {one.taxon for one in story.desk.bench.broods.values()} == {SPECIES}


@pytest.mark.parametrize("said", ["Bête", "bete"])
def test_a_column_that_is_named_for_the_species_says_it(
    story: Story, tmp_path: Path, said: str
) -> None:
    table = "Bête;Ponte;Œufs;Élevage\nPiéride;3.5.2019;20;K1\nAurore;4.5.2019;12;K2\n"
    ran = imported(story, tmp_path, "alt.csv", table)
    assert "no column says the species" in ran.err
    ran = imported(story, tmp_path, "alt.csv", table, "--species", said)
    assert ran.status == 0, ran.err + ran.out
    assert broods(story) == ["K1", "K2"]
    assert {one.taxon for one in story.desk.bench.broods.values()} == {"Piéride", "Aurore"}


async def test_the_columns_that_may_be_the_species_are_offered(
    story: Story, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    table = "Bête;Ponte;Œufs;Élevage\nPiéride;3.5.2019;20;K1\nAurore;4.5.2019;12;K2\n"
    (tmp_path / "old.csv").write_text(table, encoding="utf-8")
    async with story.screens((80, 24)) as screen:
        await screen.type("import old.csv")
        assert "question 1 of 2: no column says the species" in screen.words
        assert "F2 Bête" in screen.words
        await screen.press("f2", "f2")
        assert "2 lines are understood" in screen.words
        await screen.press("f5", "f5")
        assert "no column says the species" in screen.words
        await screen.press("f2", "f2")
        await screen.press("escape")
        assert story.on_disk() == []
        await screen.type("import old.csv")
        assert "2 answers kept from the last time; F5 takes one back" in screen.words
        await screen.press("f10")
    assert broods(story) == ["K1", "K2"]


async def test_an_answer_that_does_not_fit_is_told_why(
    story: Story, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    rows = f"""Date;Cup;What;Number;Species
3.5.2020;T1;eggs laid;20;{SPECIES}
8.5.2020;T1;larvae hatched;20;
1.6.2020;T1;pupated;8;
3.6.2020;T1;given away;;
"""
    ran = imported(story, tmp_path, "old.csv", rows, "--as", "3.6.2020 T1 given away=1 eggs")
    assert "'1 eggs' does not fit, for no eggs are there" in ran.err
    async with story.screens((80, 24)) as screen:
        await screen.type("import old.csv")
        assert "of which stage, and how many" in screen.words
        await typed(screen, "1 eggs")
        assert (
            "'1 eggs' does not fit, for no eggs are there; it can be 1 pupa, 1 larva"
            in screen.words
        )
        await screen.press(*["backspace"] * 6)
        await typed(screen, "few")
        assert "'few' does not fit, for it names no stage" in screen.words
        await screen.press(*["backspace"] * 3)
        await typed(screen, "2 larvae")
        await screen.press("f2")
        assert "4 lines are understood" in screen.words


KNOWN = f"Date;Cup;Species;What;Number\n3.5.2019;C1;{SPECIES};laid;20\n"


def test_what_is_no_answer_at_the_end_is_told_and_ends_nothing(tmp_path: Path) -> None:
    (tmp_path / "alt.csv").write_text(f"{KNOWN}4.5.2019;C2;PO;laid;12\n", encoding="utf-8")
    child = run(tmp_path)
    child.expect("no line says what became of them.*: ")
    child.sendline("left=not known")
    child.expect("Type yes: ")
    child.sendline("looks good")
    child.expect("'looks good' says nothing here; it can be yes, back for .*Enter ends: ")
    child.sendline("XY=Pieris orata")
    child.expect("no column is called 'XY'.*: ")
    child.sendline("po = Pieris orata")
    child.expect(f"NEW species: {SPECIES}, Pieris orata")
    child.expect("Type yes: ")
    child.sendline("Cup=brood")
    child.expect("brood .as given.")
    child.expect("Type yes: ")
    child.sendline("no")
    child.expect("nothing is recorded; what was answered is kept")
    end(child)
    child = run(tmp_path)
    child.expect("3 answers kept from the last time")
    child.expect("NEW species: .*Pieris orata")
    child.expect("Type yes: ")
    child.sendline("yes")
    child.expect("recorded: ")
    end(child)


async def test_a_word_is_told_on_the_screen(
    story: Story, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "old.csv").write_text(f"{KNOWN}4.5.2019;C2;PO;laid;12\n", encoding="utf-8")
    async with story.screens((80, 24)) as screen:
        await screen.type("import old.csv")
        await screen.type("PO=Pieris orata")
        assert "of 32 eggs (C1/19A, C2/19A) no line says" in screen.words
        await screen.press("f2")
        assert f"NEW species: {SPECIES}, Pieris orata" in screen.words
        await screen.press("f10")
    assert {one.taxon for one in story.desk.bench.broods.values()} == {SPECIES, "Pieris orata"}


@pytest.mark.parametrize("recorded", [True, False])
def test_a_column_that_is_added_forgets_no_answer(
    story: Story, tmp_path: Path, recorded: bool
) -> None:
    said = ("--as", "eggsies=laid", "--map", "Foo=number", *(() if recorded else ("--dry-run",)))
    head = "Date;Cup;Species;What;Foo\n"
    first = imported(story, tmp_path, "alt.csv", f"{head}3.5.2019;C1;{SPECIES};eggsies;20\n", *said)
    assert first.status == 0, first.err
    grown = f"{head.strip()};Remarks\n3.5.2019;C1;{SPECIES};eggsies;20;small ones\n"
    ran = imported(story, tmp_path, "alt.csv", grown)
    assert ran.status == 0, ran.err
    assert "number (as" in ran.out
    assert broods(story) == ["C1/19A"]


def test_the_cup_is_called_as_it_is_spelt_most_often(story: Story, tmp_path: Path) -> None:
    rows = f"3.5.2019;c 1;{SPECIES};laid;20\n9.5.2019;C1;;hatched;18\n10.6.2019;C1;;pupated;18\n"
    ran = imported(story, tmp_path, "alt.csv", f"Date;Cup;Species;What;Number\n{rows}")
    assert ran.status == 0, ran.err
    assert broods(story) == ["C1/19A"]


def test_an_answer_from_before_that_fits_no_more_is_silent(story: Story, tmp_path: Path) -> None:
    sums = f"{HEAD}9.5.2019;C1;;hatched;30\nSumme;;;;20\n"
    said = ("--as", "eggsies=laid", "--as", "Summe=sum")
    assert imported(story, tmp_path, "old.csv", sums, *said).status == 1
    without = f"{HEAD}9.5.2019;C1;;hatched;18\n"
    ran = imported(story, tmp_path, "old.csv", without, "--as", "plumm=died")
    assert ran.status == 0, ran.err
    (line,) = (one for one in ran.out.splitlines() if one.startswith("said of words"))
    assert line.endswith(": plumm=died")


SEVERAL = f"""Date;Cup;Species;What;Number;Kolumna;Inna
3.5.2020;T1;{SPECIES};eggsies;20;abc;uvw
8.5.2020;T1;;hatchies;20;def;xyz
"""


async def test_several_answers_on_one_line_are_all_taken(
    story: Story, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "old.csv").write_text(SEVERAL, encoding="utf-8")
    async with story.screens((80, 24)) as screen:
        await screen.type("import old.csv")
        assert "'eggsies' in 1 line is not known" in screen.words
        await typed(screen, "eggsies=laid, hatchies=hatched")
        assert "no line says what became of them" in screen.words
        await screen.press("f2")
        assert "2 lines are understood" in screen.words
        await typed(screen, "Kolumna=note, Inna=place")
        await screen.press("f10")
    notes = [str(line.get("text")) for line in story.on_disk() if line["what"] == "note"]
    assert any("abc" in one for one in notes)
    assert any("uvw" in one for one in notes)


async def test_a_column_is_told_while_a_word_is_asked(
    story: Story, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "old.csv").write_text(SEVERAL, encoding="utf-8")
    async with story.screens((80, 24)) as screen:
        await screen.type("import old.csv")
        await typed(screen, "Kolumna=note")
        assert "'eggsies' in 1 line is not known" in screen.words
        await typed(screen, "laid")
        await typed(screen, "hatched")
        await screen.press("f2", "f10")
    notes = [str(line.get("text")) for line in story.on_disk() if line["what"] == "note"]
    assert any("abc" in one for one in notes)
