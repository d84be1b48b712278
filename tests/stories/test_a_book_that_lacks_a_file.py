"""A file that did not come, came empty or was cut short silences no alarm: the book is told not to be whole."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from rounds.daybook.writer import Writer
from tests.stories.telling import Story

NOT_WHOLE = "THE BOOK IS NOT WHOLE"


# --- a logger's readings --------------------------------------------------------------------------


@pytest.fixture
def hot(story: Story, tmp_path: Path) -> Story:
    """A female in a room in which it was too warm in the last hours, as a logger says."""
    story.at("2027-05-27 14:00")
    assert story.shell("log", "Q7 1 female Saturnia pavonia on blackthorn").status == 0
    log = tmp_path / "mi.csv"
    rows = "".join(f"2027-05-27 {hour:02}:30,39.0\n" for hour in range(9, 14))
    log.write_text(f"timestamp,celsius\n{rows}")
    assert story.shell("temperatures", str(log), "--place", "room").status == 0
    assert story.shell("due", "--exit-code").status == 1
    return story


def the_series(story: Story) -> Path:
    (found,) = (story.folder / "series").iterdir()
    return found


def away(file: Path) -> None:
    file.rename(file.parents[2] / "elsewhere.csv")


def emptied(file: Path) -> None:
    file.write_bytes(b"")


def cut_short(file: Path) -> None:
    file.write_bytes(file.read_bytes()[:60])


def in_its_place(file: Path) -> None:
    file.unlink()
    file.mkdir()


@pytest.mark.parametrize("change", [away, emptied, cut_short, in_its_place])
def test_readings_that_are_not_there_as_they_were_taken_in_are_told(
    hot: Story, change: Callable[[Path], None]
) -> None:
    file = the_series(hot)
    whole = file.read_bytes()
    change(file)

    ran = hot.shell("due", "--exit-code")
    assert ran.status == 2
    assert ran.out.startswith(NOT_WHOLE)
    assert f"series/{file.name}: " in ran.out
    ran = hot.shell("due", "--exit-code", "--json")
    assert (ran.status, json.loads(ran.out)["whole"]) == (2, False)
    assert NOT_WHOLE in hot.shell("log", "Q7 note x").err
    assert hot.shell("sheet", "--until", "2027-05-29").status == 2
    assert "nothing is cancelled" in (
        hot.shell("export", "ics", str(hot.folder.parent / "rounds.ics")).out
    )

    if file.is_dir():
        file.rmdir()
    file.write_bytes(whole)
    assert hot.shell("due", "--exit-code").status == 1


def test_readings_that_are_taken_as_they_are_are_not_told_again(hot: Story) -> None:
    emptied(the_series(hot))
    assert hot.shell("due").status == 2
    assert f"series: series/{the_series(hot).name}" in hot.shell("check", "--accept").out
    assert hot.shell("due").status == 0


def test_the_loggers_own_file_taken_in_again_brings_them_back(hot: Story, tmp_path: Path) -> None:
    emptied(the_series(hot))
    assert hot.shell("temperatures", str(tmp_path / "mi.csv"), "--place", "room").status == 0
    assert hot.shell("due", "--exit-code").status == 1


async def test_screens_notice_readings_that_go_and_come(hot: Story) -> None:
    file = the_series(hot)
    whole = file.read_bytes()
    away(file)
    hot.reopen()
    async with hot.screens((110, 30)) as screen:
        assert NOT_WHOLE in screen.text
        assert "39 C" not in screen.text
        file.write_bytes(whole)
        screen.app.hear()
        await screen.pilot.pause()
        assert NOT_WHOLE not in screen.text
        assert "39 C" in screen.text
        cut_short(file)
        screen.app.hear()
        await screen.pilot.pause()
        assert NOT_WHOLE in screen.text


# --- another laptop's file ------------------------------------------------------------------------


def with_files(story: Story, *patterns: str) -> Story:
    """Another machine, to whose folder a synchroniser has brought these files so far."""
    there = story.elsewhere()
    there.folder.mkdir(mode=0o700)
    for pattern in patterns:
        for file in story.folder.glob(pattern):
            (there.folder / file.name).write_bytes(file.read_bytes())
    return there


@pytest.fixture
def of_two(story: Story) -> Story:
    """A female whom one laptop brought in and another fed and whose eggs it found."""
    story.at("2027-05-27 08:00").type("Q7 1 female Saturnia pavonia on blackthorn")
    other = story.later(hours=1).on_other_laptop()
    other.type("Q7 drank", "Q7 12 eggs")
    return story


def test_lines_about_a_cup_that_no_line_set_up_are_told_as_a_gap(of_two: Story) -> None:
    new = with_files(of_two, "entries-bbbb2222-*")
    ran = new.shell("due", "--exit-code")
    assert ran.status == 2
    assert ran.out.startswith(NOT_WHOLE)
    assert "lines speak of Q7, and none that is here says how Q7 came" in ran.out
    assert "nothing is due in what can be read" in ran.out
    assert "NOT FIT" not in ran.err
    assert json.loads(new.shell("due", "--json").out)["whole"] is False
    assert "lacking: lines speak of Q7" in new.shell("check").out
    assert new.shell("sheet", "--until", "2027-05-29").status == 2
    ran = new.shell("export", "ics", str(new.folder.parent / "rounds.ics"))
    assert "nothing is cancelled" in ran.out

    for file in of_two.folder.glob("entries-aaaa1111-*"):
        (new.folder / file.name).write_bytes(file.read_bytes())
    ran = new.shell("due")
    assert (ran.status, NOT_WHOLE in ran.out) == (0, False)


def test_what_does_not_fit_for_want_of_another_laptops_lines_is_of_the_same_gap(
    story: Story,
) -> None:
    story.at("2027-05-27 08:00")
    story.type("Q7 1 female Saturnia pavonia on blackthorn", "Q6 1 female Saturnia pavonia")
    other = story.later(hours=1).on_other_laptop()
    other.type(
        "Q7 12 eggs", "Q7 moved 2 eggs to Q6", "Q6 SAT-27-02 died", "Q7 moved SAT-27-01 to Q6"
    )
    new = with_files(story, "entries-bbbb2222-*")
    assert "NOT FIT" not in new.shell("due").err
    # set up here only now: what she was fed and how she went is no gap then, and does not fit
    new.type("Q7 set up laying")
    assert "lines speak of Q7" not in new.shell("due").out


def test_lines_about_a_cup_whose_set_up_was_crossed_out_are_no_gap(of_two: Story) -> None:
    lines = of_two.on_disk()
    (set_up,) = (line for line in lines if line["what"] == "set up")
    of_two.desk.strike(set_up["id"])
    ran = of_two.shell("due")
    assert "NOT FIT" in ran.err
    assert (ran.status, NOT_WHOLE in ran.out) == (0, False)


def test_a_cup_that_no_line_set_up_may_be_set_up_here(of_two: Story) -> None:
    new = with_files(of_two, "entries-bbbb2222-*")
    new.shell("log", "Q7 set up laying at 08:00")
    new.shell("check", "--accept")
    assert new.shell("due").status == 0


# --- an empty file of lines -----------------------------------------------------------------------


def test_a_file_of_lines_that_came_empty_is_told(of_two: Story) -> None:
    new = with_files(of_two, "entries-*")
    for file in new.folder.iterdir():
        file.write_bytes(b"")
    for _ in range(2):
        ran = new.shell("due", "--exit-code")
        assert ran.status == 2
        assert ran.out.startswith(NOT_WHOLE)
        assert "entries-aaaa1111-2027-05.jsonl: is empty" in ran.out
        assert "this book is empty" not in ran.err
    assert "empty: entries-aaaa1111-2027-05.jsonl" in new.shell("check").out
    calendar = new.folder.parent / "rounds.ics"
    assert "nothing is cancelled" in new.shell("export", "ics", str(calendar)).out
    assert "CANCELLED" not in calendar.read_text()

    for file in of_two.folder.glob("entries-*"):
        (new.folder / file.name).write_bytes(file.read_bytes())
    assert new.shell("due").status == 0


def test_a_file_is_never_there_without_its_first_line(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    sizes: list[int] = []
    announce = Writer.announce

    def looked_at(writer: Writer, *said: Any) -> bool:
        sizes.extend(file.stat().st_size for file in story.folder.glob("entries-*"))
        return announce(writer, *said)

    monkeypatch.setattr(Writer, "announce", looked_at)
    story.type("K2 set up laying", "note x")
    assert sizes
    assert all(sizes)
    assert not list(story.folder.glob(".*.part"))


def test_a_book_without_a_line_cancels_nothing(story: Story) -> None:
    story.folder.mkdir(mode=0o700, exist_ok=True)
    (story.folder / "checkpoint-aaaa1111.json").write_text("{}")
    calendar = story.folder.parent / "rounds.ics"
    ran = story.shell("export", "ics", str(calendar))
    assert "nothing is cancelled, for the book has no line" in ran.out
    assert "CANCELLED" not in calendar.read_text()


# --- what a check tells of others' lines ----------------------------------------------------------


def test_a_picture_that_leads_out_of_the_book_is_told(of_two: Story) -> None:
    note = {name: of_two.on_disk()[0][name] for name in ("at", "logged")}
    foreign = note | {"what": "photo", "id": "other-1", "container": "Q7", "file": "../secret.jpg"}
    (of_two.folder / "entries-other222-2027-05.jsonl").write_text(json.dumps(foreign) + "\n")
    told = "photo: ../secret.jpg leads out of the book (line other-1)"
    assert told in of_two.shell("check").out


def test_one_table_of_occurrences_says_what_is_withheld_as_the_archive_does(
    of_two: Story,
) -> None:
    of_two.type("taxon Saturnia pavonia protected")
    said = [
        next(
            line
            for line in of_two.shell(
                "export", what, str(of_two.folder.parent / file)
            ).out.splitlines()
            if line.startswith("exact places withheld in ")
        )
        for what, file in (("dwca", "a.zip"), ("occurrences", "o.csv"))
    ]
    assert said[0] == said[1]


# --- a file of nothing but broken lines -----------------------------------------------------------


@pytest.mark.parametrize("line", ["x\n", '{"id":"no entry"}\n'])
def test_of_a_file_of_broken_lines_a_hundred_are_told_and_how_many_more(
    story: Story, line: str
) -> None:
    story.type("Q7 1 female Saturnia pavonia on blackthorn")
    (story.folder / "entries-cccccccc-2027-05.jsonl").write_text(line * 3_000)
    assert "nor can 2,899 lines after it" in story.shell("check", "--json").out
    story.reopen()
    assert len(story.desk.reading.problems) == 101
    ran = story.shell("due")
    assert NOT_WHOLE in ran.out
    assert "and 98 more" in ran.out
