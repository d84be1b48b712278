"""A backup with a damaged line is merged: the keeper is told at the merge, with the zip and the line."""

from __future__ import annotations

import json
import re
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell

Change = Callable[[list[str]], list[str]]


@pytest.fixture
def begun(story: Story) -> Story:
    """A book of some lines."""
    tell(story, "K2 set up laying\nK2 founder A-1, Pieris napi female\nK3 set up rearing")
    tell(story, "K2 fed\nnote a warm day")
    story.reopen()
    return story


def backup(book: Story, tmp_path: Path, change: Change) -> Path:
    """A backup of the book with some of its lines changed."""
    assert book.shell("backup", str(tmp_path / "whole.zip")).status == 0
    path = tmp_path / "spoilt.zip"
    with zipfile.ZipFile(tmp_path / "whole.zip") as whole, zipfile.ZipFile(path, "w") as spoilt:
        for name in whole.namelist():
            text = whole.read(name).decode()
            lines = change(text.splitlines()) if name.startswith("entries-") else text.splitlines()
            spoilt.writestr(name, "".join(f"{line}\n" for line in lines))
    return path


def cut_short(lines: list[str]) -> list[str]:
    """The fourth line is cut in its midst."""
    return [*lines[:3], lines[3][:-20], *lines[4:]]


def of_an_earlier_time(lines: list[str]) -> list[str]:
    """The last line says something else under its id."""
    return [*lines[:-1], lines[-1].replace("a warm day", "a cold day")]


def newer(lines: list[str]) -> list[str]:
    """One more line, of a kind that only a newer version knows."""
    return [*lines, re.sub(r'"what":"[^"]*"', '"what":"sung to"', lines[-1]).replace('"id":"', '"id":"Z')]  # fmt: skip


def test_a_broken_copy_of_a_line_that_is_here_does_not_come_in(
    begun: Story, tmp_path: Path
) -> None:
    path, before = backup(begun, tmp_path, cut_short), begun.on_disk()
    ran = begun.shell("merge", str(path))
    assert ran.status == 1
    assert re.search(r"problem: spoilt\.zip: entries-\S+ line 4: is broken", ran.out)
    assert "that line is here whole; not taken in" in ran.out
    assert ran.out.startswith("spoilt.zip: 0 files copied, 0 lines added")
    assert begun.on_disk() == before
    assert begun.shell("check").status == 0
    told = json.loads(begun.shell("merge", str(path), "--json").out)
    assert [one.partition(" line ")[2][:1] for one in told["problems"]] == ["4"]


def test_a_damaged_line_that_comes_with_its_file_is_told(begun: Story, tmp_path: Path) -> None:
    path = backup(begun, tmp_path, cut_short)
    new = str(tmp_path / "new")
    ran = begun.shell("--book", new, "merge", str(path))
    assert ran.status == 1
    assert f"1 file copied with {len(begun.on_disk()) - 1} new lines" in ran.out
    assert re.search(r"problem: spoilt\.zip: entries-\S+ line 4: is broken", ran.out)
    assert "it came in with its file" in ran.out
    check = begun.shell("--book", new, "check")
    assert (check.status, "line 4: is broken" in check.out) == (1, True)
    accepted = begun.shell("--book", new, "check", "--accept")
    assert (accepted.status, "taken as it is" in accepted.out) == (0, True)

    again = begun.shell("--book", new, "merge", str(tmp_path / "whole.zip"))
    assert (again.status, "1 file copied with 1 new line" in again.out) == (0, True)


def _cut(data: bytes, how: str) -> bytes:
    lines = data.splitlines(keepends=True)
    if how == "in its midst":
        return b"".join([*lines[:2], lines[2][:60] + b"\n", *lines[3:]])
    return data[: len(data) - len(lines[-1]) + int(how)]


@pytest.mark.parametrize("how", ["1", "12", "60", "in its midst"])
def test_a_broken_file_that_came_first_is_whole_once_the_whole_came(
    begun: Story, tmp_path: Path, how: str
) -> None:
    (whole,) = begun.folder.glob("entries-*")
    broken, new = tmp_path / "broken", str(tmp_path / "new")
    broken.mkdir()
    (broken / whole.name).write_bytes(_cut(whole.read_bytes(), how))
    begun.shell("--book", new, "log", "W4 set up laying")
    begun.shell("--book", new, "merge", str(broken))
    assert "NOT WHOLE" in begun.shell("--book", new, "due").out
    ran = begun.shell("--book", new, "merge", str(begun.folder))
    assert (ran.status, "1 file copied with 1 new line" in ran.out) == (0, True), ran.out
    check = begun.shell("--book", new, "check")
    assert (check.status, "nothing wrong was found" in check.out) == (0, True), check.out
    assert "NOT WHOLE" not in begun.shell("--book", new, "due").out
    assert (Path(new) / whole.name).read_bytes() == whole.read_bytes()
    begun.shell("--book", new, "merge", str(broken))  # and stays so
    assert begun.shell("--book", new, "check").status == 0


def test_a_file_that_says_more_than_theirs_keeps_its_place(begun: Story, tmp_path: Path) -> None:
    (whole,) = begun.folder.glob("entries-*")
    broken, new = tmp_path / "broken", str(tmp_path / "new")
    broken.mkdir()
    *lines, last = whole.read_bytes().splitlines(keepends=True)
    (broken / whole.name).write_bytes(_cut(whole.read_bytes(), "in its midst"))
    begun.shell("--book", new, "merge", str(broken))
    whole.write_bytes(b"".join(lines) + last[:70])
    ran = begun.shell("--book", new, "merge", str(begun.folder))
    assert "1 line added" in ran.out
    assert last in (Path(new) / whole.name).read_bytes()


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (of_an_earlier_time, "says otherwise than entries-"),
        (newer, "is of a newer version; it is kept and not read"),
    ],
)
@pytest.mark.parametrize("is_whole_file", [False, True])
def test_what_comes_in_and_is_odd_is_told(
    begun: Story, tmp_path: Path, change: Change, why: str, is_whole_file: bool
) -> None:
    path = backup(begun, tmp_path, change)
    if is_whole_file:
        for file in begun.folder.glob("entries-*"):
            file.rename(file.with_name(file.name.replace("aaaa1111", "dddd4444")))
    ran = begun.shell("merge", str(path))
    assert ran.status == 1
    assert re.search(rf"problem: spoilt\.zip: entries-\S+ line \d: {why}", ran.out)
    assert "not taken in" not in ran.out
    assert ("1 file copied" if is_whole_file else "1 line added") in ran.out


def test_a_last_line_without_an_end_is_told_of_a_file_that_is_copied(
    begun: Story, tmp_path: Path
) -> None:
    (one,) = begun.folder.glob("entries-*")
    other = tmp_path / "other"
    other.mkdir()
    (other / one.name).write_bytes(one.read_bytes() + b'{"what":"fed"')
    ran = begun.shell("--book", str(tmp_path / "new"), "merge", str(other))
    assert ran.status == 1
    assert f"{other}: {one.name}: its last line has no end (13 bytes)" in ran.out


def test_a_file_with_a_name_that_no_zip_may_hold_is_a_problem(begun: Story, tmp_path: Path) -> None:
    (one,) = begun.folder.glob("entries-*")
    other = tmp_path / "other"
    other.mkdir()
    (other / one.name).write_bytes(one.read_bytes())
    (other / "a:b.txt").write_text("mine")
    ran = begun.shell("merge", str(other))
    assert (ran.status, "a:b.txt: has a name that no zip file may hold" in ran.out) == (1, True)
    assert "not taken in" in ran.out
