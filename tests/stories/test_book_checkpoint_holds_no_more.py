"""A checkpoint never holds what the lines do not, and one that was made by hand is not believed."""

from __future__ import annotations

import json
import os
import shutil
from pathlib import Path

import pytest

from tests.stories.telling import Story


@pytest.fixture(autouse=True)
def _often(monkeypatch: pytest.MonkeyPatch) -> None:
    """A checkpoint after every entry."""
    monkeypatch.setattr("rounds.app.reading.WORTH_A_CHECKPOINT", 1)


def said(story: Story) -> list[str]:
    """The notes that a fresh start shows."""
    story.reopen()
    return sorted(one.text for one in story.desk.bench.notes)


def plainly(story: Story) -> list[str]:
    """The notes in the lines."""
    return sorted(one["text"] for one in story.on_disk() if one["what"] == "note")


def _shrinks(file: Path) -> None:
    lines = file.read_bytes().splitlines(keepends=True)
    file.write_bytes(b"".join(lines[:-1]))


def _changes_in_the_middle(file: Path) -> None:
    file.write_bytes(file.read_bytes().replace(b"K2 one", b"K2 ONE"))


def _changes_keeping_its_times(file: Path) -> None:
    about = file.stat()
    _changes_in_the_middle(file)
    os.utime(file, ns=(about.st_atime_ns, about.st_mtime_ns))


def _is_another_of_the_same_length(file: Path) -> None:
    beside = file.with_name(".other")
    beside.write_bytes(file.read_bytes().replace(b"K2 two", b"K2 TWO"))
    shutil.copystat(file, beside)
    beside.replace(file)


@pytest.mark.parametrize(
    "change",
    [_shrinks, _changes_in_the_middle, _changes_keeping_its_times, _is_another_of_the_same_length],
)
@pytest.mark.parametrize("heard", [True, False])
def test_a_file_that_changes_while_the_screen_is_open(
    story: Story, change: object, heard: bool
) -> None:
    story.type("K2 set up laying")
    story.reopen()
    line = {
        "what": "note",
        "at": "2027-05-01T07:00:00+02:00",
        "logged": "2027-05-01T07:00:00+02:00",
    }
    theirs = story.folder / "entries-bbbb2222-2027-05.jsonl"
    many = [
        json.dumps(line | {"id": f"note{number}", "text": f"K2 {name}"})
        for number, name in enumerate(("one", "two", "three"))
    ]
    many += [json.dumps(line | {"id": f"pad{number}", "text": "x" * 400}) for number in range(4)]
    theirs.write_text("\n".join(many) + "\n")
    story.desk.hear()

    change(theirs)  # type: ignore[operator]
    if heard:
        story.desk.hear()
    story.desk.reading.rest()

    assert said(story) == plainly(story)
    assert said(story) == plainly(story)


def test_a_line_of_our_own_that_is_taken_out_before_it_was_read_back(story: Story) -> None:
    story.type("K2 set up laying")
    story.desk.reading.rest()
    (file,) = story.folder.glob("entries-*")
    before = file.read_bytes()
    story.later(seconds=1).type("note taken out")
    file.write_bytes(before)

    story.desk.reading.rest()

    assert said(story) == plainly(story) == ["taken out"], (
        "it was said here, so that it is written again"
    )


def test_one_that_was_made_elsewhere_is_not_believed(
    story: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Somebody who has the book and the program, but not this machine, makes one that lies about the same lines."""
    story.type("K2 set up laying", "note true")
    story.desk.reading.rest()
    (ours,) = story.folder.glob("checkpoint-*")
    forged = tmp_path / "forged"
    shutil.copytree(story.folder, forged)
    with monkeypatch.context() as elsewhere:
        elsewhere.setenv("XDG_STATE_HOME", str(tmp_path / "elsewhere"))
        other = Story(forged, elsewhere).at("2027-05-01 07:06")
        other.desk.bench.notes.clear()
        other.type("note only to have a checkpoint")
        other.desk.reading.rest()
        (theirs,) = forged.glob("checkpoint-*")
        assert theirs.read_bytes() != ours.read_bytes()
    ours.write_bytes(theirs.read_bytes())

    assert said(story) == ["true"]


def test_a_line_added_to_the_sum_by_hand_is_not_believed(story: Story) -> None:
    story.type("K2 set up laying", "note true")
    story.desk.reading.rest()
    (ours,) = story.folder.glob("checkpoint-*")
    ours.write_bytes(ours.read_bytes().replace(b"true", b"lies"))

    assert said(story) == ["true"]
