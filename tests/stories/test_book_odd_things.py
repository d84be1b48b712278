"""Links, pipes, sockets, devices and folders in a book's folder, and locks of others: nothing waits, nothing leads out of it."""

from __future__ import annotations

import fcntl
import os
import shutil
import socket
import tempfile
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.memory import ON_DISK
from tests.stories.telling import Story

pytestmark = pytest.mark.usefixtures("hangs_are_failures")
SECRET = b"not of the book"


def pipe(place: Path, outside: Path) -> None:
    os.mkfifo(place)


def folder(place: Path, outside: Path) -> None:
    place.mkdir()
    (place / "inside").write_text("x")


def link_to_a_file(place: Path, outside: Path) -> None:
    place.symlink_to(outside / "secret")


def link_to_a_folder(place: Path, outside: Path) -> None:
    place.symlink_to(outside)


def link_to_nothing(place: Path, outside: Path) -> None:
    place.symlink_to(outside / "nothing")


def link_to_itself(place: Path, outside: Path) -> None:
    place.symlink_to(place)


def link_to_a_device(place: Path, outside: Path) -> None:
    place.symlink_to("/dev/zero")


def listening(place: Path, outside: Path) -> None:
    here = Path.cwd()
    os.chdir(place.parent)  # a socket's path is short
    try:
        with socket.socket(socket.AF_UNIX) as here_it_listens:
            here_it_listens.bind(place.name)
    finally:
        os.chdir(here)


ODD = [
    pipe,
    folder,
    link_to_a_file,
    link_to_a_folder,
    link_to_nothing,
    link_to_itself,
    link_to_a_device,
    listening,
]
PLACES = [
    "own file",
    "entries-other222-2027-05.jsonl",
    "entries-other222-2027-05 (1).jsonl",
    "checkpoint",
    "checkpoint.part",
    "aside",
    "photos",
    "series",
    "anything",
]


@pytest.fixture
def tmp_path() -> Iterator[Path]:
    """A folder on the disk, which gives the inode of what was taken away to what comes next; one in memory never does."""
    with tempfile.TemporaryDirectory(prefix="rounds-odd-", dir=ON_DISK) as name:
        yield Path(name)


@pytest.fixture
def outside(tmp_path: Path) -> Path:
    """A folder beside the book, with what is none of its business."""
    place = tmp_path / "outside"
    place.mkdir()
    (place / "secret").write_bytes(SECRET)
    return place


def picture(tmp_path: Path) -> Path:
    path = tmp_path / "new.jpg"
    path.write_bytes(b"\xff\xd8\xff a picture")
    return path


def logger(tmp_path: Path) -> Path:
    path = tmp_path / "logger.csv"
    path.write_text(
        "time,temperature C\n"
        + "".join(f"2027-04-30 {hour:02d}:00,{20 + hour % 3}.5\n" for hour in range(24))
    )
    return path


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("odd", ODD, ids=lambda odd: odd.__name__)
def test_whatever_lies_there_nothing_hangs_and_nothing_leads_out(
    story: Story,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
    outside: Path,
    place: str,
    odd: Callable[[Path, Path], None],
) -> None:
    monkeypatch.setattr("rounds.app.reading.WORTH_A_CHECKPOINT", 1)
    assert story.shell("log", "K2", "set", "up", "laying").status == 0
    assert story.shell("due").status == 0
    (own,) = story.folder.glob("entries-*")
    (kept,) = story.folder.glob("checkpoint-*")
    named = {
        "own file": own,
        "checkpoint": kept,
        "checkpoint.part": kept.with_name(f"{kept.name}.part"),
    }
    path = named.get(place, story.folder / place)
    path.unlink(missing_ok=True)
    odd(path, outside)

    due = story.shell("due")
    named_as_entries = path.match("entries-*.jsonl")
    assert due.status == (2 if named_as_entries else 0)
    assert (f"{path.name}: is " in due.out) == named_as_entries, "what it hides is not known"
    said = story.shell("log", "note", "goes on")
    assert said.status == 0, said.err
    assert story.shell("check").status in (0, 1)
    backed = story.shell("backup", str(tmp_path / "kept.zip"))
    assert backed.status == 0, backed.err
    story.shell("photo", str(picture(tmp_path)), "--for", "K2")
    story.shell("temperatures", str(logger(tmp_path)))
    story.shell("export", "csv", str(tmp_path / "out.csv"))
    other = shutil.copytree(
        story.folder,
        tmp_path / "other",
        symlinks=True,
        ignore=lambda _, names: [path.name] if path.name in names else [],
    )
    merged = story.shell("merge", str(other))
    assert "Traceback" not in merged.err
    into = story.shell("--book", str(tmp_path / "anew"), "merge", str(tmp_path / "kept.zip"))
    assert into.status == 0, into.err

    assert "goes on" in (tmp_path / "out.csv").read_text()
    assert sorted(one.name for one in outside.iterdir()) == ["secret"], (
        "nothing is written through a link"
    )
    assert (outside / "secret").read_bytes() == SECRET
    with zipfile.ZipFile(tmp_path / "kept.zip") as archive:
        assert all(SECRET not in archive.read(name) for name in archive.namelist())
    left = [line for line in backed.out.splitlines() if line.startswith("left out: ")]
    expected = odd is not folder and not path.name.startswith("checkpoint")
    assert len(left) == expected, "what is not in the backup is told"


def test_a_book_that_is_a_pipe_or_a_backup_that_is_one_is_refused(
    story: Story, tmp_path: Path
) -> None:
    assert story.shell("log", "K2", "set", "up", "laying").status == 0
    os.mkfifo(tmp_path / "pipe")
    for command in (
        ("due",),
        ("check",),
        ("log", "note", "x"),
        ("backup", str(tmp_path / "kept.zip")),
        (),
    ):
        ran = story.shell("--book", str(tmp_path / "pipe"), *command)
        assert ran.status in (1, 2), command
        assert ran.err.startswith("rounds: "), command
    ran = story.shell("merge", str(tmp_path / "pipe"))
    assert (ran.status, ran.out) == (1, "")
    assert "is no folder and no file" in ran.err


def test_locks_held_by_others_are_not_waited_for_long(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("rounds.app.reading.WORTH_A_CHECKPOINT", 1)
    assert story.shell("log", "K2", "set", "up", "laying").status == 0
    assert story.shell("due").status == 0
    state = Path(os.environ["XDG_STATE_HOME"])
    (kept,) = story.folder.glob("checkpoint-*")
    kept.with_name(f"{kept.name}.part").touch(mode=0o600)
    waited: list[float] = []
    monkeypatch.setattr("rounds.daybook.writer.time.sleep", waited.append)
    clock = iter(range(10_000))
    monkeypatch.setattr("rounds.daybook.writer.time.monotonic", lambda: next(clock) / 100)
    held = []
    for path in [*story.folder.iterdir(), *state.rglob("*.json")]:
        descriptor = os.open(path, os.O_RDWR)
        fcntl.flock(descriptor, fcntl.LOCK_EX)
        held.append(descriptor)
    try:
        for command in (("due",), ("log", "note", "under locks"), ("check",)):
            before = next(clock)
            assert story.shell(*command).status == 0, command
            assert (next(clock) - before) / 100 < 2, "the clock that it waits by"
    finally:
        for descriptor in held:
            os.close(descriptor)
    assert waited, "it waited a little"
    assert "under locks" in "".join(path.read_text() for path in story.folder.glob("entries-*"))


def test_a_half_written_file_of_others_is_never_written_through(
    story: Story, monkeypatch: pytest.MonkeyPatch, outside: Path
) -> None:
    """A link laid where the program writes beside: each such file is made anew, or not at all."""
    monkeypatch.setattr("os.urandom", bytes)  # names of zeros
    monkeypatch.setattr("rounds.app.reading.WORTH_A_CHECKPOINT", 1)
    assert story.shell("log", "K2", "set", "up", "laying").status == 0
    assert story.shell("due").status == 0
    (kept,) = story.folder.glob("checkpoint-*")
    before = kept.read_bytes()
    (kept.with_name(f"{kept.name}.part")).symlink_to(outside / "secret")
    for name in ("kept.zip", "out.csv", "sheet.html"):
        (outside.parent / f".{name}.00000000.part").symlink_to(outside / "secret")
    story.shell("log", "note", "x")
    assert story.shell("backup", str(outside.parent / "kept.zip")).status == 1
    assert story.shell("export", "csv", str(outside.parent / "out.csv")).status == 1
    assert (
        story.shell("sheet", "--to", "+2d", "--html", str(outside.parent / "sheet.html")).status
        == 1
    )
    assert (outside / "secret").read_bytes() == SECRET
    assert kept.read_bytes() != before, "a checkpoint is made all the same"


DEEP = "/".join(["deep"] * 30)


def test_a_backup_takes_all_depths_and_says_what_it_leaves(story: Story, tmp_path: Path) -> None:
    assert story.shell("log", "K2", "set", "up", "laying").status == 0
    (story.folder / DEEP).mkdir(parents=True)
    (story.folder / DEEP / "far.txt").write_text("far down")
    (story.folder / "a:b.txt").write_text("a name that no zip file may hold")
    (story.folder / "/".join(["way"] * 70)).mkdir(parents=True)
    (story.folder / "/".join(["way"] * 70) / "too-far.txt").write_text("farther down")

    ran = story.shell("backup", str(tmp_path / "kept.zip"))
    assert ran.status == 0
    left = [line for line in ran.out.splitlines() if line.startswith("left out: ")]
    assert len(left) == 2
    assert "a:b.txt: has a name that no zip file may hold" in ran.out
    assert "too-far.txt" in ran.out

    again = story.shell("--book", str(tmp_path / "anew"), "merge", str(tmp_path / "kept.zip"))
    assert again.status == 0, again.err
    assert (tmp_path / "anew" / DEEP / "far.txt").read_text() == "far down"


def test_many_small_files_are_flushed_together(
    story: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Each file is flushed before it is in its place, and folders once for many files, not for each."""
    assert story.shell("log", "K2", "set", "up", "laying").status == 0
    other = tmp_path / "other"
    shutil.copytree(story.folder, other, ignore=shutil.ignore_patterns("checkpoint-*"))
    (other / "photos").mkdir()
    for number in range(1_000):
        (other / "photos" / f"K2-{number}.jpg").write_bytes(b"%d" % number)
    really, flushed = os.fsync, []

    def fsync(descriptor: int) -> None:
        flushed.append(
            os.path.isdir(f"/proc/self/fd/{descriptor}")
            if os.path.isdir("/proc/self/fd")
            else False
        )
        really(descriptor)

    monkeypatch.setattr(os, "fsync", fsync)
    ran = story.shell("merge", str(other))
    assert ran.status == 0, ran.err
    assert "1,000 files copied" in ran.out
    assert flushed.count(True) < 20
    assert len(flushed) > 1_000
    assert (story.folder / "photos" / "K2-7.jpg").read_bytes() == b"7"
    assert "1,000 files copied" not in story.shell("merge", str(other)).out


@pytest.mark.parametrize("made", ["book", "photos", "series"])
def test_a_folder_that_was_made_is_flushed_into_the_one_around_it(
    story: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, made: str
) -> None:
    flushed: list[Path] = []
    from rounds.daybook import safe_files

    really = safe_files.flush_folder

    def flush(folder: Path) -> None:
        flushed.append(folder)
        really(folder)

    monkeypatch.setattr(safe_files, "flush_folder", flush)
    story.folder = tmp_path / "far" / "away" / "book"
    assert story.shell("log", "K2", "set", "up", "laying").status == 0
    if made == "book":
        assert {tmp_path, tmp_path / "far", tmp_path / "far" / "away"} <= set(flushed)
        return
    flushed.clear()
    command = (
        ("photo", str(picture(tmp_path)), "--for", "K2")
        if made == "photos"
        else ("temperatures", str(logger(tmp_path)))
    )
    ran = story.shell(*command)
    assert ran.status == 0, ran.err
    assert (story.folder / made).is_dir()
    assert story.folder in flushed


def test_a_series_that_is_gone_or_changed_is_told_once(story: Story, tmp_path: Path) -> None:
    assert story.shell("log", "K2", "set", "up", "laying").status == 0
    assert story.shell("temperatures", str(logger(tmp_path))).status == 0
    (series,) = (story.folder / "series").iterdir()
    whole = series.read_bytes()
    series.write_bytes(whole.replace(b"20.5", b"21.5"))
    assert story.shell("check").out.count(series.name) == 1
    series.unlink()
    assert story.shell("check").out.count(series.name) == 1


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with a name there")
def test_a_picture_that_is_a_pipe_is_not_waited_for(story: Story, tmp_path: Path) -> None:
    story.type("K2 set up laying")
    os.mkfifo(tmp_path / "p.jpg")
    ran = story.shell("photo", str(tmp_path / "p.jpg"), "--for", "K2")
    assert (ran.status, "p.jpg cannot be read as a picture: it is no file" in ran.err) == (1, True)
