"""What is told of a book is true, fits the screen, and comes at once."""

from __future__ import annotations

import json
import os
import zipfile
from pathlib import Path

import icalendar
import pytest

from tests.stories.telling import Story, tell


def entry_file(story: Story) -> Path:
    """The one file of entries."""
    (found,) = story.folder.glob("entries-*.jsonl")
    return found


# --- not saved ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("can_keep", [True, False])
async def test_what_is_kept_nowhere_is_not_said_to_be_kept(
    story: Story, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, can_keep: bool
) -> None:
    story.type("K2 set up laying")
    async with story.screens((110, 30)) as screen:
        story.folder.rename(tmp_path / "away")
        if not can_keep:
            monkeypatch.setattr("rounds.daybook.kept_aside.put_lines", _full)
        await screen.type("note while the disk was full")
        assert ("kept on this machine and tried again" in screen.message) is can_keep
        assert ("kept nowhere but on this screen" in screen.message) is not can_keep


def _full(*_: object) -> None:
    raise OSError(28, "No space left on device")


# --- merge ----------------------------------------------------------------------------------------------------------------


def test_a_folder_that_is_no_book_is_refused_without_looking_through_all_below_it(
    story: Story, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    story.type("K2 set up laying")
    monkeypatch.setattr(
        "rounds.exchange.merge.files_of", lambda folder: pytest.fail(f"{folder} was looked through")
    )
    (tmp_path / "other" / "deep").mkdir(parents=True)
    for folder, why in (
        (tmp_path / "other", "there is no book in"),
        (tmp_path, "holds this book itself"),
        (Path("/"), "holds this"),
    ):
        ran = story.shell("merge", str(folder))
        assert ran.status == 1
        assert why in ran.err


# --- a clock of another year ----------------------------------------------------------------------------------------------


def test_a_line_logged_is_acknowledged_with_its_year(story: Story) -> None:
    story.type("K2 set up laying")
    ran = story.at("2099-01-01 00:00").shell("log", "K2 misted")
    assert ran.out.startswith("Thu 1 Jan 2099 00:00  K2 misted")


# --- a copy that ends in half a line --------------------------------------------------------------------------------------


def test_half_a_line_of_a_copy_that_stands_whole_elsewhere_is_no_gap(story: Story) -> None:
    tell(story, "K2 set up laying\nK2 misted")
    raw = entry_file(story).read_bytes()
    copy = entry_file(story).with_name(f"{entry_file(story).stem} (conflicted copy).jsonl")
    for size in (len(raw) - 1, len(raw) - 30, len(raw) - 100):
        copy.write_bytes(raw[:size])
        copy.chmod(0o600)
        story.reopen()
        ran = story.shell("due")
        assert "NOT WHOLE" not in ran.out
        assert story.shell("check").status == 0


def test_half_a_line_that_stands_nowhere_is_told_and_taken_when_it_is_whole(story: Story) -> None:
    tell(story, "K2 set up laying\nK2 misted")
    raw = entry_file(story).read_bytes()
    *lines, last = raw.splitlines(keepends=True)
    name = json.loads(last)["id"].encode()
    other = last.replace(b'"misted"', b'"cleaned"').replace(name, name[:-1] + b"z")
    copy = entry_file(story).with_name(f"{entry_file(story).stem} (conflicted copy).jsonl")
    copy.write_bytes(b"".join(lines) + other[:60])
    copy.chmod(0o600)
    story.reopen()
    assert "its last line has no end (60 bytes)" in story.shell("due").out
    assert "torn" in story.shell("check").out
    copy.write_bytes(b"".join(lines) + other)
    story.reopen()
    assert "NOT WHOLE" not in story.shell("due").out
    assert "cleaned" in story.desk.bench.containers["K2"].last


@pytest.mark.parametrize("had_some", [False, True])
def test_half_a_line_of_a_merged_book_is_no_gap_once_the_whole_came(
    story: Story, tmp_path: Path, had_some: bool
) -> None:
    """The first copy was made while it was being written, of a file that is here, or not yet."""
    other = story.elsewhere()
    tell(other, "K3 set up laying\nK3 misted\nK3 cleaned")
    raw = entry_file(other).read_bytes()
    theirs = tmp_path / "theirs" / entry_file(other).name
    theirs.parent.mkdir()
    tell(story, "K2 set up laying")
    for size in ((raw.index(b"\n") + 1,) if had_some else ()) + (len(raw) - 20,):
        theirs.write_bytes(raw[:size])
        story.shell("merge", str(theirs.parent))
    assert "NOT WHOLE" in story.shell("due").out
    theirs.write_bytes(raw)
    assert story.shell("merge", str(theirs.parent)).status == 0
    assert "NOT WHOLE" not in story.shell("due").out
    assert story.shell("check").status == 0
    story.reopen()
    assert "cleaned" in story.desk.bench.containers["K3"].last


# --- on 80 columns --------------------------------------------------------------------------------------------------------


async def test_a_warning_on_80_columns_ends_with_a_whole_clause(story: Story) -> None:
    tell(story, "K2 set up laying\nK2 misted")
    copy = entry_file(story).with_name(f"{entry_file(story).stem} (conflicted copy).jsonl")
    copy.write_bytes(entry_file(story).read_bytes() + b'{"what":"note","id":"1')
    story.reopen()
    async with story.screens((80, 24)) as screen:
        told = " ".join(screen.text.split("the bench")[0].split())
    assert told.endswith("its last line has no end (22 bytes) …")
    async with story.screens((120, 40)) as screen:
        told = " ".join(screen.text.split("the bench")[0].split())
    assert told.endswith("it may still be being copied, or was broken off")


# --- the calendar of a book that is not whole ------------------------------------------------------------------------------


def sequence_of(story: Story, path: Path, status: int = 0) -> int:
    """How new an export is, as its events say."""
    story.reopen()
    ran = story.shell("export", "ics", str(path), "--replace")
    assert ran.status == status, ran.err
    found = {
        int(event["sequence"])
        for event in icalendar.Calendar.from_ical(path.read_text()).walk("VEVENT")
    }
    assert len(found) == 1
    return found.pop()


def test_a_calendar_that_warns_is_newer_than_the_whole_one_before(
    story: Story, tmp_path: Path
) -> None:
    tell(story, "K2 set up laying\nK2 founder W2 'Aglais vera' female\n" + "K2 misted\n" * 12)
    whole = sequence_of(story, tmp_path / "due.ics")
    kept = entry_file(story).read_bytes().splitlines(keepends=True)
    story.later(seconds=1)
    entry_file(story).write_bytes(b"".join(kept[:4]))
    assert sequence_of(story, tmp_path / "due.ics", status=2) > whole
    story.later(seconds=1)
    entry_file(story).write_bytes(b"".join([*kept[:6], *[b"damaged\n"] * 8]))
    damaged = sequence_of(story, tmp_path / "due.ics", status=2)
    assert damaged > whole
    story.later(seconds=1)
    entry_file(story).write_bytes(b"".join(kept))
    assert sequence_of(story, tmp_path / "due.ics") > damaged


# --- a setting that a foreign line brings ---------------------------------------------------------------------------------


def test_a_zone_that_is_none_is_told_wherever_hours_are(story: Story) -> None:
    story.type("K2 set up laying")
    story.later(minutes=1).type("K2 misted")
    last = json.loads(entry_file(story).read_text().splitlines()[-1])
    line = {name: last[name] for name in ("at", "logged")}
    line |= {"what": "setting", "id": "0-foreign", "name": "zone", "value": "../../etc/passwd"}
    (story.folder / "entries-foreign2-2027-04.jsonl").write_text(json.dumps(line) + "\n")
    told = "TIME ZONE IS NOT KNOWN: its setting says '../../etc/passwd', which is none"
    for command in ("due", "check"):
        ran = story.shell(command)
        assert told in ran.out + ran.err, command
    story.type("setting zone Europe/Paris")
    assert told not in story.shell("due").out


def test_a_backup_that_unpacks_beyond_measure_is_refused(story: Story, tmp_path: Path) -> None:
    story.type("K2 set up laying")
    path = tmp_path / "theirs.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("entries-foreign2-2027-04.jsonl", entry_file(story).read_bytes())
        archive.writestr("notes.txt", b"\0" * 40_000_000)
    ran = story.shell("merge", str(path))
    assert ran.status == 1
    assert "notes.txt in theirs.zip would unpack from" in ran.err
    assert "to 40,000,000 bytes" in ran.err
    assert len(list(story.folder.glob("entries-*"))) == 1


@pytest.mark.parametrize("ending", [".json", ".seen"])
@pytest.mark.parametrize("what", ["garbage", "pipe"])
def test_a_memory_that_cannot_be_read_is_told(
    story: Story, monkeypatch: pytest.MonkeyPatch, ending: str, what: str
) -> None:
    monkeypatch.setattr("rounds.daybook.line_counts.SETTLED_NS", 0)
    story._laptop = ""
    for line in ("K2 set up laying", "K2 misted"):
        assert "cannot be read" not in story.shell("log", line).err
    (kept,) = Path(os.environ["XDG_STATE_HOME"]).rglob(f"books/*{ending}")
    if what == "pipe":
        kept.unlink()
        os.mkfifo(kept)
    else:
        kept.write_bytes(b"no memory of this program\n")
    assert "what this machine remembered of this book cannot be read" in story.shell("due").err
