"""A file of this machine comes back cut within a line: after a while the torn end goes aside and what was said here
is written again."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from tests.stories.telling import Story

SAID = ("K2 set up laying", "K2 2 females Hyles gallii on bedstraw", "K2 drank", "K2 7 eggs")


@pytest.fixture
def story(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Story:
    told = Story(tmp_path, monkeypatch).at("2027-05-01 08:00")
    for line in SAID:
        assert told.shell("log", line).status == 0
    return told


def entry_file(story: Story) -> Path:
    (file,) = story.folder.glob("entries-*")
    return file


def comes_back(file: Path, data: bytes, age: float) -> None:
    """As from a synchroniser, in place, and untouched since."""
    file.write_bytes(data)
    os.utime(file, (time.time() - age, time.time() - age))


def cut(data: bytes, how: str) -> bytes:
    if how == "zeros":
        return data[:-100] + bytes(100)
    return data[: -int(how)]


@pytest.mark.parametrize("how", ["1", "40", "260", "340", "zeros"])
@pytest.mark.parametrize("accepted", [False, True])
def test_what_was_said_is_written_again(story: Story, how: str, accepted: bool) -> None:
    file, before = entry_file(story), story.on_disk()
    torn = cut(file.read_bytes(), how)
    comes_back(file, torn, age=120)
    if accepted:
        assert story.shell("check", "--accept").status == 1
    ran = story.shell("due")
    assert "taken out of the book by others; written again" in ran.err + ran.out
    assert story.on_disk() == before
    assert all(one.read_bytes().endswith(b"\n") for one in story.folder.glob("entries-*"))
    kept = b"".join(one.read_bytes() for one in (story.folder / "aside").iterdir())
    assert torn.endswith(kept)
    assert kept
    assert "NOT WHOLE" not in story.shell("due").out
    assert story.shell("check").status == 0


def test_what_may_still_be_being_copied_is_left_alone(story: Story) -> None:
    file, whole = entry_file(story), entry_file(story).read_bytes()
    comes_back(file, whole[:-40], age=0)
    story.shell("due")
    assert file.read_bytes() == whole[:-40]
    assert len(list(story.folder.glob("entries-*"))) == 1
    assert story.shell("check", "--accept").status == 0
    comes_back(file, file.read_bytes(), age=120)
    story.shell("due")
    assert len(story.on_disk()) == whole.count(b"\n")


async def test_open_screens_write_it_again_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    story = Story(tmp_path, monkeypatch).at("2027-05-01 08:00")
    story.type(*SAID)
    file, before = entry_file(story), story.on_disk()
    torn = file.read_bytes()[:-40]
    async with story.screens((120, 40)):
        comes_back(file, torn, age=0)
        story.desk.hear()
        assert file.read_bytes() == torn
        comes_back(file, torn, age=120)
        story.desk.hear()
        assert story.on_disk() == before
