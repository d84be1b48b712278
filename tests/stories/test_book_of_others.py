"""What others brought into a book and cannot be read, or took out of it: told first by each command, never 'nothing is due'."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.stories.telling import Story

FIRST = "THE BOOK IS NOT WHOLE"
THEIRS = "entries-other222-2027-05.jsonl"


def line(story: Story, **fields: str) -> str:
    """A note of another writer, at the time of the first entry, with other fields where given."""
    said = {name: story.on_disk()[0][name] for name in ("at", "logged")}
    return json.dumps(said | {"what": "note", "id": "other-1", "text": "theirs"} | fields) + "\n"


@pytest.fixture
def begun(story: Story) -> Story:
    """A book in which another writer said three things a moment ago."""
    assert story.shell("log", "K2", "set", "up", "laying").status == 0
    (story.folder / THEIRS).write_text(
        "".join(line(story, id=f"other-{number}") for number in range(3))
    )
    return story


def gone(file: Path) -> None:
    file.unlink()


def shorter(file: Path) -> None:
    file.write_text(file.read_text().splitlines(keepends=True)[0])


@pytest.mark.parametrize(("change", "told"), [(gone, "is gone"), (shorter, "has 1 line")])
@pytest.mark.parametrize("command", [("due",), ("log", "note", "x"), ()], ids=str)
def test_a_command_remembers_what_it_read(
    begun: Story, change: Callable[[Path], None], told: str, command: tuple[str, ...]
) -> None:
    assert begun.shell(*command).status == 0
    change(begun.folder / THEIRS)

    for _ in range(2):
        ran = begun.shell("due", "--exit-code")
        assert ran.out.startswith(FIRST)
        assert f"{THEIRS}: {told}, and this machine has seen 3 in it" in ran.out
        assert ran.status == 2


def test_nothing_is_written_where_nothing_changed(begun: Story) -> None:
    assert begun.shell("due").status == 0
    (seen,) = Path(os.environ["XDG_STATE_HOME"]).rglob("*.seen")
    before = seen.stat().st_ino
    assert begun.shell("due").status == 0
    assert seen.stat().st_ino == before


def test_lines_of_a_newer_version_are_told(begun: Story) -> None:
    assert begun.shell("due").status == 0
    with (begun.folder / THEIRS).open("a") as file:
        file.write(
            line(begun, what="a_kind_to_come", id="other-8")
            + line(begun, what="a_kind_to_come", id="other-9")
        )

    ran = begun.shell("due")
    assert ran.out.startswith(FIRST)
    assert "2 lines of a newer version are kept and not read; if no laptop has one" in ran.out
    assert 'their word behind "what" is damaged' in ran.out
    assert ran.status == 2
    begun.shell("check", "--accept")
    assert begun.shell("due").status == 0


def test_a_checkpoint_remembers_lines_of_a_newer_version(
    begun: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("rounds.app.reading.WORTH_A_CHECKPOINT", 1)
    with (begun.folder / THEIRS).open("a") as file:
        file.write(
            "".join(line(begun, what="a_kind_to_come", id=f"new-{number}") for number in range(300))
        )
    for _ in range(2):
        assert "300 lines of a newer version" in begun.shell("due").out
    assert list(begun.folder.glob("checkpoint-*"))


def test_a_last_line_without_an_end_is_told_until_it_has_one(begun: Story) -> None:
    more = line(begun, id="other-9")
    with (begun.folder / THEIRS).open("a") as file:
        file.write(more[:30])
    for _ in range(2):
        ran = begun.shell("due")
        assert ran.out.startswith(FIRST)
        assert (
            f"{THEIRS}: its last line has no end (30 bytes); it may still be being copied"
            in ran.out
        )
        assert ran.status == 2
    with (begun.folder / THEIRS).open("a") as file:
        file.write(more[30:])
    assert begun.shell("due").status == 0


def test_a_line_that_pushes_another_out_is_told(begun: Story) -> None:
    real = begun.on_disk()[0]
    own = next(path.name for path in begun.folder.glob("entries-*") if path.name != THEIRS)
    earlier = line(begun, id=real["id"], at="2020-01-01T07:00:00+01:00", text="in its place")
    with (begun.folder / THEIRS).open("a") as file:
        file.write(earlier)

    ran = begun.shell("due")
    assert ran.out.startswith(FIRST)
    assert f"{own} line 1" in ran.out
    assert f"{THEIRS} line 4" in ran.out
    assert real["id"] in ran.out
    assert ran.status == 2
    begun.shell("check", "--accept")
    assert begun.shell("due").status == 0


async def test_the_open_screens_tell_it_too(begun: Story) -> None:
    own = begun.type("K2 note mine")
    assert own
    mine = begun.on_disk()[-1]
    async with begun.screens() as screen:
        with (begun.folder / THEIRS).open("a") as file:
            file.write(
                line(begun, id=mine["id"], at="2020-01-01T07:00:00+01:00", text="in its place")
            )
        screen.app.hear()
        await screen.pilot.pause()
        assert screen.text.lstrip().startswith(FIRST)


def test_the_sheet_and_the_calendar_say_it_themselves(begun: Story, tmp_path: Path) -> None:
    """Whoever has the paper, or the calendar on a telephone, sees no screen."""
    begun.type("K2 founder QUE-27-01, Boloria dia female")
    page, calendar = tmp_path / "sheet.html", tmp_path / "rounds.ics"

    def made(status: int = 0) -> tuple[str, ...]:
        sheet = begun.shell("sheet", "--to", "+2d")
        assert (
            begun.shell("sheet", "--to", "+2d", "--html", str(page), "--replace").status == status
        )
        assert begun.shell("export", "ics", str(calendar), "--replace").status == status
        on_paper = sheet.out.partition("sheet, page 1")[
            2
        ]  # what stands above it is for the keeper alone
        return on_paper, page.read_text(), calendar.read_text().replace("\r\n ", "")

    assert not any(FIRST in text for text in made()[:2])
    with (begun.folder / THEIRS).open("a") as file:
        file.write("{half a li")
    on_paper, on_page, in_calendar = made(status=2)
    assert FIRST in on_paper
    assert FIRST in on_page
    assert f"SUMMARY:{FIRST}" in in_calendar
    (begun.folder / THEIRS).write_text(
        "".join((begun.folder / THEIRS).read_text().splitlines(keepends=True)[:3])
    )
    assert FIRST not in made()[2]


@pytest.mark.parametrize(("size", "lines"), [((80, 24), 2), ((40, 10), 1)])
async def test_what_is_told_above_a_screen_leaves_room_for_it(
    begun: Story, size: tuple[int, int], lines: int
) -> None:
    begun.type("K2 founder QUE-27-01, Boloria dia female")
    with (begun.folder / THEIRS).open("a") as file:
        file.write("{half a line")
    begun.reopen()
    async with begun.screens(size) as screen:
        rows = screen.text.splitlines()
        told = [row for row in rows if row.strip()][:lines]
        assert FIRST in told[0]
        assert "rounds check" in "".join(rows[: lines + 1])
        assert told[-1].rstrip().endswith(("…", "off"))
        assert any("K2" in row for row in rows), "the cup is still seen"
