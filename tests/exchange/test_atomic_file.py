"""A file takes its place only when it is whole; what was there stays until then."""

from __future__ import annotations

import errno
import os
import stat
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from rounds.exchange.atomic_file import ExportRefused, beside, refuse_place
from rounds.shell.main import main
from tests.exchange.conftest import Told


def test_a_whole_file_takes_its_place_and_is_its_owners_alone(tmp_path: Path) -> None:
    path = tmp_path / "out.csv"
    with beside(path, replace=False) as file:
        file.write(b"whole")

    assert path.read_bytes() == b"whole"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert os.listdir(tmp_path) == ["out.csv"]


@pytest.mark.parametrize(
    "trouble", [OSError(errno.ENOSPC, "full"), KeyboardInterrupt(), ValueError("wrong")]
)
def test_a_failed_export_leaves_the_old_file_whole_and_nothing_beside_it(
    tmp_path: Path, trouble: BaseException
) -> None:
    path = tmp_path / "out.csv"
    path.write_bytes(b"old")

    def fails() -> None:
        with beside(path, replace=True) as file:
            file.write(b"half")
            raise trouble

    with pytest.raises(type(trouble)):
        fails()

    assert path.read_bytes() == b"old"
    assert os.listdir(tmp_path) == ["out.csv"]


@pytest.mark.parametrize("failing", ["fsync", "replace"])
def test_a_disk_that_fails_at_the_end_leaves_the_old_file_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, failing: str
) -> None:
    path = tmp_path / "out.csv"
    path.write_bytes(b"old")

    def fails(*arguments: object) -> None:
        raise OSError(errno.EIO, "disk failed")

    monkeypatch.setattr(*((os, "fsync", fails) if failing == "fsync" else (Path, "replace", fails)))
    with pytest.raises(OSError, match="disk failed"), beside(path, replace=True) as file:
        file.write(b"new")

    assert path.read_bytes() == b"old"
    assert os.listdir(tmp_path) == ["out.csv"]


def test_a_file_that_came_to_be_there_meanwhile_is_kept(tmp_path: Path) -> None:
    path = tmp_path / "out.csv"

    def meets_another() -> None:
        with beside(path, replace=False) as file:
            file.write(b"new")
            path.write_bytes(b"another's")

    with pytest.raises(ExportRefused, match="meanwhile"):
        meets_another()

    assert path.read_bytes() == b"another's"


def test_places_where_no_export_may_go(tmp_path: Path) -> None:
    book = tmp_path / "book"
    (book / "photos").mkdir(parents=True)
    (tmp_path / "there.csv").write_text("old")

    for path, why in {
        tmp_path / "no" / "out.csv": "no folder",
        book: "is a folder",
        book / "entries-aaaa-2026-05.jsonl": "in the book itself",
        book / "photos" / "out.csv": "in the book itself",
        tmp_path / "there.csv": "--replace",
    }.items():
        with pytest.raises(ExportRefused, match=why):
            refuse_place(path, book, replace=False)
    with pytest.raises(ExportRefused, match="in the book itself"):
        refuse_place(book / "entries-aaaa-2026-05.jsonl", book, replace=True)
    refuse_place(tmp_path / "there.csv", book, replace=True)


def test_the_command_refuses_to_overwrite_without_being_told(
    told: Told, export: Callable[..., Path], capsys: pytest.CaptureFixture[str]
) -> None:
    told.log("L2 set up laying")
    path = export("csv", "all.csv")
    before = path.read_bytes()
    told.log("L2 note more")

    export("csv", "all.csv", status=1)
    assert "--replace takes its place" in capsys.readouterr().err
    assert path.read_bytes() == before
    export("csv", "all.csv", "--replace")
    assert path.read_bytes() != before


def test_a_name_that_ends_otherwise_is_refused(
    told: Told, export: Callable[..., Path], capsys: pytest.CaptureFixture[str]
) -> None:
    told.log("L2 set up laying")

    export("csv", "all.doc", status=1)

    assert "all.doc does not end in .csv or .zip; give such a name" in capsys.readouterr().err


def test_the_book_named_before_the_command_is_the_one_meant(
    told: Told, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    told.log("L2 set up laying")
    monkeypatch.setenv("ROUNDS_BOOK", str(tmp_path / "another"))

    assert (
        main(["--book", str(told.desk.book.folder), "export", "csv", str(tmp_path / "out.csv")])
        == 0
    )
    assert "entries: 2 rows" in capsys.readouterr().out  # it, and the zone


@pytest.mark.parametrize(
    "verb",
    [["export", "csv", "x.csv"], ["export", "ics", "x.ics"], ["export", "dwca", "x.zip"], ["due"]],
)
def test_no_verb_loads_the_screens_nor_another_exports_library(
    verb: list[str], told: Told, tmp_path: Path
) -> None:
    told.log("L2 set up laying")
    wanted = {"ics": "icalendar"}.get(verb[1] if len(verb) > 1 else "", "")
    code = (
        "import sys, os\n"
        f"os.environ['ROUNDS_BOOK'] = {str(told.desk.book.folder)!r}\n"
        "from rounds.shell.main import main\n"
        f"assert main({verb!r}) == 0\n"
        f"others = {{'textual', 'icalendar', 'segno'}} - {{{wanted!r}}}\n"
        "assert not others & sys.modules.keys(), others & sys.modules.keys()\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, cwd=tmp_path, check=False
    )
    assert done.returncode == 0, done.stderr
