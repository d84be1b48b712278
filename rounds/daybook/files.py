"""The files of a book: what belongs to it, what leaves with it, and what is only kept to save time."""

from __future__ import annotations

import hashlib
import os
import stat
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from rounds.daybook import lines
from rounds.daybook.checkpoint import is_checkpoint

MOST_DEPTH = 8


def files_of(folder: Path) -> tuple[list[PurePosixPath], list[PurePosixPath]]:
    """Every regular file of a book by its path below it, and apart from these what is a link and is not followed.

    Checkpoints and hidden files (a synchroniser's own, a write that was broken off) are no part of it.
    """
    found: list[PurePosixPath] = []
    links: list[PurePosixPath] = []
    for path, about in _walked(folder, PurePosixPath(), MOST_DEPTH):
        if stat.S_ISLNK(about.st_mode):
            links.append(path)
        elif stat.S_ISREG(about.st_mode) and not (len(path.parts) == 1 and is_checkpoint(Path(path.name))):
            found.append(path)
    return sorted(found), sorted(links)


def _walked(folder: Path, below: PurePosixPath, depth: int) -> Iterator[tuple[PurePosixPath, os.stat_result]]:
    with os.scandir(folder / below) as things:
        for thing in things:
            if thing.name.startswith("."):
                continue
            path, about = below / thing.name, thing.stat(follow_symlinks=False)
            yield path, about
            if stat.S_ISDIR(about.st_mode) and depth:
                yield from _walked(folder, path, depth - 1)


def leftovers(folder: Path) -> list[str]:
    """Hidden files of writes that were broken off; they may be deleted."""
    return sorted(path.name for path in folder.rglob(".*.part") if path.is_file())


def is_entry_file(folder: Path, path: PurePosixPath) -> bool:
    """Whether a file of a book, by its path below it, holds entries."""
    return len(path.parts) == 1 and lines.is_entry_file(folder / path)


def digest_of(path: Path) -> str:
    """A digest of a file's whole content.

    Raises:
        OSError: it cannot be read.
    """
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def looser_than_private(folder: Path) -> Iterator[tuple[str, int]]:
    """The files and folders of a book that others may read or change, with their mode; the book itself is ''."""
    for path in [PurePosixPath(), *(path for path, about in _walked(folder, PurePosixPath(), MOST_DEPTH) if _real(about))]:
        mode = stat.S_IMODE((folder / path).stat().st_mode)
        if mode & 0o077:
            yield "" if not path.parts else str(path), mode


def _real(about: os.stat_result) -> bool:
    return stat.S_ISREG(about.st_mode) or stat.S_ISDIR(about.st_mode)
