"""What could not be saved: it is asked about before the screens are left, kept, and never saved where it was told that it was not."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from rounds.daybook import NotSaved
from tests.stories.telling import Story, notes


@pytest.fixture
def away(story: Story) -> Path:
    """Where the book goes when its disk is pulled out."""
    return story.folder.with_name("away")


async def test_q_asks_and_what_is_kept_is_there_after_the_next_start(
    story: Story, away: Path
) -> None:
    story.type("K2 set up laying")
    async with story.screens() as screen:
        story.folder.rename(away)
        await screen.type("note while the disk was out")
        await screen.press("q")
        assert "1 entry not saved" in screen.text
        assert "while the disk was out" in screen.text

        await screen.press("escape")
        assert screen.app.is_running
        await screen.press("q", "r")
        assert "still not saved: the book's folder is gone; bring it back" in screen.text
        await screen.press("k")
        assert not screen.app.is_running
    away.rename(story.folder)
    story.reopen()

    assert [one.text for one in story.desk.bench.notes] == ["while the disk was out"]
    assert notes(story.folder) == ["while the disk was out"]
    story.reopen()
    assert story.desk.bench.notes
    assert notes(story.folder) == ["while the disk was out"]


async def test_two_screens_keep_each_what_it_could_not_save(story: Story, away: Path) -> None:
    story.type("K2 set up laying")
    one = story.desk
    story.reopen()
    other = story.desk
    story.folder.rename(away)
    for desk, text in ((one, "said at the one"), (other, "said at the other")):
        story._desk = desk
        async with story.screens() as screen:
            await screen.type(f"note {text}")
            await screen.press("q", "k")
    away.rename(story.folder)
    story.reopen()

    assert sorted(one.text for one in story.desk.bench.notes) == [
        "said at the one",
        "said at the other",
    ]
    assert sorted(notes(story.folder)) == ["said at the one", "said at the other"]


async def test_tried_again_it_is_saved_and_q_leaves(story: Story, away: Path) -> None:
    story.type("K2 set up laying")
    async with story.screens() as screen:
        story.folder.rename(away)
        await screen.type("note while the disk was out")
        await screen.press("ctrl+c")
        assert "1 entry not saved" in screen.text
        away.rename(story.folder)
        await screen.press("r")
        assert not screen.app.is_running
    assert notes(story.folder) == ["while the disk was out"]


async def test_what_is_saved_while_q_asks_is_said_to_be(story: Story, away: Path) -> None:
    story.type("K2 set up laying")
    async with story.screens() as screen:
        story.folder.rename(away)
        await screen.type("note while the disk was out")
        await screen.press("q")
        assert "1 entry not saved" in screen.text
        away.rename(story.folder)
        screen.app.hear()
        await screen.pilot.pause()
        assert "not saved" not in screen.text
        assert "all is saved now" in screen.text
        await screen.press("k")
        assert screen.app.is_running
        await screen.press("q")
        assert not screen.app.is_running
    assert notes(story.folder) == ["while the disk was out"]


async def test_where_it_cannot_be_kept_either_it_is_left_on_the_terminal(
    story: Story, away: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    story.type("K2 set up laying")
    state = Path(os.environ["XDG_STATE_HOME"])
    async with story.screens() as screen:
        story.folder.rename(away)
        await screen.type("note while the disk was out")
        shutil.rmtree(state)
        state.write_text("no folder")
        await screen.press("q", "k")
        assert "they cannot be kept on this machine either" in screen.text
        assert screen.app.is_running
        assert "p prints them and leaves   Esc stays" in screen.text, (
            "the keys have room at 80 columns"
        )
        await screen.press("p")
        assert "NOT SAVED" in str(screen.app._exit_renderables)
        assert "while the disk was out" in str(screen.app._exit_renderables)
    state.unlink()


async def test_with_nothing_unsaved_q_leaves_at_once(story: Story) -> None:
    story.type("K2 set up laying")
    async with story.screens() as screen:
        await screen.press("q")
        assert not screen.app.is_running


def test_log_from_a_pipe_acknowledges_each_line_when_it_is_on_disk(
    story: Story, away: Path
) -> None:
    child = subprocess.Popen(
        [sys.executable, "-m", "rounds", "log", "--book", str(story.folder), "-"],
        text=True,
        bufsize=1,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=os.environ | {"TZ": "Europe/Paris"},
    )
    with child:
        assert child.stdin
        assert child.stdout
        assert child.stderr

        def typed(line: str) -> None:
            assert child.stdin
            child.stdin.write(f"{line}\n")
            child.stdin.flush()

        typed("K2 set up laying")
        assert "K2" in child.stdout.readline()
        child.stderr.readline()  # that a new book begins
        typed("note first")
        assert "first" in child.stdout.readline()
        assert notes(story.folder) == ["first"], "on disk, though more lines may come"

        story.folder.rename(away)
        typed("note second")
        assert "the book's folder is gone" in child.stderr.readline()
        assert "second" in child.stderr.readline()
        away.rename(story.folder)
        typed("note third")
        assert "third" in child.stdout.readline()
        child.stdin.close()
        assert child.wait() == 1
    assert notes(story.folder) == ["first", "third"], (
        "what was told as not saved is not saved later"
    )
    assert story.shell("log", "note", "fourth").status == 0
    assert notes(story.folder) == ["first", "third", "fourth"]


def test_a_failed_write_that_cannot_be_taken_back_does_not_count_either(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert story.shell("log", "K2", "set", "up", "laying").status == 0

    def failing(descriptor: int, *length: int) -> None:
        raise OSError(5, "Input/output error")

    with monkeypatch.context() as patched:
        patched.setattr(
            "rounds.daybook.storage.LogStorage.__init__.__defaults__", ("", os.write, failing)
        )
        patched.setattr(os, "ftruncate", failing)
        ran = story.shell("log", "note", "told as not saved")
    assert ran.status == 1
    assert "the disk failed while writing" in ran.err

    assert "its last line was torn" not in story.shell("due").out
    assert notes(story.folder) == []
    story.reopen()
    assert not story.desk.bench.notes


async def test_a_round_that_is_not_on_disk_is_not_begun_and_says_why(
    story: Story, away: Path
) -> None:
    story.type("K2 set up laying", "K2 founder W2 'Aglais vera' female")
    async with story.screens((110, 30)) as screen:
        story.folder.rename(away)
        for _ in range(3):
            await screen.press("r")
            assert (
                "the round is not begun: the book's folder is gone; bring it back" in screen.words
            )
            assert "begins the next" not in screen.text
            assert "NOT SAVED" not in screen.text
        away.rename(story.folder)
        await screen.press("r")
        assert screen.checks
        await screen.press("escape", "q")
    assert [one["what"] for one in story.on_disk()].count("round started") == 1


def test_a_round_on_lines_that_is_not_on_disk_says_why(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    story.type("K2 set up laying")

    def refuse(*_: object) -> None:
        raise NotSaved("the disk is full; make room")

    monkeypatch.setattr("rounds.daybook.book.LogTable.insert_multiple", refuse)
    story.reopen()
    ran = story.shell("round", "--plain")
    assert ran.status == 1
    assert "the round is not begun: the disk is full; make room" in ran.out
    assert "NOT SAVED" not in ran.out
