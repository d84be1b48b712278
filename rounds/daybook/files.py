"""The files of a book: what belongs to it, what leaves with it, and what is only kept to save
time."""

from __future__ import annotations

import contextlib
import os
import stat
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

import msgspec

from rounds.daybook import lines
from rounds.daybook.checkpoint import is_checkpoint
from rounds.daybook.safe_files import NO_FILE, NOT_FOLLOWED, is_plain, open_plain

MAX_PARTS = 64  # folders deep; a zip file that is deeper is not believed
MAX_SIGNS = 1_000  # of a whole path


NO_ZIP = "has a name that no zip file may hold; give it a shorter or plainer one"


class ForeignFile(msgspec.Struct, frozen=True, order=True):
    """Something in a book's folder that is no file of it, and why."""

    path: PurePosixPath
    why: str

    def __str__(self) -> str:
        return f"{self.path}: {self.why}"


def files_of(folder: Path) -> tuple[list[PurePosixPath], list[ForeignFile]]:
    """Every regular file of a book by its path below it, however deep, and apart from these what
    else is there.

    Checkpoints and hidden files (a synchroniser's own, a write that was broken off) are no part of
    it.

    Raises:
        OSError: the folder cannot be read.
    """
    pure_posix_paths: list[PurePosixPath] = []
    left: list[ForeignFile] = []
    waiting = [PurePosixPath()]
    while waiting:
        below = waiting.pop()
        try:
            there = _things(folder, below)
        except OSError as trouble:
            if not below.parts:
                raise
            left.append(ForeignFile(below, f"cannot be read: {trouble.strerror or trouble}"))
            continue
        for path, mode in there:
            if stat.S_ISDIR(mode):
                waiting.append(path)
            elif len(path.parts) == 1 and is_checkpoint(Path(path.name)):
                continue
            elif stat.S_ISLNK(mode):
                left.append(ForeignFile(path, NOT_FOLLOWED))
            elif not stat.S_ISREG(mode):
                left.append(ForeignFile(path, NO_FILE))
            elif not is_safe(str(path)):
                left.append(ForeignFile(path, NO_ZIP))
            else:
                pure_posix_paths.append(path)
    return sorted(pure_posix_paths), sorted(left)


def _things(folder: Path, below: PurePosixPath) -> list[tuple[PurePosixPath, int]]:
    """What is in a folder and is not hidden, with its mode; what vanishes meanwhile is not
    there."""
    found = []
    with os.scandir(folder / below) as things:
        for one in things:
            with contextlib.suppress(FileNotFoundError):
                if not one.name.startswith("."):
                    found.append((below / one.name, one.stat(follow_symlinks=False).st_mode))
    return found


def holds_book(folder: Path) -> bool:
    """Whether there is a book in a folder: files of entries, as many or few as can be read, or what
    was made of them.

    Raises:
        OSError: the folder cannot be read.
    """
    with os.scandir(folder) as things:
        return any(
            dir_entry.name.startswith("entries-")
            or is_checkpoint(path)
            or (is_plain(path) and lines.is_entry_file(path))
            for dir_entry in things
            if not dir_entry.is_dir(follow_symlinks=False) and (path := Path(dir_entry.path))
        )


def books_in(folder: Path) -> list[Path]:
    """The folders of a folder that hold a book, hidden ones aside; what cannot be read holds
    none."""
    paths = []
    for below in sorted(folder.iterdir()):
        with contextlib.suppress(OSError):
            is_folder = below.is_dir() and not below.is_symlink()
            if is_folder and not below.name.startswith(".") and holds_book(below):
                paths.append(below)
    return paths


def is_safe(name: str) -> bool:
    """Whether a path stays below the folder that it is put in, on every platform."""
    parts = name.split("/")
    return (
        0 < len(name) <= MAX_SIGNS
        and all(
            part not in ("", ".", "..") and len(part.encode("utf-8", "surrogatepass")) <= 200
            for part in parts
        )
        and not any(sign in name for sign in "\\:")
        and name.isprintable()
        and len(parts) <= MAX_PARTS
    )


def leftovers(folder: Path) -> list[str]:
    """Hidden files of writes that were broken off; they may be deleted."""
    texts = []
    for around, folders, names in os.walk(folder):
        folders[:] = [name for name in folders if not name.startswith(".")]
        texts += [
            name
            for name in names
            if name.startswith(".") and name.endswith(".part") and is_plain(Path(around, name))
        ]
    return sorted(texts)


def is_entry_file(folder: Path, path: PurePosixPath) -> bool:
    """Whether a file of a book, by its path below it, holds entries."""
    return len(path.parts) == 1 and lines.is_entry_file(folder / path)


def digest_of(path: Path) -> str:
    """A digest of a file's whole content.

    Raises:
        OSError: it cannot be read, or is none.
    """
    import hashlib  # no start asks, and it loads OpenSSL

    result = hashlib.sha256()
    with open_plain(path) as file:
        while block := file.read(1 << 20):
            result.update(block)
    return result.hexdigest()


def readable_by_others(folder: Path) -> Iterator[tuple[str, int]]:
    """The files and folders of a book that others may read or change, with their mode; the book
    itself is ''."""
    whole = stat.S_IMODE(folder.stat().st_mode)
    if whole & 0o077:
        yield "", whole
    waiting = [PurePosixPath()]
    while waiting:
        with contextlib.suppress(OSError):  # told among what is left
            for path, mode in _things(folder, waiting.pop()):
                if stat.S_ISDIR(mode):
                    waiting.append(path)
                if mode & 0o077 and (stat.S_ISREG(mode) or stat.S_ISDIR(mode)):
                    yield str(path), stat.S_IMODE(mode)
