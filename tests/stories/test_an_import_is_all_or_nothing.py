"""An import of which a synchroniser, or a kill, left a part: nothing of it counts, that is told, and it heals."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.stories.telling import Ran, Story

SPECIES = "Melitaea athalia"
HEAD = "brood,species,laid,eggs,container,hatched,larvae\n"
ROWS = "".join(
    f"B{row},{SPECIES},2024-05-{row + 3:02},30,T{row},2024-05-{row + 12:02},28\n"
    for row in range(1, 9)
)


@pytest.fixture
def table(tmp_path: Path) -> Path:
    """A table of broods of a year long gone; nobody wrote what became of the larvae."""
    path = tmp_path / "old.csv"
    path.write_text(HEAD + ROWS)
    return path


def of_it(lines: list[bytes]) -> int:
    """How many lines are of an import."""
    return sum(b'"part_of"' in line for line in lines)


def take_in(story: Story, table: Path, *options: str) -> Ran:
    ran = story.shell("import", str(table), "--yes", *options)
    assert ran.status == 0, ran.err
    return ran


def entry_file(story: Story) -> Path:
    """The one file with lines of an import."""
    (found,) = [
        path for path in story.folder.glob("entries-*.jsonl") if b'"part_of"' in path.read_bytes()
    ]
    return found


def cut(story: Story, share: float) -> list[bytes]:
    """Of what was written leave a share, ending at a line end, on a machine that remembers nothing of
    it; all lines as they were."""
    story._monkeypatch.setenv("XDG_STATE_HOME", str(story.folder.with_name("another-home")))
    file = entry_file(story)
    lines = file.read_bytes().splitlines(keepends=True)
    file.write_bytes(b"".join(lines[: round(len(lines) * share)]))
    return lines


@pytest.fixture
def arrived(story: Story, table: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Story:
    """A laptop to whose copy of the book another's import comes."""
    other = Story(tmp_path / "other", monkeypatch, laptop="bbbb2222")
    other.clock = story.clock
    other.shell("log", "setting", "zone", "Europe/Paris")
    take_in(other, table)
    story.type("K2 set up laying")
    copy = story.folder / entry_file(other).name
    copy.write_bytes(entry_file(other).read_bytes())
    copy.chmod(0o600)
    return story


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9])
@pytest.mark.parametrize("is_open", [False, True])
def test_what_is_not_whole_does_not_count_and_is_told(
    arrived: Story, share: float, is_open: bool
) -> None:
    file = entry_file(arrived)
    whole = file.read_bytes().splitlines(keepends=True)
    some = round(len(whole) * share)
    file.unlink()
    arrived.reopen()
    if is_open:
        assert set(arrived.desk.bench.containers) == {"K2"}
    file.write_bytes(b"".join(whole[:some]))
    file.chmod(0o600)
    arrived.desk.hear()
    assert set(arrived.desk.bench.containers) == {"K2"}
    assert not arrived.desk.bench.broods
    told = f"the import of old.csv is not whole: {of_it(whole[:some])} of {of_it(whole)} lines are here"
    assert told in "".join(arrived.desk.gaps)
    due = arrived.shell("due")
    assert told in due.out
    assert "danger" not in due.out
    check = arrived.shell("check")
    assert check.status == 1
    assert told in check.out
    with file.open("ab") as rest:
        rest.write(b"".join(whole[some:-1]))
    arrived.desk.hear()
    assert not arrived.desk.bench.broods
    with file.open("ab") as rest:
        rest.write(whole[-1])
    arrived.desk.hear()
    assert len(arrived.desk.bench.broods) == 8
    assert arrived.desk.gaps == []
    arrived.reopen()
    assert len(arrived.desk.bench.broods) == 8
    assert "not whole" not in arrived.shell("due").out
    assert arrived.shell("check").status == 0


def test_a_part_beside_the_whole_is_no_gap(arrived: Story) -> None:
    file = entry_file(arrived)
    lines = file.read_bytes().splitlines(keepends=True)
    arrived.reopen()
    assert len(arrived.desk.bench.broods) == 8
    beside = file.with_name(f"{file.stem} (conflicted copy).jsonl")
    beside.write_bytes(b"".join(lines[:9]))
    beside.chmod(0o600)
    arrived.desk.hear()
    assert not arrived.desk.gaps
    arrived.reopen()
    assert not arrived.desk.gaps


def test_taken_in_again_it_is_whole(story: Story, table: Path) -> None:
    """A kill in the middle of writing leaves a part."""
    story.type("K2 set up laying")
    take_in(story, table)
    cut(story, 0.6)
    story.reopen()
    assert not story.desk.bench.broods
    ran = take_in(story.later(minutes=1), table)
    assert "recorded" in ran.out
    story.reopen()
    assert len(story.desk.bench.broods) == 8
    assert story.desk.gaps == []
    assert "not whole" not in story.shell("check").out
    assert story.shell("import", "--yes", "--undo").status == 0
    story.reopen()
    assert not story.desk.bench.broods
    assert story.desk.gaps == []


KILLED = """
import os, sys
from rounds.daybook.storage import LogStorage
def write(descriptor, data):
    if len(data) < 5_000:
        return os.write(descriptor, data)
    os.write(descriptor, data[:int(len(data) * SHARE)])
    os.kill(os.getpid(), 9)
LogStorage.__init__.__defaults__ = ("", write, os.fsync)
from rounds.shell.main import main
main(sys.argv[1:])
"""


@pytest.mark.parametrize("share", [0.0001, 0.5, 0.9])
@pytest.mark.parametrize("rows", [8, 90])
def test_killed_in_the_middle_of_an_import_it_heals_on_the_same_machine(
    story: Story, table: Path, share: float, rows: int
) -> None:
    table.write_text(
        HEAD + "".join(f"C{row},{SPECIES},2024-05-05,30,T{row},,\n" for row in range(rows))
    )
    story._laptop = ""
    story.type("K2 set up laying")
    command = ["import", str(table), "--yes", "--book", str(story.folder)]
    killed = subprocess.run(
        [sys.executable, "-c", KILLED.replace("SHARE", str(share)), *command], check=False
    )
    assert killed.returncode == -9
    story.reopen()
    assert not story.desk.bench.broods
    assert not [one for one in story.desk.gaps if "last line has no end" in one]
    story.shell("log", "K2 misted")
    take_in(story, table)
    story.reopen()
    assert len(story.desk.bench.broods) == rows
    assert story.desk.gaps == []
    check = story.shell("check")
    assert check.status == 0, check.out


def test_what_will_never_be_whole_is_taken_back(story: Story, table: Path) -> None:
    story.type("K2 set up laying")
    take_in(story, table)
    cut(story, 0.6)
    story.reopen()
    ran = story.shell("import", "--yes", "--undo", "old.csv")
    assert ran.status == 0, ran.err
    story.reopen()
    assert story.desk.gaps == []
    assert not story.desk.bench.broods
    take_in(story, table)
    story.reopen()
    assert len(story.desk.bench.broods) == 8


@pytest.mark.parametrize("share", [0.55, 0.75, 0.95])
async def test_half_taken_back_it_stands_until_that_is_whole(
    story: Story, table: Path, share: float
) -> None:
    take_in(story, table)
    assert story.shell("import", "--yes", "--undo").status == 0
    lines = cut(story, share)
    story.reopen()
    assert len(story.desk.bench.broods) == 8
    assert any("crossing out of many lines is not whole" in one for one in story.desk.gaps)
    assert story.shell("import", "--yes", "--undo").status == 0
    story.reopen()
    assert not story.desk.bench.broods
    assert story.desk.gaps == []
    assert len(lines) > 40


def test_a_grown_table_comes_wholly_or_stays_as_it_was(story: Story, table: Path) -> None:
    take_in(story, table)
    before = len(entry_file(story).read_bytes().splitlines())
    table.write_text(HEAD + ROWS.replace(",30,T3", ",31,T3") + f"B9,{SPECIES},2024-06-03,10,T9,,\n")
    take_in(story, table)
    file = entry_file(story)
    lines = file.read_bytes().splitlines(keepends=True)
    for some in range(before + 1, len(lines)):
        file.write_bytes(b"".join(lines[:some]))
        story.reopen()
        assert "B9" not in story.desk.bench.broods
        assert len(story.desk.bench.broods) == 8
        assert any("old.csv is not whole" in one for one in story.desk.gaps)
    file.write_bytes(b"".join(lines))
    story.reopen()
    assert len(story.desk.bench.broods) == 9
    assert story.desk.gaps == []


async def test_undone_by_u_it_goes_as_a_whole(
    story: Story, table: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(table.parent)
    story.type("K2 set up laying")
    async with story.screens((110, 40)) as screen:
        await screen.type("import old.csv")
        await screen.press("f2", "f10")
        assert len(story.desk.bench.broods) == 8
        await screen.press("u")
        assert not story.desk.bench.broods
        assert re.search(r"saved: \d+ lines of old.csv \d\d:\d\d crossed out", screen.words)
    cut(story, 0.8)
    story.reopen()
    assert len(story.desk.bench.broods) == 8
    assert any("crossing out of many lines is not whole" in one for one in story.desk.gaps)


def test_old_books_without_the_mark_count_as_ever(story: Story, table: Path) -> None:
    take_in(story, table)
    file = entry_file(story)
    lines = [json.loads(line) for line in file.read_bytes().splitlines()]
    for line in lines:
        line.pop("part_of", None)
    file.write_text("".join(f"{json.dumps(line)}\n" for line in lines[:20]))
    story.reopen()
    assert story.desk.bench.broods
    assert story.desk.gaps == []


@pytest.mark.parametrize("mark", ['"x/999999"', '"x/-1"', '"x"', '"/"', '"x/2x"', '""'])
def test_a_mark_of_strangers_hides_no_line_of_ours(story: Story, mark: str) -> None:
    story.type("K2 set up laying", "K2 misted")
    (file,) = story.folder.glob("entries-*.jsonl")
    line = json.loads(file.read_text().splitlines()[-1]) | {
        "id": "0-foreign",
        "what": "note",
        "text": "of a stranger",
        "part_of": json.loads(mark),
    }
    (story.folder / "entries-foreign2-2027-05.jsonl").write_text(json.dumps(line) + "\n")
    story.reopen()
    assert "misted" in story.desk.bench.containers["K2"].last
    counts = any("stranger" in str(one) for one in story.desk.entries(whole=True))
    assert counts is (mark != '"x/999999"')
    assert bool(story.desk.gaps) is not counts


@pytest.mark.parametrize(
    ("name", "told"),
    [
        (b"x" * 230 + b".csv", "the file's name is 234 letters long; give it one of at most 200"),
        (b"\xff\xfe.csv", "the file's name cannot be read as text; give it another name"),
    ],
)
def test_a_file_whose_name_no_line_can_hold_is_refused(
    story: Story, tmp_path: Path, name: bytes, told: str
) -> None:
    path = os.path.join(os.fsencode(tmp_path), name)
    try:
        with open(path, "wb") as file:
            file.write((HEAD + ROWS).encode())
    except OSError:
        pytest.skip("this system has no such names")
    ran = story.shell("import", os.fsdecode(path), "--yes")
    assert ran.status == 1
    assert f"{told}; nothing is recorded" in ran.err.replace("; Nothing", "; nothing")
    story.reopen()
    assert not story.desk.bench.broods


def test_what_it_says_of_taking_back_can_be_pasted(story: Story, table: Path) -> None:
    spaced = table.rename(table.with_name("my old.csv"))
    assert "rounds import --undo 'my old.csv'" in take_in(story, spaced).out
