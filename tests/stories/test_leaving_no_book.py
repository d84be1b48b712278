"""A folder that is no book gives nothing out: an empty one, one around a book, one of other things."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell

COMMANDS = (("export", "csv", "FILE"), ("export", "ics", "FILE.ics"), ("export", "dwca", "FILE.zip"), ("due",), ("due", "--json"),
            ("sheet", "--to", "+2d"), ("photo", "FILE.jpg", "--for", "K2"),
            ("check",), ("shelves",), ("import", "--undo"))  # fmt: skip


def ran_in(
    story: Story, folder: Path, command: tuple[str, ...], tmp_path: Path
) -> tuple[str, str, int]:
    """A command on another folder; where it writes to is out.csv and so on beside it."""
    story.folder = folder
    made = [
        str(tmp_path / f"out{one.removeprefix('FILE') or '.csv'}")
        if one.startswith("FILE")
        else one
        for one in command
    ]
    ran = story.shell(*made)
    return ran.out, ran.err, ran.status


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
@pytest.mark.parametrize("holds", ["nothing", "other things", "a book", "no folder"])
def test_a_folder_that_is_no_book_is_refused_and_the_book_below_is_named(
    story: Story, tmp_path: Path, command: tuple[str, ...], holds: str
) -> None:
    (tmp_path / "out.jpg").write_bytes(b"\xff\xd8\xff\xe0 no picture \xff\xd9")
    around = tmp_path / "around"
    if holds != "no folder":
        around.mkdir()
    if holds == "other things":
        (around / "letters.txt").write_text("to whom it may concern\n")
        (around / "deeper").mkdir()
    if holds == "a book":
        story.folder = around / "spring"
        tell(story, "K2 set up laying\nK2 founder A-1, Pieris orata female")
        story.reopen()
    before = sorted(around.rglob("*"))
    out, err, status = ran_in(story, around, command, tmp_path)
    assert status == (2 if command[0] in ("due", "shelves", "sheet") else 1), out
    assert out == ""
    assert f"there is no book in {around}" in err
    assert (f"there is one in {around / 'spring'}" in err) == (holds == "a book")
    assert len(err.splitlines()) == 1
    assert not any(
        file.name.startswith("out") and file.name != "out.jpg" for file in tmp_path.iterdir()
    )
    assert sorted(around.rglob("*")) == before


def test_a_book_in_which_nothing_stands_yet_is_a_book(story: Story, tmp_path: Path) -> None:
    story.type("setting phone 0555 0142")
    story.reopen()
    out, err, status = ran_in(story, story.folder, ("due",), tmp_path)
    assert (status, "this book is empty" in err) == (0, True), out
    assert ran_in(story, story.folder, ("export", "csv", "FILE"), tmp_path)[2] == 0


@pytest.mark.parametrize("lines", ["nothing that is an entry\n", ""])
def test_a_zip_without_a_book_is_called_by_its_name(
    story: Story, tmp_path: Path, lines: str
) -> None:
    """What it was unpacked into is nowhere named: the keeper gave a zip file."""
    path = tmp_path / "spring.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("book/entries-aaaa1111-2027-05.jsonl", lines)
    ran = story.shell("merge", str(path))
    assert ran.status == 1
    assert ran.err.startswith("rounds: there is no book in spring.zip")
    assert len(ran.err.splitlines()) == 1


def test_a_zip_with_a_link_is_called_by_its_name(story: Story, tmp_path: Path) -> None:
    path = tmp_path / "spring.zip"
    with zipfile.ZipFile(path, "w") as archive:
        member = zipfile.ZipInfo("book/entries-aaaa1111-2027-05.jsonl")
        member.external_attr = 0o120777 << 16
        archive.writestr(member, "/etc/hostname")
    ran = story.shell("merge", str(path))
    assert ran.status == 1
    assert "in spring.zip is a link or no file; nothing was taken in" in ran.err
