"""Times that cannot be, and a clock that was ahead: nothing crashes, no check is hidden, and what is told has its year."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from rounds.entries.registry import Note
from tests.stories.telling import Story

AHEAD = "OF THE FUTURE"
NOT_WHOLE = "THE BOOK IS NOT WHOLE"


def foreign(story: Story, **fields: Any) -> None:
    """A line of another program."""
    line = {
        "what": "note",
        "id": "foreign-1",
        "at": "2027-05-01T07:00:00+02:00",
        "logged": "2027-05-01T07:00:00+02:00",
    } | fields
    with (story.folder / "entries-foreign1-2027-05.jsonl").open("a") as file:
        file.write(json.dumps(line) + "\n")


OUTSIDE = [
    {"at": "0001-01-01T00:00:00+14:00", "text": "x"},
    {"at": "9999-12-31T23:59:59-14:00", "text": "x"},
    {"logged": "0001-01-01T00:00:00Z", "text": "x"},
    {"logged": "9999-12-31T23:59:59-12:00", "text": "x"},
    {"what": "leave be", "container": "K2", "until": "9999-12-31T23:59:59-12:00"},
    {
        "what": "put off",
        "container": "K2",
        "check": "feed",
        "why": "x",
        "until": "0001-01-01T00:00:00+14:00",
    },
    {"what": "host in", "container": "K2", "plant": "Salix", "cut": "0001-01-01T00:00:00+14:00"},
    {"what": "host in", "container": "K2", "plant": "Salix", "cut": "2027-04-30T07:00:00"},
]


@pytest.mark.parametrize("fields", OUTSIDE)
async def test_a_foreign_line_with_a_time_that_cannot_be_is_set_aside_with_a_word(
    story: Story, fields: dict[str, Any], tmp_path: Path
) -> None:
    assert story.shell("log", "K2", "set", "up", "laying").status == 0
    foreign(story, **fields)

    due = story.shell("due")
    assert due.out.startswith(NOT_WHOLE)
    assert "entries-foreign1-2027-05.jsonl line 1: " in due.out
    assert "times go from 1900 to 2199" in due.out or "no offset from UTC" in due.out
    assert story.shell("check").status == 1
    for command in (
        ("sheet", "--to", "+2d"),
        ("export", "csv", str(tmp_path / "a.csv")),
        ("export", "ics", str(tmp_path / "a.ics")),
    ):
        assert story.shell(*command).status == 2, command
    assert story.shell("log", "K2", "note", "goes on").status == 0
    async with story.screens() as screen:
        for key in ("y", "escape", "r"):
            await screen.press(key)


TYPED = [
    "0001-01-01T00:00:00+14:00",
    "0001-01-01",
    "9999-12-31T23:59:59-14:00",
    "9999-12-31 23:59",
    "1899-12-31 10:00",
    "2200-01-01 10:00",
    "-99999999d",
    "-900000d",
]


@pytest.mark.parametrize("typed", TYPED)
def test_a_time_that_cannot_be_is_refused_at_the_door(
    story: Story, typed: str, tmp_path: Path
) -> None:
    story.type("K2 set up laying")
    before = story.on_disk()
    assert story.refused(f"K2 drank {typed}")
    assert story.refused(f"K2 leave be until={typed.replace(' ', 'T')}")
    assert story.refused(f"founder A-27-02, enoptes female, caught={typed.replace(' ', 'T')}")
    story.preview(f"K2 drank {typed}")
    for ran in (
        story.shell("sheet", f"--from={typed}", "--to", "+2d"),
        story.shell("sheet", f"--to={typed}"),
    ):
        assert ran.status in (1, 2)
        assert ran.err.startswith("rounds: ")
    assert story.on_disk() == before


def test_a_long_look_ahead_stays_within_the_calendar(story: Story) -> None:
    story.type("K2 set up laying")
    for span in ("99999999d", "9999999d", "900000d", "999999999999999999d"):
        ran = story.shell("due", "--within", span)
        assert ran.status == 2
        assert "at most 3660d" in ran.err
    assert story.shell("due", "--within", "3660d").status == 0


@pytest.fixture
def thirsty(story: Story) -> Story:
    """A female in a cup that was last fed more than a day ago."""
    story.at("2027-04-29 07:05").type(
        "K2 set up laying moat", 'K2 founder W2 "Boloria inventa"', "K2 drank"
    )
    return story.at("2027-05-01 10:00")


@pytest.mark.parametrize("restarts", [False, True])
def test_a_clock_that_was_ten_years_ahead_hides_no_check(thirsty: Story, restarts: bool) -> None:
    story = thirsty
    checks = set(story.due("K2"))
    story.at("2037-05-01 10:00").type(
        "K2 drank", "K2 topped up", "K2 searched found=0", "K2 note by the clock that is ahead"
    )
    while_ahead = set(story.due("K2"))
    story.at("2027-05-01 10:05")
    if restarts:
        story.reopen()
    story.desk.hear()

    assert set(story.due("K2")) == checks, f"{while_ahead} while it was ahead"
    ran = story.shell("due", "--exit-code")
    assert ran.out.startswith(NOT_WHOLE)
    assert "4 lines are of the future, from 2037-05-01 10:00 on" in ran.out
    assert ran.status == 2
    checked = story.shell("check").out
    assert checked.count("is still to come and does not count until then") == 4

    story.type("K2 drank")
    assert "feed" not in story.due("K2"), "what is said now counts"
    assert [one.text for one in story.desk.bench.notes] == []


async def test_lines_of_the_future_are_offered_for_crossing_out_in_the_daybook(
    thirsty: Story,
) -> None:
    story = thirsty
    story.at("2037-05-01 10:00").type("K2 note by the clock that is ahead")
    story.at("2027-05-01 10:05").reopen()
    story.type("K2 note by the right clock")
    async with story.screens((100, 30)) as screen:
        assert NOT_WHOLE in screen.text
        assert "cross out in the daybook what a wrong clock made" in " ".join(screen.text.split())
        await screen.press("y")
        assert AHEAD in screen.text
        assert "2037" in screen.text
        rows = [row for row in screen.text.splitlines() if "note" in row and "clock" in row]
        assert AHEAD in rows[0], "first in the list"
        await screen.press("x")
        await screen.pilot.press(*"clock")
        await screen.press("enter")
        assert AHEAD not in screen.text
        assert "NO LONGER COUNTS: " in screen.text
        assert NOT_WHOLE not in screen.text
    assert story.shell("due").status == 0
    story.at("2037-05-01 10:30").reopen()
    assert "by the clock that is ahead" not in [one.text for one in story.desk.bench.notes], (
        "crossed out for good"
    )
    assert "by the right clock" in [
        entry.text for entry in story.desk.entries() if isinstance(entry, Note)
    ]


def test_what_waited_counts_when_its_time_has_come(thirsty: Story) -> None:
    story = thirsty
    foreign(
        story,
        id="foreign-1",
        at="2027-05-03T07:00:00+02:00",
        logged="2027-05-03T07:00:00+02:00",
        text="of the day after",
    )
    story.desk.hear()
    assert story.desk.bench.notes == []
    story.at("2027-05-03 07:00").desk.hear()
    assert [one.text for one in story.desk.bench.notes] == ["of the day after"]
    assert story.shell("due").status == 0


def test_a_checkpoint_holds_what_waits(thirsty: Story, monkeypatch: pytest.MonkeyPatch) -> None:
    story = thirsty
    monkeypatch.setattr("rounds.app.reading.WORTH_A_CHECKPOINT", 1)
    foreign(story, at="2037-05-03T07:00:00+02:00", text="ahead")
    for _ in range(2):
        assert "1 line is of the future" in story.shell("due").out
    assert list(story.folder.glob("checkpoint-*"))
    assert "disagree" not in story.shell("check").out


def test_echoes_have_the_year_where_it_is_not_this_one(story: Story) -> None:
    story.at("2026-12-30 07:05").type("K2 set up laying")
    story.at("2027-01-02 08:00")
    assert "2026" in story.shell("log", "K2", "note", "x", "2026-12-31", "08:00").out
    assert (
        "2 Jan 2027" in story.shell("log", "K2", "note", "x", "-1h").out
    )  # whose clock may be of another year: always
    assert "2026" in story.preview("K2 note x 2026-12-31 08:00")
    assert "2027" not in story.preview("K2 note x -1h")
    assert "2026" in story.refused("K2 drank 2026-12-29 08:00")


async def test_so_have_the_card_and_the_daybook(story: Story) -> None:
    story.at("2026-12-20 07:05").type("K2 set up laying", "K2 note of last year")
    story.at("2027-01-02 08:00").reopen()
    async with story.screens((110, 34)) as screen:
        assert "2026" in screen.text
        await screen.press("y")
        assert "20 Dec 2026 07:05" in screen.text
