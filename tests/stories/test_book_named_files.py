"""Files that a keeper names, or that lie where the program keeps its own: what is none is refused, named, and never waited for."""

from __future__ import annotations

import errno
import os
import random
import shutil
import zipfile
from pathlib import Path
from typing import Any

import pytest

from tests.stories.telling import Story

pytestmark = pytest.mark.usefixtures("hangs_are_failures")


@pytest.fixture
def begun(story: Story) -> Story:
    """A book with one cup."""
    assert story.shell("log", "K2", "set", "up", "laying").status == 0
    return story


@pytest.mark.parametrize("ending", [".json", ".seen", ".accepted", ".unsaved.jsonl"])
def test_a_pipe_in_the_place_of_what_is_remembered_holds_up_nothing(
    begun: Story, ending: str
) -> None:
    (kept,) = Path(os.environ["XDG_STATE_HOME"]).rglob("*.json")
    place = kept.with_suffix(ending)
    place.unlink(missing_ok=True)
    os.mkfifo(place)

    assert begun.shell("log", "note", "goes on").status == 0
    assert begun.shell("due").status == 0
    assert begun.on_disk()[-1]["text"] == "goes on"


@pytest.mark.parametrize("command", [("begin", "--list"), ("temperatures",)], ids=str)
@pytest.mark.parametrize("what", ["pipe", "/dev/zero", "folder"])
def test_what_is_no_plain_file_is_refused(
    begun: Story, tmp_path: Path, command: tuple[str, ...], what: str
) -> None:
    place = Path(what) if what.startswith("/") else tmp_path / what
    if what == "pipe":
        os.mkfifo(place)
    elif what == "folder":
        place.mkdir()
    ran = begun.shell(*command, str(place))
    assert ran.status == 1
    assert "is no file, but a folder, a pipe or a device" in ran.err
    assert str(place) in ran.err


def test_a_link_to_a_list_is_followed(begun: Story, tmp_path: Path) -> None:
    (tmp_path / "list.txt").write_text("Q1  2 females Boloria dia\n")
    (tmp_path / "link.txt").symlink_to(tmp_path / "list.txt")
    assert begun.shell("begin", "--list", str(tmp_path / "link.txt")).status == 0


def test_a_backup_names_the_file_that_cannot_be_read(
    begun: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The administrator could read it whatever its mode, so the system's own opening refuses here."""
    (begun.folder / "notes.txt").write_text("mine")
    really = os.open

    def opened(path: Any, flags: int, *arguments: Any, **more: Any) -> int:
        if Path(path).name == "notes.txt":
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))
        return really(path, flags, *arguments, **more)

    monkeypatch.setattr(os, "open", opened)
    ran = begun.shell("backup", str(tmp_path / "kept.zip"))
    assert ran.status == 1
    assert "notes.txt in the book cannot be read (Permission denied)" in ran.err
    assert not (tmp_path / "kept.zip").exists()


def zipped(folder: Path, target: Path, *, below: str) -> Path:
    """A zip file of a folder's files, as a file manager makes it: below a folder's name."""
    with zipfile.ZipFile(target, "w") as archive:
        for path in folder.glob("entries-*"):
            archive.write(path, f"{below}/{path.name}")
    return target


def test_a_zip_file_with_the_book_in_a_folder_is_taken(begun: Story, tmp_path: Path) -> None:
    ran = begun.shell(
        "--book",
        str(tmp_path / "anew"),
        "merge",
        str(zipped(begun.folder, tmp_path / "b.zip", below="book")),
    )
    assert ran.status == 0, ran.err
    assert "1 file copied with 2 new lines, 0 lines added to files here" in ran.out


def test_a_zip_file_without_a_book_is_named(begun: Story, tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "empty.zip", "w"):
        pass
    with zipfile.ZipFile(tmp_path / "other.zip", "w") as archive:
        archive.writestr("shopping.txt", "sugar")
    with zipfile.ZipFile(zipped(begun.folder, tmp_path / "two.zip", below="one"), "a") as archive:
        for path in begun.folder.glob("entries-*"):
            archive.write(path, f"two/{path.name}")
    for name, why in (
        ("empty.zip", "empty.zip is an empty zip file"),
        ("other.zip", "there is no book in other.zip"),
        ("two.zip", "there are several books in two.zip (one, two)"),
    ):
        ran = begun.shell("merge", str(tmp_path / name))
        assert ran.status == 1
        assert why in ran.err


def test_a_folder_that_is_no_book_is_not_taken_in(begun: Story, tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.mkdir()
    (other / "entries-of-the-fair.jsonl").write_text('{"name": "somebody"}\n')
    (other / "letter.txt").write_text("private")
    before = sorted(begun.folder.rglob("*"))
    ran = begun.shell("merge", str(other))
    assert ran.status == 1
    assert "no file in it has lines that are entries" in ran.err

    shutil.copy2(next(begun.folder.glob("entries-*")), tmp_path / "entries-stray2-2027-05.jsonl")
    ran = begun.shell("merge", str(tmp_path))
    assert ran.status == 1
    assert "holds this book itself, in book" in ran.err
    assert sorted(begun.folder.rglob("*")) == before


DAMAGED = {
    "random": random.Random(7).randbytes(9_000),
    "nothing": b"",
    "nul": bytes(5_000),
    "half-a-zip": b"PK\x03\x04" + b"x" * 100,
    "terminal": b"\x1b[2J,\x1b]0;x\x07\nx,y\n",
    "ev\nil\x1b[31m": b"x",
}


@pytest.mark.parametrize(
    "command",
    [
        ("import", "{}", "--dry-run"),
        ("temperatures", "{}"),
        ("merge", "{}"),
        ("begin", "--list", "{}"),
        ("photo", "{}", "--for", "K2"),
        ("backup", "{}"),
        ("export", "ics", "{}"),
        ("export", "csv", "{}"),
        ("export", "dwca", "{}"),
        ("export", "pins", "{}", "--replace"),
        ("sheet", "--to", "+2d", "--html", "{}"),
    ],
    ids=lambda command: " ".join(command[:2]),
)
def test_a_hostile_or_damaged_file_is_refused_in_one_line(
    begun: Story, tmp_path: Path, command: tuple[str, ...]
) -> None:
    begun.shell("log", "K2 founder W3 'Aglais vera' female")
    for name, data in DAMAGED.items():
        for ending in (".csv", ".xlsx", ".zip", ".jpg"):
            file = tmp_path / f"{name}{ending}"
            file.write_bytes(data)
            ran = begun.shell(*(word.format(file) for word in command))
            if ran.status == 0:  # such as a picture: it is kept as it is
                assert command[0] == "photo"
                continue
            of_a_list = (
                len(data.splitlines()) if command[0] == "begin" else 0
            )  # each line of it too
            assert 1 <= len(ran.err.splitlines()) <= 1 + min(of_a_list, 2), (file, ran)
            assert all(sign.isprintable() or sign == "\n" for sign in ran.out + ran.err), ran
            assert file.read_bytes() == data
