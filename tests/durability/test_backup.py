"""A backup holds the book byte by byte, and no zip file writes anywhere but where it is unpacked."""

from __future__ import annotations

import stat
import zipfile
from pathlib import Path

import pytest

from rounds.daybook import Daybook
from rounds.daybook.files import is_safe
from rounds.exchange.atomic_file import ExportRefused
from rounds.exchange.backup import unpacked, write_backup
from rounds.exchange.merge import merge
from tests.benchmarks.long_book import write_book
from tests.durability.books import bench_of, content, desk_at, plain


def quiet(done: int, whole: int) -> None:
    """Nobody asks how far it is."""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book with a photo, a logger's series, a damaged line and a torn end."""
    folder = tmp_path / "book"
    write_book(folder, 2_500, 8)
    (folder / "photos").mkdir(mode=0o700)
    (folder / "photos" / "K7 20 May.jpg").write_bytes(bytes(range(256)) * 40)
    (folder / "series").mkdir(mode=0o700)
    (folder / "series" / "B-1.csv").write_text("at,c\n2026-05-20T07:00:00+02:00,21.5\n")
    with min(folder.glob("entries-*.jsonl")).open("ab") as file:
        file.write(b"\xff\0 broken\n{torn")
    return folder


def test_it_restores_to_the_same_bytes_and_the_same_bench(book: Path, tmp_path: Path) -> None:
    target = tmp_path / "kept.zip"
    told: list[tuple[int, int]] = []
    desk = desk_at(book)  # its checkpoint is no part of the backup
    before = content(book)

    done = write_backup(book, target, replace=False, progress=lambda *one: told.append(one))

    assert done.files == len(before)
    assert told[-1][0] == told[-1][1] == 2 * done.bytes
    assert stat.S_IMODE(target.stat().st_mode) == 0o600
    with unpacked(target) as other:
        merge(Daybook.open(tmp_path / "new", "cccc3333"), other, quiet)
    assert content(tmp_path / "new") == before
    assert plain(desk_at(tmp_path / "new", "cccc3333")) == plain(desk) == bench_of(book)
    assert {
        stat.S_IMODE(path.stat().st_mode)
        for path in (tmp_path / "new").rglob("*")
        if path.is_file()
    } == {0o600}
    assert {
        stat.S_IMODE(path.stat().st_mode) for path in (tmp_path / "new").rglob("*") if path.is_dir()
    } == {0o700}


def test_any_unpacker_reads_it(book: Path, tmp_path: Path) -> None:
    write_backup(book, tmp_path / "kept.zip", replace=False, progress=quiet)

    with zipfile.ZipFile(tmp_path / "kept.zip") as archive:
        archive.extractall(tmp_path / "plain")

    assert content(tmp_path / "plain") == content(book)


@pytest.mark.parametrize("name", ["kept.tar", "book/kept.zip", "none/kept.zip"])
def test_a_wrong_place_is_refused(book: Path, tmp_path: Path, name: str) -> None:
    with pytest.raises(ExportRefused):
        write_backup(book, tmp_path / name, replace=True, progress=quiet)


def test_a_file_that_is_there_stays_unless_it_may_be_replaced(book: Path, tmp_path: Path) -> None:
    target = tmp_path / "kept.zip"
    target.write_text("old")
    with pytest.raises(ExportRefused, match="--replace"):
        write_backup(book, target, replace=False, progress=quiet)
    assert target.read_text() == "old"

    def stop(done: int, whole: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        write_backup(book, target, replace=True, progress=stop)
    assert target.read_text() == "old"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["book", "kept.zip"]

    write_backup(book, target, replace=True, progress=quiet)
    assert zipfile.is_zipfile(target)


def test_a_link_out_of_the_book_is_left_out_and_told(book: Path, tmp_path: Path) -> None:
    (tmp_path / "secret").write_text("not of the book")
    (book / "photos" / "link.jpg").symlink_to(tmp_path / "secret")
    (book / "elsewhere").symlink_to(tmp_path)

    done = write_backup(book, tmp_path / "kept.zip", replace=False, progress=quiet)

    assert [str(one.path) for one in done.left] == ["elsewhere", "photos/link.jpg"]
    with zipfile.ZipFile(tmp_path / "kept.zip") as archive:
        assert not any("link" in name or "secret" in name for name in archive.namelist())


def test_no_book_no_backup(tmp_path: Path) -> None:
    with pytest.raises(ExportRefused, match="there is no book"):
        write_backup(tmp_path / "none", tmp_path / "kept.zip", replace=False, progress=quiet)


EVIL = [
    "../evil.jsonl",
    "/evil.jsonl",
    "photos/../../evil",
    "photos\\..\\evil",
    "C:evil",
    "photos//evil",
    "./evil",
    "/".join(["deep"] * 64 + ["evil"]),
    "photos/\x1b[31mevil",
    "x" * 300,
]


@pytest.mark.parametrize("name", EVIL)
def test_no_member_leaves_the_folder(tmp_path: Path, name: str) -> None:
    path = tmp_path / "evil.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("entries-aaaa1111-2026-05.jsonl", "")
        archive.writestr(zipfile.ZipInfo(name), "evil")

    with pytest.raises(ExportRefused, match="nothing was taken in"), unpacked(path):
        pass

    assert [one.name for one in tmp_path.iterdir()] == ["evil.zip"]
    assert not is_safe(name)


def test_a_member_that_is_a_link_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "evil.zip"
    link = zipfile.ZipInfo("photos")
    link.external_attr = (stat.S_IFLNK | 0o777) << 16
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr(link, str(tmp_path))
        archive.writestr("photos/evil", "evil")

    with pytest.raises(ExportRefused, match="is a link"), unpacked(path):
        pass


def test_two_members_of_one_name_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "evil.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("photos/a.jpg", "one")
        archive.writestr("photos/A.jpg", "other")

    with pytest.raises(ExportRefused, match="one name"), unpacked(path):
        pass


def test_a_damaged_zip_file_is_refused(book: Path, tmp_path: Path) -> None:
    target = tmp_path / "kept.zip"
    write_backup(book, target, replace=False, progress=quiet)
    good = target.read_bytes()
    for bad in (
        good[: len(good) // 2],
        good[:300] + b"\0" * 200 + good[500:],
        b"",
        b"PK\3\4" + b"x" * 90,
    ):
        target.write_bytes(bad)
        with pytest.raises(ExportRefused, match="is no backup, or is damaged"), unpacked(target):
            pass
