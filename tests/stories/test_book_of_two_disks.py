"""Two disks in turn at one mount point: each bears a book of its own, and neither is told to lack what the other holds."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from rounds.daybook.which_book import Disk
from tests.stories.telling import Story

ANOTHER = "another disk is here than the one whose book was here before"
GONE = "is gone, and this machine has seen"
AGAIN = "had been taken out of the book by others; written again"


class Disks:
    """One mount point, and what is plugged in there; with nothing in it, its bare folder shows."""

    def __init__(self, story: Story, monkeypatch: pytest.MonkeyPatch) -> None:
        self.story, self.now = story, ""
        monkeypatch.setattr(
            "rounds.daybook.which_book.disk_of",
            lambda folder: Disk("/mnt/usb", self.now) if self.now else Disk("/", "0"),
        )

    def plug(self, name: str) -> None:
        """Take out what is in, and put this in; the folder of a new one is not there yet."""
        away = self.story.folder.with_name(f"disk-{self.now}")
        if self.story.folder.exists():
            self.story.folder.rename(away)
        self.now = name
        if self.notes_of(name, there=False) is not None:
            self.story.folder.with_name(f"disk-{name}").rename(self.story.folder)

    def notes_of(self, name: str, *, there: bool = True) -> list[str] | None:
        """The notes that stand on a disk; None where it has no book."""
        folder = self.story.folder
        folder = folder if there and name == self.now else folder.with_name(f"disk-{name}")
        return notes(folder) if folder.exists() else None

    def log(self, line: str) -> str:
        """Say a line; what is told beside it."""
        ran = self.story.shell("log", line)
        assert ran.status == 0, ran
        return ran.err

    def due(self, status: int = 0) -> str:
        ran = self.story.shell("due")
        assert ran.status == status, ran
        return ran.out + ran.err


def notes(folder: Path) -> list[str]:
    """The texts of all notes in the files of a folder."""
    files = [path.read_bytes() for path in folder.glob("entries-*")]
    lines = [json.loads(line) for data in files for line in data.splitlines()]
    return sorted(line["text"] for line in lines if line["what"] == "note")


@pytest.fixture
def disks(story: Story, monkeypatch: pytest.MonkeyPatch) -> Disks:
    """A machine that writes under names of its own, and a first disk with a book."""
    monkeypatch.setattr("rounds.daybook.line_counts.SETTLED_NS", 0)
    story._laptop = ""
    disks = Disks(story, monkeypatch)
    disks.plug("A")
    for line in ("K2 set up laying", "K2 founder W3 'Aglais vera' female", "note a1"):
        disks.log(line)
    return disks


def test_each_keeps_its_own_lines_and_lacks_none_of_the_other(disks: Disks) -> None:
    disks.plug("B")
    told = disks.log("R9 set up laying")
    assert told.count(ANOTHER) == 1
    assert GONE not in told
    assert ANOTHER not in disks.log("note b1")
    for turn in (2, 3):
        for name in ("A", "B"):
            disks.plug(name)
            told = disks.due()
            told += disks.log(f"note {name.lower()}{turn}") + disks.due()
            assert not [words for words in (ANOTHER, GONE, AGAIN) if words in told], told
            assert disks.story.shell("check").status == 0
    assert disks.notes_of("A") == ["a1", "a2", "a3"]
    assert disks.notes_of("B") == ["b1", "b2", "b3"]


def test_what_is_taken_out_of_either_comes_back_to_it(disks: Disks) -> None:
    disks.plug("B")
    disks.log("note b1")
    disks.plug("A")
    disks.plug("B")
    (file,) = disks.story.folder.glob("entries-*")
    file.unlink()
    assert AGAIN in disks.due()
    assert disks.notes_of("B") == ["b1"]
    disks.plug("A")
    (file,) = disks.story.folder.glob("entries-*")
    file.write_bytes(b"".join(file.read_bytes().splitlines(keepends=True)[:-1]))
    assert AGAIN in disks.due()
    assert (disks.notes_of("A"), disks.notes_of("B")) == (["a1"], ["b1"])


def test_what_is_said_while_none_is_in_comes_to_the_one_that_was_in_last(disks: Disks) -> None:
    disks.plug("B")
    disks.log("note b1")
    disks.plug("A")
    disks.due()
    disks.plug("")
    assert GONE in disks.log("note on bare")
    disks.plug("B")
    disks.due()
    disks.plug("A")
    assert AGAIN in disks.due()
    assert (disks.notes_of("A"), disks.notes_of("B")) == (["a1", "on bare"], ["b1"])


def test_a_book_that_was_carried_to_a_new_disk_is_the_same(disks: Disks) -> None:
    disks.log("note a2")
    disks.now = "larger"
    assert ANOTHER not in disks.due()
    (file,) = disks.story.folder.glob("entries-*")
    file.write_bytes(b"".join(file.read_bytes().splitlines(keepends=True)[:-1]))
    assert AGAIN in disks.due()


def test_a_folder_on_another_disk_whose_files_are_gone_is_told_to_lack_them(disks: Disks) -> None:
    disks.plug("B")
    disks.story.folder.mkdir(mode=0o700)
    assert GONE in disks.due(status=2)
