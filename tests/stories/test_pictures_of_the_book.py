"""Pictures in a book: each keeps a name of its own, whole or not at all, and another content under its name is told."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.stories.telling import Ran, Story

JPEG = b"\xff\xd8\xff\xe0"  # how a JPEG file begins (ITU-T T.81 annex B, from memory)


@pytest.fixture
def cup(story: Story) -> Story:
    assert story.at("2025-05-01 07:05").shell("log", "K2", "set", "up", "laying").status == 0
    return story


def picture(at: Path, content: bytes) -> Path:
    at.parent.mkdir(parents=True, exist_ok=True)
    at.write_bytes(JPEG + content if content else content)
    return at


def attach(story: Story, path: Path) -> Ran:
    return story.shell("photo", str(path), "--for", "K2")


def named(story: Story) -> dict[str, bytes]:
    """What lies in the book under the name of each picture that a line speaks of, by the line's id."""
    return {
        one["id"]: (story.folder / one["file"]).read_bytes().removeprefix(JPEG)
        for one in story.on_disk()
        if one["what"] == "photo"
    }


def test_two_laptops_in_one_minute_keep_both_pictures(
    cup: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    one, other = cup.folder, tmp_path / "other" / "book"
    shutil.copytree(one, other)
    assert attach(cup, picture(tmp_path / "pa.jpg", b"one picture")).status == 0
    cup.folder = other
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "the-other"))
    assert attach(cup, picture(tmp_path / "pb.jpg", b"another picture")).status == 0

    names = [{path.name for path in (folder / "photos").iterdir()} for folder in (one, other)]
    assert not names[0] & names[1]
    ran = cup.shell("merge", str(one))
    assert ran.status == 0, ran.err
    assert "beside" not in ran.out
    assert sorted(named(cup).values()) == [b"another picture", b"one picture"]
    assert "photo:" not in cup.shell("check").out


def test_a_picture_overwritten_by_another_is_told(cup: Story, tmp_path: Path) -> None:
    assert attach(cup, picture(tmp_path / "pa.jpg", b"one picture")).status == 0
    assert "photo:" not in cup.shell("check").out
    (kept,) = (cup.folder / "photos").iterdir()
    kept.write_bytes(b"another")

    ran = cup.shell("check")
    assert ran.status == 1
    assert f"photo: photos/{kept.name} holds another picture than was taken in" in ran.out


def test_an_empty_picture_and_a_folder_are_refused(
    cup: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    before = cup.on_disk()
    ran = attach(cup, picture(tmp_path / "pa.jpg", b""))
    assert (ran.status, ran.err) == (1, "rounds: pa.jpg is empty; copy it from the camera again\n")
    (tmp_path / "roll").mkdir()
    monkeypatch.chdir(tmp_path)
    for path in (Path("roll"), tmp_path / "roll"):
        ran = attach(cup, path)
        assert (ran.status, ran.err) == (1, f"rounds: {path} is a folder; name a picture in it\n")

    assert cup.on_disk() == before
    assert not list((cup.folder / "photos").glob("*"))
    assert not list((cup.folder / "photos").glob(".*"))


KILLED = """
import os, sys
from pathlib import Path
flush = os.fsync
def killed(descriptor):
    if list(Path(sys.argv[2], "photos").iterdir()):
        os._exit(9)  # as a kill: nothing is cleared away
    flush(descriptor)
os.fsync = killed
from rounds.shell.main import main
main(["photo", sys.argv[1], "--for", "K2", "--book", sys.argv[2]])
"""


def test_a_command_that_is_killed_leaves_no_part_under_a_pictures_name(
    cup: Story, tmp_path: Path
) -> None:
    before = cup.on_disk()
    (cup.folder / "photos").mkdir(mode=0o700)
    source = picture(tmp_path / "pa.jpg", b"one picture")
    ran = subprocess.run([sys.executable, "-c", KILLED, str(source), str(cup.folder)], check=False)
    assert ran.returncode == 9

    assert cup.on_disk() == before
    assert not list((cup.folder / "photos").glob("*.jpg"))
    told = json.loads(cup.shell("check", "--json").out)["told"]
    assert [one["sort"] for one in told if one["file"].endswith(".part")] == ["left over"]
    assert attach(cup, source).status == 0


@pytest.mark.parametrize("name", ["notes.jpg", "notes.txt"])
def test_a_text_is_no_picture_whatever_it_is_called(cup: Story, tmp_path: Path, name: str) -> None:
    before = cup.on_disk()
    (tmp_path / name).write_text("two eggs under the leaf\n")
    ran = attach(cup, tmp_path / name)
    assert ran.status == 1
    assert ran.err.startswith(f"rounds: {name} is ")
    assert "picture" in ran.err
    assert len(ran.err.splitlines()) == 1
    assert cup.on_disk() == before
    assert not [path for path in (cup.folder / "photos").glob("*") if path.is_file()]
    assert not list((cup.folder / "photos").glob(".*.part"))
