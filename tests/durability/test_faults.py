"""A disk that fails, a folder that vanishes, a clock that jumps: nothing is said to be saved that is not, nothing is lost."""

from __future__ import annotations

import errno
import os
import shutil
from datetime import timedelta
from pathlib import Path

import pytest

from rounds.app.desk import Desk, Recorded, Unsaved
from rounds.daybook import Daybook
from rounds.entries.registry import CrossedOut, Note, SetUp
from rounds.exchange.backup import write_backup
from rounds.exchange.merge import merge
from tests.benchmarks.bench_due import NOW
from tests.benchmarks.long_book import write_book
from tests.conftest import PARIS, Clock
from tests.durability.books import bench_of, content, desk_at, plain

IN_WORDS = {
    errno.ENOSPC: "the disk is full; make room",
    errno.EROFS: "the disk is read-only",
    errno.EIO: "the disk failed while writing",
    errno.EDQUOT: os.strerror(errno.EDQUOT),
}


class Disk:
    """A disk whose writes and flushes fail until it is mended."""

    def __init__(self, number: int, where: str, chance: int = 7) -> None:
        self.number = number
        self.where = where
        self.part = chance
        self.mended = False

    def _fail(self, where: str) -> None:
        if self.where == where and not self.mended:
            raise OSError(self.number, os.strerror(self.number))

    def write(self, descriptor: int, data: bytes) -> int:
        if self.where == "short" and not self.mended:
            return os.write(descriptor, data[: self.part])
        if self.where == "half":
            os.write(descriptor, data[: 0 if self.mended else len(data) // 2])
        self._fail("half")
        self._fail("write")
        return os.write(descriptor, data)

    def flush(self, descriptor: int) -> None:
        self._fail("flush")
        os.fsync(descriptor)


def desk_on(folder: Path, disk: Disk) -> Desk:
    """A desk at a book on that disk."""
    book = Daybook(folder, "aaaa1111", write=disk.write, flush=disk.flush)
    return Desk(book, clock=Clock(NOW), entropy=os.urandom, zone=PARIS, keeper="KM")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A book with a cup and a note."""
    desk = desk_at(tmp_path / "book")
    assert isinstance(desk.record(SetUp, container="L2", purpose="laying"), Recorded)
    assert isinstance(desk.record(Note, text="before"), Recorded)
    return tmp_path / "book"


def texts(desk: Desk) -> list[str]:
    return [one.text for one in desk.bench.notes]


@pytest.mark.parametrize("where", ["short", "half", "write", "flush"])
@pytest.mark.parametrize("number", list(IN_WORDS))
def test_what_could_not_be_saved_is_kept_and_tried_again(
    folder: Path, where: str, number: int
) -> None:
    disk = Disk(number, where)
    desk = desk_on(folder, disk)
    before = content(folder)

    outcome = desk.record(Note, text="during")

    assert isinstance(outcome, Unsaved)
    assert outcome.line.startswith(IN_WORDS[errno.ENOSPC if where == "short" else number])
    assert texts(desk) == ["before"]
    assert content(folder) == before
    assert not desk.retry()
    disk.mended = True
    assert isinstance(desk.record(Note, text="after"), Recorded)
    assert texts(desk) == ["before", "during", "after"]
    assert plain(desk_at(folder)) == plain(desk) == bench_of(folder)


def test_even_where_the_half_line_cannot_be_taken_back(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    disk = Disk(errno.EIO, "half")
    desk = desk_on(folder, disk)

    def no_truncate(descriptor: int, length: int) -> None:
        raise OSError(errno.EIO, "Input/output error")

    with monkeypatch.context() as patched:
        patched.setattr(os, "ftruncate", no_truncate)
        assert isinstance(desk.record(Note, text="during"), Unsaved)
    disk.mended = True

    assert desk.retry()
    assert texts(desk) == ["before", "during"]
    again = desk_at(folder)
    assert texts(again) == ["before", "during"]
    assert not again.reading.problems
    desk.hear()
    (told,) = desk.reading.problems
    assert "set aside in aside/" in told


def test_a_line_that_was_flushed_after_all_counts_once(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    disk = Disk(errno.EIO, "flush")
    desk = desk_on(folder, disk)
    with monkeypatch.context() as patched:
        patched.setattr(os, "ftruncate", lambda descriptor, length: None)
        assert isinstance(desk.record(Note, text="during"), Unsaved)
    disk.mended = True

    assert desk.retry()
    assert texts(desk) == texts(desk_at(folder)) == ["before", "during"]


@pytest.mark.parametrize("number", [errno.EROFS, errno.EACCES, errno.ENOSPC, errno.EMFILE])
def test_a_file_that_cannot_be_opened(
    folder: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    desk = desk_at(folder)
    opened = os.open

    def refusing(path: object, flags: int, *rest: int) -> int:
        if flags & os.O_APPEND:
            raise OSError(number, os.strerror(number))
        return opened(path, flags, *rest)  # type: ignore[arg-type]

    with monkeypatch.context() as patched:
        patched.setattr(os, "open", refusing)
        assert isinstance(desk.record(Note, text="during"), Unsaved)
    assert desk.retry()
    assert texts(desk_at(folder)) == ["before", "during"]


def test_the_folder_vanishes_and_comes_back(folder: Path) -> None:
    desk = desk_at(folder)
    away = folder.with_name("away")
    folder.rename(away)

    outcome = desk.record(Note, text="while it was gone")
    assert isinstance(outcome, Unsaved)
    assert "the book's folder is gone; bring it back" in outcome.line
    assert not desk.hear()
    assert not desk.retry()
    assert plain(desk) == bench_of(away)

    away.rename(folder)
    assert desk.retry()
    assert texts(desk_at(folder)) == ["before", "while it was gone"]


def test_an_entry_file_vanishes_while_the_screen_is_open(folder: Path) -> None:
    desk = desk_at(folder)
    shutil.rmtree(folder)
    folder.mkdir(mode=0o700)

    assert not desk.hear()
    assert isinstance(desk.record(Note, text="on the new disk"), Recorded)
    assert texts(desk) == ["before", "on the new disk"]


def _replace_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    def failing(*args: object, **kwargs: object) -> None:
        raise OSError(errno.EIO, "Input/output error")

    monkeypatch.setattr(os, "replace", failing)
    monkeypatch.setattr(Path, "replace", failing)
    monkeypatch.setattr(os, "rename", failing)


def test_renaming_fails_under_a_checkpoint(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_book(tmp_path / "book", 1_200, 6)
    with monkeypatch.context() as patched:
        _replace_fails(patched)
        desk = desk_at(tmp_path / "book")
    assert not list((tmp_path / "book").glob("checkpoint-aaaa1111"))
    assert plain(desk) == bench_of(tmp_path / "book")
    assert plain(desk_at(tmp_path / "book")) == bench_of(tmp_path / "book")


@pytest.mark.parametrize("failing", ["rename", "fsync"])
def test_a_backup_that_fails_leaves_the_old_one(
    folder: Path, monkeypatch: pytest.MonkeyPatch, failing: str
) -> None:
    target = folder.with_name("kept.zip")
    target.write_bytes(b"the old one")
    with monkeypatch.context() as patched:
        if failing == "rename":
            _replace_fails(patched)
        else:
            patched.setattr(os, "fsync", _no_flush)
        with pytest.raises(OSError, match="Input/output error"):
            write_backup(folder, target, replace=True, progress=lambda done, whole: None)

    assert target.read_bytes() == b"the old one"
    assert sorted(path.name for path in folder.parent.iterdir()) == ["book", "kept.zip"]


def _no_flush(descriptor: int) -> None:
    raise OSError(errno.EIO, "Input/output error")


def test_a_merge_that_fails_leaves_no_half_file(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = folder.with_name("other")
    write_book(other, 60, 2)
    (other / "photos").mkdir()
    (other / "photos" / "K7.jpg").write_bytes(b"a picture")
    with monkeypatch.context() as patched:
        _replace_fails(patched)
        with pytest.raises(OSError, match="Input/output error"):
            merge(Daybook.open(folder, "aaaa1111"), other, lambda done, whole: None)
    assert [path.name for path in folder.rglob("*") if path.is_file()] == [
        "entries-aaaa1111-2026-05.jsonl"
    ]

    merge(Daybook.open(folder, "aaaa1111"), other, lambda done, whole: None)
    assert (folder / "photos" / "K7.jpg").read_bytes() == b"a picture"
    lines = {line for data in content(folder).values() for line in data.splitlines()}
    assert lines >= {line for data in content(other).values() for line in data.splitlines()}


@pytest.mark.parametrize("back", [timedelta(days=1), timedelta(hours=1), timedelta(days=4_000)])
def test_the_clock_jumps_back(folder: Path, back: timedelta) -> None:
    clock = Clock(NOW)
    desk = desk_at(folder, clock=clock)
    first = desk.record(Note, text="in time")
    clock.now -= back
    second = desk.record(Note, text="by a clock that jumped back")
    clock.now += back
    clock.on(minutes=1)
    third = desk.record(Note, text="in time again")

    assert isinstance(first, Recorded)
    assert isinstance(second, Recorded)
    assert isinstance(third, Recorded)
    assert first.entry.id < second.entry.id < third.entry.id
    assert isinstance(desk.strike(second.entry.id), Recorded)
    assert plain(desk_at(folder, clock=clock)) == plain(desk) == bench_of(folder)
    assert "by a clock that jumped back" not in texts(desk)


def test_two_screens_of_one_laptop_and_a_strike_by_the_other(folder: Path) -> None:
    one, other = desk_at(folder), desk_at(folder)
    said = one.record(Note, text="by the one")
    assert isinstance(said, Recorded)
    assert other.hear()
    assert isinstance(other.record(CrossedOut, entry=said.entry.id), Recorded)
    assert one.hear()
    assert plain(one) == plain(other) == bench_of(folder)
