"""Two machines whose homes, images or names are alike, and a synchroniser between their books: nothing that was said is lost."""

from __future__ import annotations

import json
import os
import shutil
from pathlib import Path

import pytest

from tests.stories.telling import Story

CUP = "K2 set up laying"


def use(
    monkeypatch: pytest.MonkeyPatch, story: Story, folder: Path, home: Path | None = None
) -> None:
    """Sit down at another machine: its book, and its home."""
    story.folder = folder
    if home is not None:
        monkeypatch.setenv("XDG_STATE_HOME", str(home))


def say(story: Story, text: str) -> str:
    """Log a note; its id once it is acknowledged."""
    ran = story.later(seconds=1).shell("log", "K2", "note", text)
    assert ran.status == 0, ran.err
    return ran.out.split()[-1]


def ids(folder: Path) -> set[str]:
    """Ids of all lines of a book, read in the plainest way."""
    files = [path for path in folder.iterdir() if path.is_file() and "checkpoint" not in path.name]
    return {json.loads(line)["id"] for path in files for line in path.read_bytes().splitlines()}


def told(story: Story, status: int = 0) -> set[str]:
    """What the program itself has in the book: every entry by `rounds export csv`."""
    out = story.folder.with_name("out.csv")
    ran = story.shell("export", "csv", str(out), "--table", "entries", "--replace")
    assert ran.status == status, ran.err
    return {line.split(",")[0] for line in out.read_text().splitlines()[1:]}


def test_two_copies_under_one_home_never_write_one_file(
    story: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    one, other = tmp_path / "one" / "book", tmp_path / "other" / "book"
    use(monkeypatch, story, one)
    assert story.shell("log", *CUP.split()).status == 0
    said = {say(story, "on the one")}
    shutil.copytree(one, other)
    for turn in range(3):
        for folder in (one, other):
            use(monkeypatch, story, folder)
            said.add(say(story, f"{turn} in {folder}"))
        for source, target in (
            (one, other),
            (other, one),
        ):  # a plain synchroniser: the longer file of a name is the newer
            for path in source.glob("*.jsonl"):
                there = target / path.name
                if not there.exists() or there.stat().st_size < path.stat().st_size:
                    shutil.copy2(path, there)
    assert said <= ids(one)
    assert ids(one) == ids(other)


def test_a_copied_home_finds_that_the_files_are_others(
    story: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """A machine and its clone: the same path, the same memory, other files (by their inodes)."""
    book, one, other = tmp_path / "book", tmp_path / "home-one", tmp_path / "home-other"
    use(monkeypatch, story, book, one)
    assert story.shell("log", *CUP.split()).status == 0
    shutil.copytree(one, other)
    shutil.copytree(book, tmp_path / "its-copy")

    first = say(story, "on the machine")
    names = {path.name for path in book.glob("entries-*")}
    book.rename(tmp_path / "the-book")
    (tmp_path / "its-copy").rename(book)
    use(monkeypatch, story, book, other)
    second = say(story, "on its clone")

    assert len(names) == 1
    assert {path.name for path in book.glob("entries-*")} > names
    for path in book.glob("entries-*"):  # the synchroniser brings them together
        if path.name not in names:
            shutil.copy2(path, tmp_path / "the-book" / path.name)
    assert {first, second} <= ids(tmp_path / "the-book")


def test_lines_that_it_did_not_write_make_it_go_on_under_another_name(story: Story) -> None:
    assert story.shell("log", *CUP.split()).status == 0
    (file,) = story.folder.glob("entries-*")
    line = json.loads(file.read_text().splitlines()[0]) | {
        "id": "0-of-the-other",
        "what": "note",
        "text": "by another machine",
    }
    with file.open("a") as lines:  # in place, so that device and inode are the same
        lines.write(json.dumps(line) + "\n")
    size = file.stat().st_size

    mine = say(story, "after that")

    assert file.stat().st_size == size
    assert len(list(story.folder.glob("entries-*"))) == 2
    assert {mine, "0-of-the-other"} <= told(story)


def test_where_nothing_can_be_remembered_each_process_has_a_name_of_its_own(
    story: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "no-folder").write_text("a file where the folder would be")
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "no-folder"))
    assert story.shell("log", *CUP.split()).status == 0
    said = {say(story, "one"), say(story, "two")}

    assert len(list(story.folder.glob("entries-*"))) == 3
    assert said <= told(story)


def test_a_book_of_before_opens_and_goes_on(story: Story) -> None:
    assert story.shell("log", *CUP.split()).status == 0
    (file,) = story.folder.glob("entries-*")
    old = file.rename(file.with_name("entries-0f3b9a21-2027-05.jsonl"))
    before = old.read_bytes()

    mine = say(story, "by the new one")

    assert old.read_bytes() == before
    assert ids(story.folder) == told(story) > {mine}


CALLED = [
    "{stem}.sync-conflict-20270501-070500-ABCDEFG.jsonl",
    "{stem} (conflicted copy 2027-05-01).jsonl",
    "{stem} (Anna's conflicted copy 2027-05-01 071200).jsonl",
    "{stem}.jsonl.conflict",
    "{stem}.jsonl~",
    "{stem}.jsonl.orig",
    "{stem} (1).jsonl",
    "Copy of {stem}.jsonl",
    "Kopie von {stem}.jsonl",
    "{stem}_conflict-20270501-070500.jsonl",
    "{stem}-LAPTOP.jsonl",
    "lost and found 17",
    "ENTRIES.TXT",
]


@pytest.mark.parametrize("called", CALLED)
def test_a_conflict_copy_is_read_whatever_it_is_called(story: Story, called: str) -> None:
    assert story.shell("log", *CUP.split()).status == 0
    (file,) = story.folder.glob("entries-*")
    before = file.read_bytes()
    lost = say(story, "only in the copy")
    shutil.copy2(file, story.folder / called.format(stem=file.stem))
    file.write_bytes(before)  # the other side won

    assert lost in told(story)
    mine = say(story, "after that")
    assert {lost, mine} <= told(story)
    report = json.loads(story.shell("check", "--json").out)
    assert [one["sort"] for one in report["told"]].count("copy") == 1
    assert not [one for one in report["found"] if one["sort"] == "lost"]


def test_other_files_in_the_folder_are_no_entries(story: Story) -> None:
    assert story.shell("log", *CUP.split()).status == 0
    before = told(story)
    for name, text in {
        "shopping.txt": "sugar\n",
        "data.jsonl": '{"a": 1}\n',
        "empty": "",
        ".hidden.jsonl": '{"id": "x"}\n',
    }.items():
        (story.folder / name).write_text(text)
    os.mkfifo(story.folder / "entries-pipe1234-2027-05.jsonl")
    (story.folder / "entries-link1234-2027-05.jsonl").symlink_to(story.folder.parent / "elsewhere")

    assert told(story, status=2) == before, "the link and the pipe have the names of entry files"


def test_an_older_copy_put_over_a_newer_one_is_told_until_it_is_accepted(story: Story) -> None:
    assert story.shell("log", *CUP.split()).status == 0
    (file,) = story.folder.glob("entries-*")
    older = file.read_bytes()
    say(story, "one")
    say(story, "two")
    backup = story.folder.with_name("kept.zip")
    assert story.shell("backup", str(backup)).status == 0
    file.write_bytes(older)

    for _ in range(2):
        ran = story.shell("check")
        assert ran.status == 1
        assert f"lost: {file.name}: has 2 lines, and this machine has seen 4 in it" in ran.out

    assert story.shell("check", "--accept").status == 1
    told = story.shell("check").out
    assert f"lost: {file.name}" not in told
    assert "2 lines recorded on this machine had been taken out by others" in told
    story.shell("due")
    assert "lost" not in story.shell("check").out


@pytest.mark.skipif(os.name == "nt", reason="no modes there")
def test_lost_lines_are_told_of_a_file_that_others_may_read_too(story: Story) -> None:
    assert story.shell("log", *CUP.split()).status == 0
    (file,) = story.folder.glob("entries-*")
    older = file.read_bytes()
    say(story, "one")
    file.write_bytes(older)
    file.chmod(0o644)

    told_of = json.loads(story.shell("check", "--json").out)["found"]
    assert {(one["sort"], one["file"]) for one in told_of} == {
        ("permissions", file.name),
        ("lost", file.name),
        ("lost", ""),
    }
    out = story.shell("check").out
    assert f"permissions: {file.name}" in out
    assert f"lost: {file.name}" in out


@pytest.mark.parametrize("copied", ["older", "gone"])
def test_the_same_for_the_files_of_another_machine(
    story: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, copied: str
) -> None:
    monkeypatch.setattr("rounds.daybook.line_counts.SETTLED_NS", 0)
    with monkeypatch.context() as elsewhere:
        elsewhere.setenv("XDG_STATE_HOME", str(tmp_path / "the-other"))
        assert story.shell("log", *CUP.split()).status == 0
        (file,) = story.folder.glob("entries-*")
        older = file.read_bytes()
        say(story, "one")
        say(story, "two")
    assert "lost" not in story.shell("check").out
    if copied == "older":
        file.write_bytes(older)
    else:
        file.unlink()

    told_as = "has 2 lines" if copied == "older" else "is gone"
    assert (
        f"lost: {file.name}: {told_as}, and this machine has seen 4 in it"
        in story.shell("check").out
    )


def test_what_a_backup_brings_back_is_not_told_as_lost(story: Story) -> None:
    assert story.shell("log", *CUP.split()).status == 0
    (file,) = story.folder.glob("entries-*")
    older = file.read_bytes()
    said = {say(story, "one"), say(story, "two")}
    backup = story.folder.with_name("kept.zip")
    assert story.shell("backup", str(backup)).status == 0
    file.write_bytes(older)
    assert "lost" in story.shell("check").out

    assert story.shell("merge", str(backup)).status == 0

    assert said <= told(story)
    assert "lost" not in story.shell("check").out
