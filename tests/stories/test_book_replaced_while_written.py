"""A file that is taken away or replaced while it is written, and one that is still being copied: no line of either is lost."""

from __future__ import annotations

import json
import os
import shutil
from pathlib import Path

import pytest

from rounds.app.desk import Desk
from rounds.daybook import Daybook, storage
from tests.stories.telling import ZONE, Story


def entries(folder: Path) -> list[str]:
    """The texts of all notes, read in the plainest way."""
    lines = [
        json.loads(line)
        for path in sorted(folder.glob("entries-*"))
        for line in path.read_bytes().splitlines()
    ]
    return sorted(line["text"] for line in lines if line["what"] == "note")


def meddled(story: Story, meddle: str) -> Desk:
    """A desk at whose book something happens to the file between the opening and the write, once."""
    left = [True]

    def write(descriptor: int, data: bytes) -> int:
        if left:
            left.pop()
            (file,) = story.folder.glob("entries-*")
            if meddle == "unlinked":
                file.unlink()
            elif meddle == "replaced by a copy":
                shutil.copy2(file, file.with_name("incoming"))
                file.with_name("incoming").replace(file)
            elif meddle == "moved away":
                file.rename(file.with_name(f"{file.stem} (old).jsonl"))
        return os.write(descriptor, data)

    book = Daybook(story.folder, "aaaa1111", write=write)
    return Desk(book, clock=story.clock, entropy=os.urandom, zone=ZONE, keeper="KM")


@pytest.mark.parametrize("meddle", ["unlinked", "replaced by a copy", "moved away"])
def test_a_line_written_into_a_file_that_was_taken_away_is_written_again(
    story: Story, meddle: str
) -> None:
    story.type("K2 set up laying", "note before")
    story._desk = meddled(story, meddle)

    story.type("note meanwhile")

    assert sorted(set(entries(story.folder))) == ["before", "meanwhile"]
    story.reopen()
    assert {one.text for one in story.desk.bench.notes} >= {"meanwhile"}


def test_what_was_said_here_and_an_older_copy_took_away_is_written_again(story: Story) -> None:
    story.type("K2 set up laying", "note one")
    (file,) = story.folder.glob("entries-*")
    older = file.read_bytes()
    story.desk.hear()
    story.later(seconds=1).type("note two")
    story.desk.hear()
    story.later(seconds=1).type("note three")
    file.with_name(".incoming").write_bytes(older)
    file.with_name(".incoming").replace(file)

    story.desk.hear()

    assert entries(story.folder) == ["one", "three", "two"]
    assert file.read_bytes() == older
    assert any(
        "2 of the lines recorded here had been taken out of the book by others" in one
        for one in story.desk.reading.problems
    )
    story.later(seconds=1).type("note four")
    assert entries(story.folder) == ["four", "one", "three", "two"]
    assert story.shell("check").out.count("lost") == 0


@pytest.mark.parametrize("in_place", [True, False])
def test_a_file_that_is_still_being_copied_loses_nothing_by_being_looked_at(
    story: Story, in_place: bool
) -> None:
    assert story.shell("log", "K2", "set", "up", "laying").status == 0
    assert story.shell("log", "note", "two").status == 0
    (file,) = story.folder.glob("entries-*")
    whole = file.read_bytes()
    if not in_place:
        file.unlink()
    for part in (len(whole) // 3, len(whole) - 7):
        with file.open(
            "r+b" if file.exists() else "wb"
        ) as copy:  # as cp writes: from the beginning, bit by bit
            copy.truncate(0)
            copy.write(whole[:part])
        for command in (["due"], ["check"], ["log", "note", f"after {part} bytes"]):
            story.later(seconds=1).shell(*command)
        assert file.read_bytes() == whole[:part]
    assert not (story.folder / "aside").exists()
    file.write_bytes(whole)

    assert entries(story.folder) == sorted(
        ["two", *(f"after {part} bytes" for part in (len(whole) // 3, len(whole) - 7))]
    )


def test_what_a_killed_writer_left_is_set_aside_by_its_own_writer_only(
    story: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    assert story.shell("log", "K2", "set", "up", "laying").status == 0
    (file,) = story.folder.glob("entries-*")
    whole = file.read_bytes()

    class Killed(BaseException):
        """As when the process ends here."""

    def broken_off(descriptor: int, data: bytes) -> int:
        os.write(descriptor, data[: len(data) // 2])
        raise Killed

    with monkeypatch.context() as patched:
        patched.setattr(storage.LogStorage.__init__, "__defaults__", ("", broken_off, os.fsync))
        with pytest.raises(Killed):
            story.shell("log", "note", "broken off")
    torn = file.read_bytes()
    assert torn.startswith(whole)
    assert len(torn) > len(whole)

    with monkeypatch.context() as elsewhere:
        elsewhere.setenv("XDG_STATE_HOME", str(tmp_path / "another-machine"))
        story.shell("due")
        assert story.shell("log", "note", "by another").status == 0
    assert file.read_bytes() == torn, "another machine leaves it alone"

    assert story.shell("log", "note", "by its own").status == 0
    assert file.read_bytes().startswith(whole + b"{")
    (aside,) = (story.folder / "aside").iterdir()
    assert torn == whole + aside.read_bytes()
    assert entries(story.folder) == ["by another", "by its own"]
