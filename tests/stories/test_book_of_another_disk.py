"""Lines that wait for a book: told as long as they wait, and written into no other book that lies at its path."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from rounds.daybook.storage import NotSaved
from rounds.exchange.loggers import read_log
from tests.stories.telling import Story, notes


@pytest.fixture
def story(story: Story) -> Story:
    """Screens and commands that write as one machine does, under a name taken at random."""
    story._laptop = ""
    return story


def begun(story: Story, cup: str) -> Path:
    """A book with one cup, put away."""
    assert story.shell("log", cup, "set", "up", "laying").status == 0
    return story.folder.rename(story.folder.with_name(f"disk-of-{cup}"))


async def keep_a_note(story: Story) -> None:
    """In the screens, with the book's disk pulled out: a note that is kept on this machine."""
    away = story.folder.with_name("away")
    story.reopen()
    async with story.screens() as screen:
        story.folder.rename(away)
        await screen.type("note kept of the one")
        await screen.press("q", "k")
    away.rename(story.folder)
    story.reopen()


async def test_lines_that_wait_are_told_by_every_answer(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    story.type("K2 set up laying")
    await keep_a_note(story)

    def refuse(*_: object) -> None:
        raise NotSaved("the disk is full; make room")

    with monkeypatch.context() as full:
        full.setattr("rounds.daybook.book.LogTable.insert_multiple", refuse)
        words = "1 line that was recorded before is not saved yet"
        ran = story.shell("due")
        assert (ran.status, words in ran.out) == (2, True)
        ran = story.shell("due", "--json")
        assert (ran.status, words in ran.err) == (2, True)
        assert words in story.shell("sheet", "--from", "now", "--to", "2027-05-03 10:00").out
        ran = story.shell("check")
        assert (ran.status, f"not saved: {words}" in ran.out) == (1, True)
    assert words not in story.shell("due").out
    assert notes(story.folder) == ["kept of the one"]
    assert words not in story.shell("check").out


async def test_lines_kept_of_one_disk_are_not_written_into_the_other_at_its_place(
    story: Story,
) -> None:
    one, other = begun(story, "K2"), begun(story, "K9")
    one.rename(story.folder)
    await keep_a_note(story)
    story.folder.rename(one)
    other.rename(story.folder)

    ran = story.shell("due")
    assert "not saved" not in ran.out
    assert notes(story.folder) == []
    story.folder.rename(other)
    one.rename(story.folder)
    story.shell("due")
    assert notes(story.folder) == ["kept of the one"]


@pytest.mark.skipif(os.name == "nt", reason="links need leave there")
async def test_a_screen_whose_folder_became_another_book_writes_nothing_there(
    story: Story, tmp_path: Path
) -> None:
    (tmp_path / "p.jpg").write_bytes(b"\xff\xd8\xff a picture")
    one, other = begun(story, "K2"), begun(story, "K9")
    story.folder.symlink_to(one)
    async with story.screens() as screen:
        story.folder.unlink()
        story.folder.symlink_to(other)
        await screen.type(f"K2 photo {tmp_path / 'p.jpg'}")
        assert not (other / "photos").exists()
        await screen.press("ctrl+u", "escape")
        await screen.type("note said at the one")
        screen.app.desk.hear()
        await screen.pilot.pause()
        assert "another book" in screen.text
        assert "K9" not in story.desk.bench.containers
        await screen.press("q", "k")
    assert notes(other) == []
    story.folder.unlink()
    story.folder.symlink_to(one)
    story.reopen()
    assert "K2" in story.desk.bench.containers
    assert notes(one) == ["said at the one"]


@pytest.mark.skipif(os.name == "nt", reason="links need leave there")
def test_a_loggers_readings_are_not_put_into_the_other_book(
    story: Story, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    log = tmp_path / "log.csv"
    log.write_text("time,temp C\n2027-04-30 07:00,21.0\n2027-04-30 08:00,22.0\n")
    one, other = begun(story, "K2"), begun(story, "K9")
    story.folder.symlink_to(one)

    def changed_meanwhile(*given: object, **named: object) -> object:
        story.folder.unlink()
        story.folder.symlink_to(other)
        return as_it_is(*given, **named)

    as_it_is = read_log
    monkeypatch.setattr("rounds.shell.temperatures.read_log", changed_meanwhile)
    ran = story.at("2027-05-01 07:05").shell("temperatures", str(log))
    assert (ran.status, "another book" in ran.err) == (1, True), ran
    for folder in (one, other):
        assert not list(folder.rglob("*.csv"))
        assert {path.name for path in folder.iterdir()} <= {
            path.name for path in folder.glob("entries-*")
        }
