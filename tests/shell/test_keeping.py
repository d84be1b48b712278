"""``rounds check``, ``backup`` and ``merge`` as a keeper types them."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from rounds.app.clock import system_clock
from rounds.daybook import Daybook
from rounds.entries.codec import write
from rounds.entries.registry import Drank, Photo
from rounds.shell.main import main
from tests.benchmarks.bench_due import NOW
from tests.benchmarks.long_book import write_book
from tests.durability.books import bench_of, desk_at, lines_of, note


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A sound book."""
    write_book(tmp_path / "book", 1_500, 8)
    monkeypatch.setenv("ROUNDS_BOOK", str(tmp_path / "book"))
    monkeypatch.setenv("TZ", "Europe/Paris")  # in whose offset it was written
    monkeypatch.setattr("rounds.shell.check.system_clock", lambda: NOW)
    return tmp_path / "book"


def checked(
    capsys: pytest.CaptureFixture[str], status: int
) -> dict[str, list[tuple[str, str, int]]]:
    assert main(["check", "--json"]) == status
    report = json.loads(capsys.readouterr().out)
    return {
        part: [(one["sort"], one["file"], one["line"]) for one in report[part]]
        for part in ("found", "told")
    }


def test_a_sound_book(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check"]) == 0
    count = len(list(book.glob("*.jsonl")))
    assert (
        capsys.readouterr().out
        == f"{count} file{'s' if count > 1 else ''}, 1,500 lines, 1,500 entries\nnothing wrong was found\n"
    )


def test_it_says_whether_the_checkpoint_agrees(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    desk = desk_at(book, "")
    (checkpoint,) = book.glob("checkpoint-*")
    assert checked(capsys, 0)["told"] == [("checkpoint", checkpoint.name, 0)]

    lying = desk.book.load().history
    lying.bench.containers.popitem()
    desk.book.to_keep(lying.kept(), [])()

    assert checked(capsys, 1)["found"] == [("checkpoint", checkpoint.name, 0)]


def test_it_changes_nothing(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with max(book.glob("*.jsonl")).open("ab") as file:
        file.write(b"{torn")
    before = {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in book.iterdir()}
    checked(capsys, 1)
    assert {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in book.iterdir()} == before


def test_every_sort_of_damage_with_its_place(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    name = "entries-cccc3333-2026-05.jsonl"
    twin = note(2, "another text")
    ahead = note(3).__class__(
        id="zz1", at=NOW.replace(year=2027), logged=NOW.replace(year=2027), text="to come"
    )
    before_said = note(3).__class__(
        id="zz2", at=NOW.replace(minute=59), logged=NOW, text="happened after it was typed"
    )
    picture = Photo(id="zz3", at=NOW, logged=NOW, file="photos/gone.jpg", container="C0")
    nobody = Drank(id="zz4", at=NOW, logged=NOW, container="C99")
    newer = b'{"what":"sung to","id":"zz5","at":"2026-05-20T07:00:00+02:00","logged":"2026-05-20T07:00:00+02:00"}\n'
    data = (
        lines_of([note(1), note(1), note(2), twin, ahead, before_said, picture, nobody])
        + newer
        + b"\0\0\0\nhello\n"
    )
    (book / name).write_bytes(data + b'{"torn')
    (book / name).chmod(0o644)
    (book / "link").symlink_to("/etc/hostname")
    (book / ".x.part").write_bytes(b"half")
    (book / "entries-cccc3333-2026-05.sync-conflict-1.jsonl").write_bytes(lines_of([note(1)]))

    found = checked(capsys, 1)

    assert set(found["found"]) == {
        ("permissions", name, 0),
        ("permissions", "entries-cccc3333-2026-05.sync-conflict-1.jsonl", 0),
        ("link", "link", 0),
        ("torn", name, 12),
        ("damage", name, 10),
        ("damage", name, 11),
        ("two lines under one id", name, 4),
        ("newer", "", 0),
        ("clock", "", 0),
        ("photo", "", 0),
        ("disagreement", "", 0),
        ("lacking", "", 0),
    }
    assert [sort for sort, _, _ in found["found"]].count("clock") == 2
    assert {sort for sort, _, _ in found["told"]} == {"copy", "left over", "repeated"}


def test_a_loggers_file_that_is_gone_or_was_changed(
    book: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("rounds.shell.check.system_clock", system_clock)  # it was taken in just now
    log = tmp_path / "log.csv"
    log.write_text("time,temperature (C)\n2026-05-18T07:00:00Z,20.5\n2026-05-18T08:00:00Z,21.5\n")
    assert main(["temperatures", str(log), "--zone", "UTC"]) == 0
    (series,) = (book / "series").glob("*.csv")
    capsys.readouterr()
    assert checked(capsys, 0)["found"] == []
    of_series = ("series", f"series/{series.name}", 0)

    whole = series.read_text()
    series.write_text(whole.replace("21.5", "31.5"))
    assert checked(capsys, 1)["found"] == [of_series]
    series.unlink()
    assert checked(capsys, 1)["found"] == [of_series]


def test_what_was_set_aside_is_told(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = book / "entries-dddd4444-2026-05.jsonl"
    path.write_bytes(lines_of([note(1)]) + b'{"torn')
    path.chmod(0o600)
    os.utime(path, (0, 0))
    Daybook.open(book, "dddd4444")

    ((sort, file, _),) = checked(capsys, 0)["told"]

    assert sort == "set aside"
    assert (book / file).read_bytes() == b'{"torn'


def test_names_and_words_are_shown_literally(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (book / "bad\x1b[2Jname").symlink_to("/etc")
    assert main(["check"]) == 1
    assert "\x1b" not in capsys.readouterr().out


def test_no_book_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--book", str(tmp_path / "none")]) == 1
    assert "there is no book in" in capsys.readouterr().err
    assert not (tmp_path / "none").exists()


def test_there_and_back(book: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "kept.zip"
    assert main(["backup", str(target)]) == 0
    assert "and read back" in capsys.readouterr().out
    assert main(["backup", str(target)]) == 1
    assert "--replace" in capsys.readouterr().err
    assert main(["backup", str(target), "--replace"]) == 0

    assert main(["merge", str(target), "--book", str(tmp_path / "new")]) == 0
    told = capsys.readouterr().out
    assert "files copied with " in told
    assert "new lines, 0 lines added to files here" in told
    assert bench_of(tmp_path / "new") == bench_of(book)

    Daybook.open(tmp_path / "new", "dddd4444").append_many([write(note(1))])
    assert main(["merge", str(tmp_path / "new"), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["files"] == ["entries-dddd4444-2026-05.jsonl"]
    assert main(["merge", str(tmp_path / "nothing")]) == 1
    assert "there is nothing at" in capsys.readouterr().err
