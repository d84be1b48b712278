"""A backup: the whole book in one zip file, each of its files byte by byte."""

from __future__ import annotations

import shutil
import stat
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path, PurePosixPath
from tempfile import TemporaryDirectory
from typing import IO

from msgspec import Struct

from rounds.daybook import Progress
from rounds.daybook.files import ForeignFile, books_in, files_of, holds_book, is_entry_file, is_safe
from rounds.daybook.safe_files import open_plain
from rounds.exchange.atomic_file import ExportRefused, beside, refuse_place

BLOCK = 1 << 20
# No file of a book is packed so tightly: a month of lines that are all alike to a hundredth of it.
MOST_PACKED, LEAST_BOMB = 200, 1 << 20
EARLIEST = (1980, 1, 1, 0, 0, 0)  # a zip file knows no year before
LATEST = (2107, 12, 31, 23, 59, 58)


class BackedUp(Struct, frozen=True):
    """What went into a backup."""

    files: int
    bytes: int
    left: tuple[ForeignFile, ...]  # left out, and why


def write_backup(book: Path, target: Path, *, replace: bool, progress: Progress) -> BackedUp:
    """Write a book into a zip file, read it back, and only then put it in its place.

    What is written to the book meanwhile may be in the backup or not; what was said before is in
    it.

    Raises:
        Refused: the place is taken or wrong, or there is no book.
        OSError: a file cannot be read or written; what was there before is whole.
    """
    refuse_place(target, book, replace=replace)
    if target.suffix.lower() != ".zip":
        raise ExportRefused(f"{target.name} must end in .zip")
    files, left = files_of(book) if book.is_dir() else ([], [])
    if not any(is_entry_file(book, path) for path in files):
        raise ExportRefused(f"there is no book in {book}")
    whole = 2 * sum((book / path).stat().st_size for path in files)
    done = 0
    with beside(target, replace=replace) as out:
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=5) as archive:
            for path in files:
                for length in _put(archive, book / path, str(path)):
                    done += length
                    progress(done, whole)
        with zipfile.ZipFile(out) as archive:
            for member in archive.infolist():
                for length in _read_back(archive, member):
                    done += length
                    progress(done, whole)
    return BackedUp(len(files), done // 2, tuple(left))


def _put(archive: zipfile.ZipFile, path: Path, name: str) -> Iterator[int]:
    about = path.stat()
    member = zipfile.ZipInfo(name, min(LATEST, max(EARLIEST, _time(about.st_mtime))))
    member.external_attr = (stat.S_IFREG | 0o600) << 16
    member.compress_type = zipfile.ZIP_DEFLATED
    with (
        _open(path, name) as source,
        archive.open(member, "w", force_zip64=about.st_size > 1 << 30) as into,
    ):
        while block := _read(source, name):
            into.write(block)
            yield len(block)


def _open(path: Path, name: str) -> IO[bytes]:
    try:
        return open_plain(path)
    except OSError as trouble:
        raise _unread(name, trouble) from trouble


def _read(source: IO[bytes], name: str) -> bytes:
    try:
        return source.read(BLOCK)
    except OSError as trouble:
        raise _unread(name, trouble) from trouble


def _unread(name: str, trouble: OSError) -> OSError:
    words = (
        f"{name} in the book cannot be read ({trouble.strerror or trouble}); mend that, or take it"
        " out of the book"
    )
    return OSError(trouble.errno, f"{words}; no backup was written")


def _time(mtime: float) -> tuple[int, int, int, int, int, int]:
    try:
        at = datetime.fromtimestamp(mtime)
    except (OverflowError, ValueError, OSError):
        return EARLIEST
    return at.year, at.month, at.day, at.hour, at.minute, at.second


def _read_back(archive: zipfile.ZipFile, member: zipfile.ZipInfo) -> Iterator[int]:
    """Read a member to its end, so that its sum is checked."""
    try:
        with archive.open(member) as file:
            while block := file.read(BLOCK):
                yield len(block)
    except (zipfile.BadZipFile, zlib.error) as trouble:
        raise OSError(f"the backup does not read back: {trouble}") from trouble


@contextmanager
def unpacked(path: Path) -> Iterator[Path]:
    """The folder of a book: itself, or that of a backup unpacked for as long as it is needed.

    Raises:
        Refused: there is no book there, or the zip file is damaged or would write outside its
            folder.
    """
    if path.is_dir():
        yield path
        return
    if not path.exists():
        raise ExportRefused(f"there is nothing at {path}")
    if not path.is_file():
        raise ExportRefused(f"{path} is no folder and no file; give a book's folder or a backup")
    with TemporaryDirectory(prefix="rounds-") as name:
        folder = Path(name)
        try:
            with zipfile.ZipFile(path) as archive:
                _unpack(archive, folder, path.name)
        except (
            zipfile.BadZipFile,
            zlib.error,
            EOFError,
            NotImplementedError,
            RuntimeError,
            UnicodeError,
        ) as trouble:
            raise ExportRefused(f"{path.name} is no backup, or is damaged: {trouble}") from trouble
        yield _book_in(folder, path.name)


def _book_in(folder: Path, name: str) -> Path:
    """Where in what a zip file held the book is: at its top, or in the one folder that holds
    one."""
    if holds_book(folder):
        return folder
    if not any(folder.iterdir()):
        raise ExportRefused(f"{name} is an empty zip file; give one that 'rounds backup' wrote")
    books = books_in(folder)
    if not books:
        raise ExportRefused(
            f"there is no book in {name}; give a zip file that 'rounds backup' wrote, or of a"
            " book's folder"
        )
    if len(books) > 1:
        raise ExportRefused(
            f"there are several books in {name} ({', '.join(path.name for path in books)}); unpack"
            " it and merge each"
        )
    return books[0]


def _unpack(archive: zipfile.ZipFile, folder: Path, zip_name: str) -> None:
    members = [zip_info for zip_info in archive.infolist() if not zip_info.is_dir()]
    for member in members:
        _refuse_member(member, zip_name)
    if len({member.filename.casefold() for member in members}) < len(members):
        raise ExportRefused(f"two files in {zip_name} have one name; nothing was taken in")
    for member in members:
        if member.file_size > LEAST_BOMB + MOST_PACKED * member.compress_size:
            raise ExportRefused(
                f"{member.filename} in {zip_name} would unpack from {member.compress_size:,} to"
                f" {member.file_size:,} bytes, as no file of a book does; nothing was taken in"
            )
    needed, free = sum(member.file_size for member in members), shutil.disk_usage(folder).free
    if needed > free:
        raise ExportRefused(f"{zip_name} holds {needed:,} bytes; there is room for {free:,}")
    for member in members:
        target = folder.joinpath(*PurePosixPath(member.filename).parts)
        target.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        with archive.open(member) as source, target.open("xb") as into:
            _copy(source, into, member.file_size)
        target.chmod(0o600)


def _copy(source: IO[bytes], into: IO[bytes], most: int) -> None:
    """Copy no more than was announced."""
    left = most
    while block := source.read(min(BLOCK, left + 1)):
        left -= len(block)
        if left < 0:
            raise zipfile.BadZipFile("a file in it is longer than it says")
        into.write(block)


def _refuse_member(member: zipfile.ZipInfo, zip_name: str) -> None:
    name = member.filename
    kind = stat.S_IFMT(member.external_attr >> 16)
    if kind not in (0, stat.S_IFREG):
        raise ExportRefused(f"{name} in {zip_name} is a link or no file; nothing was taken in")
    if not is_safe(name):
        raise ExportRefused(
            f"{name} in {zip_name} would lie outside the book; nothing was taken in"
        )
    if member.flag_bits & 1:
        raise ExportRefused(f"{name} in {zip_name} is locked with a password; unlock it first")
