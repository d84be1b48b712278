"""Lines that were acknowledged come back where every file of the book was taken away, or the folder itself for a while."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from rounds.daybook.machine_memory import state_folder
from tests.stories.telling import Story

AGAIN = "recorded here had been taken out of the book by others; written again"


@pytest.fixture
def story(story: Story, monkeypatch: pytest.MonkeyPatch) -> Story:
    """A machine that writes under a name of its own, at a book with a cup and a female."""
    monkeypatch.setattr("rounds.daybook.line_counts.SETTLED_NS", 0)
    story._laptop = ""
    for line in ("K2 set up laying", "K2 founder W3 'Melitaea deione' female", "K2 note one"):
        assert story.shell("log", line).status == 0
    return story


def delete(folder: Path) -> None:
    for file in folder.glob("entries-*"):
        file.unlink()


def empty(folder: Path) -> None:
    for file in folder.glob("entries-*"):
        file.write_bytes(b"")


def notes(folder: Path) -> list[str]:
    """The texts of all notes in the files of a folder, each once."""
    lines = [
        json.loads(line)
        for path in folder.glob("entries-*")
        for line in path.read_bytes().splitlines()
    ]
    return sorted({line["text"] for line in lines if line["what"] == "note"})


def test_a_practice_book_is_removed_for_good_as_the_line_says(story: Story) -> None:
    delete(story.folder)  # the folder stays, as one does that gets the same inode
    ran = story.shell("log", "K2 note of another season")
    _, said, told = ran.err.partition("delete its folder and ")
    assert said, ran.err
    remembered = Path(told.split("*")[0])
    assert remembered.is_relative_to(state_folder(os.environ)), remembered
    kept = [*remembered.parent.glob(f"{remembered.name}*")]
    assert kept
    for file in kept:
        file.unlink()
    shutil.rmtree(story.folder)
    story.folder.mkdir()
    assert story.shell("log", "K3 set up eggs").status == 0
    assert AGAIN not in story.shell("due").err
    assert notes(story.folder) == []


@pytest.mark.parametrize("taken", [delete, empty])
@pytest.mark.parametrize("command", [("due",), ("log", "K2 note two")])
def test_the_only_file_comes_back(story: Story, taken: object, command: tuple[str, ...]) -> None:
    assert callable(taken)
    taken(story.folder)
    ran = story.shell(*command)
    assert AGAIN in ran.err, ran
    assert ("is empty" in ran.out + ran.err) is (taken is empty)
    assert notes(story.folder) == (["one", "two"] if len(command) > 1 else ["one"])
    for file in story.folder.glob("entries-*"):  # as it is told
        if not file.stat().st_size:
            file.unlink()
    assert story.shell("log", "K2 drank").status == 0
    ran = story.shell("due")
    assert AGAIN not in ran.err
    assert "NOT WHOLE" not in ran.out


@pytest.mark.parametrize("taken", [delete, empty])
def test_a_file_taken_between_two_lines_that_are_piped_in_comes_back_at_once(
    story: Story, taken: object
) -> None:
    assert callable(taken)
    story.type("note two")
    taken(story.folder)
    story.type("note three", "note four")
    assert notes(story.folder) == ["four", "one", "three", "two"]
    assert any(AGAIN in one for one in story.desk.reading.problems)
    assert "is gone" not in story.shell("due").out


def test_log_says_what_it_wrote_again_between_two_lines(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    def piped(*_: object) -> Iterator[str]:
        yield "note two"
        delete(story.folder)
        yield "note three"
        yield "note four"

    monkeypatch.setattr("rounds.shell.log._lines", piped)
    ran = story.shell("log", "-")
    assert (ran.status, ran.err.count(AGAIN)) == (0, 1), ran
    assert notes(story.folder) == ["four", "one", "three", "two"]


def test_files_of_another_book_in_the_same_folder_get_no_line(story: Story) -> None:
    delete(story.folder)
    theirs = json.dumps(
        {"what": "note", "id": "0-theirs", "at": "2027-05-01T05:00:00+00:00", "text": "theirs"}
        | {"logged": "2027-05-01T05:00:00+00:00"}
    )
    (story.folder / "entries-other222-2027-05.jsonl").write_text(theirs + "\n")
    ran = story.shell("due")
    assert AGAIN not in ran.err
    assert "is gone, and this machine has seen" in ran.out
    assert notes(story.folder) == ["theirs"]


def test_an_empty_folder_in_its_place_gets_no_line(story: Story) -> None:
    story.folder.rename(story.folder.with_name("away"))
    story.folder.mkdir(mode=0o700)
    ran = story.shell("due")
    assert "is gone, and this machine has seen" in ran.out
    assert not list(story.folder.glob("entries-*"))


def test_what_was_said_into_the_bare_place_of_a_disk_comes_to_the_book_once_it_is_back(
    story: Story,
) -> None:
    away, bare = story.folder.with_name("away"), story.folder.with_name("bare")
    story.folder.rename(away)
    bare.mkdir(mode=0o700)
    bare.rename(story.folder)
    for text in ("on bare", "on bare again"):
        ran = story.shell("log", "note", text)
        assert ran.status == 0
        assert "is gone, and this machine has seen" in ran.err
    for more in ("once more", ""):  # it is pulled out twice
        story.folder.rename(bare)
        away.rename(story.folder)
        assert AGAIN in story.shell("due").err
        told = ["on bare", "on bare again", *([] if more else ["once more"]), "one"]
        assert notes(story.folder) == sorted(told)
        assert "is gone" not in story.shell("due").out
        story.folder.rename(away)
        bare.rename(story.folder)
        if more:
            assert story.shell("log", "note", more).status == 0


def test_lines_of_a_new_book_that_was_accepted_stay_in_it(story: Story) -> None:
    away = story.folder.with_name("away")
    story.folder.rename(away)
    story.folder.mkdir(mode=0o700)
    assert "is gone" in story.shell("due").out
    story.shell("check", "--accept")
    assert story.shell("log", "note", "of the new one").status == 0
    shutil.rmtree(story.folder)
    away.rename(story.folder)
    story.shell("due")
    assert notes(story.folder) == ["one"]
