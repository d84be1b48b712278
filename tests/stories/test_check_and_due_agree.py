"""What makes a book not whole for 'due' is found by 'check', and what leaves such a book says so in its status."""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell


def a_folder(folder: Path) -> None:
    (folder / "entries-other222-2027-04.jsonl").mkdir(mode=0o700)


def a_link(folder: Path) -> None:
    (folder / "entries-other222-2027-04.jsonl").symlink_to(folder / "nowhere")


def a_newer_kind(folder: Path) -> None:
    (file,) = folder.glob("entries-*")
    line = json.loads(file.read_text().splitlines()[0]) | {
        "what": "a_kind_to_come",
        "id": "other-8",
    }
    with file.open("a") as lines:
        lines.write(json.dumps(line) + "\n")


def damaged(folder: Path) -> None:
    (file,) = folder.glob("entries-*")
    with file.open("ab") as lines:
        lines.write(b"\0\0\0\n")


def half_a_line(folder: Path) -> None:
    (file,) = folder.glob("entries-*")
    beside = folder / "entries-other222-2027-04.jsonl"
    beside.write_bytes(file.read_bytes()[:30])
    beside.chmod(0o600)


def shorter(folder: Path) -> None:
    (file,) = folder.glob("entries-*")
    file.write_bytes(b"")


def of_the_future(folder: Path) -> None:
    (file,) = folder.glob("entries-*")
    line = json.loads(file.read_text().splitlines()[0]) | {
        "what": "note",
        "text": "x",
        "id": "other-9",
    }
    line |= {"at": "2099-01-01T00:00:00Z", "logged": "2099-01-01T00:00:00Z"}
    with file.open("a") as lines:
        lines.write(json.dumps(line) + "\n")


WRONG = [a_folder, a_link, a_newer_kind, damaged, half_a_line, shorter, of_the_future]


@pytest.fixture(params=WRONG, ids=lambda change: change.__name__)
def not_whole(story: Story, request: pytest.FixtureRequest) -> Story:
    tell(story, "K2 set up laying\nK2 founder W2 'Aglais vera' female")
    assert story.shell("check").status == 0
    change: Callable[[Path], None] = request.param
    change(story.folder)
    return story


def test_check_finds_what_due_calls_not_whole(not_whole: Story) -> None:
    assert not_whole.shell("due").status == 2
    ran = not_whole.shell("check")
    assert ran.status == 1
    assert "nothing wrong was found" not in ran.out


def test_what_leaves_a_book_that_is_not_whole_says_so_in_its_status(
    not_whole: Story, tmp_path: Path
) -> None:
    for command in (
        ("sheet", "--to", "+2d"),
        ("sheet", "--to", "+2d", "--html", str(tmp_path / "sheet.html")),
        ("export", "csv", str(tmp_path / "all.zip")),
        ("export", "ics", str(tmp_path / "due.ics")),
        ("shelves",),
    ):
        ran = not_whole.shell(*command)
        assert "THE BOOK IS NOT WHOLE" in ran.out + ran.err
        assert ran.status == 2, command
    assert {path.name for path in tmp_path.iterdir()} >= {"sheet.html", "all.zip", "due.ics"}


@pytest.mark.parametrize("change", [damaged, a_newer_kind, shorter, half_a_line])
def test_what_was_accepted_is_wrong_for_neither(
    story: Story, change: Callable[[Path], None]
) -> None:
    tell(story, "K2 set up laying\nK2 founder W2 'Aglais vera' female")
    assert story.shell("check").status == 0
    change(story.folder)
    assert story.shell("check", "--accept").status == 0
    assert story.shell("due").status == 0
    assert story.shell("check").status == 0


def test_a_clock_that_cannot_be_read_is_told_in_one_line(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As the system's clock is in the year 2500."""
    tell(story, "K2 set up laying")

    def overflow() -> int:
        raise OverflowError("timestamp too large to convert to C _PyTime_t")

    with monkeypatch.context() as in_2500:
        in_2500.setattr(time, "time_ns", overflow)
        for command in (("due",), ("log", "K2 misted"), ("check",), ()):
            ran = story.shell(*command)
            assert (ran.status, ran.err.count("\n")) == (2, 1)
            assert "this machine's clock is past the year 2262" in ran.err
