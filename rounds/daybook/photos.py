"""Pictures that belong to a book: copied into its folder, named by code and date, readable by their owner only."""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import stat
from pathlib import Path

from rounds.daybook.safe_files import flush_folder, make_below
from rounds.daybook.systems import NEW

FOLDER = "photos"
PICTURES = frozenset({".jpg", ".jpeg", ".png", ".heic", ".heif", ".webp", ".tif", ".tiff", ".gif", ".bmp", ".dng"})


class NoPicture(ValueError):
    """A file that cannot be taken in as a picture; the text is one line."""


def keep(book: Path, source: Path, stem: str) -> str:
    """Copy a picture into the book; its name there, as ``photos/K7-20260520-0704.jpg``.

    Raises:
        NoPicture: it is no picture file, or there is none.
        OSError: it cannot be read, or the copy cannot be written; nothing is left of it then.
    """
    if source.suffix.lower() not in PICTURES:
        raise NoPicture(f"{source.name} is no picture; it can be {', '.join(sorted(one[1:] for one in PICTURES))}")
    try:
        if not stat.S_ISREG(source.stat().st_mode):
            raise NoPicture(f"{source} is no file")
    except FileNotFoundError:
        raise NoPicture(f"there is no picture at {source}") from None
    folder = make_below(book, FOLDER)
    clean = re.sub(r"[^A-Za-z0-9+-]+", "-", stem).strip("-") or "photo"
    for place in range(1, 10_000):
        name = f"{clean}{f'-{place}' if place > 1 else ''}{source.suffix.lower()}"
        try:
            _copy(source, folder / name)
            flush_folder(folder)
        except FileExistsError:
            continue
        return f"{FOLDER}/{name}"
    raise NoPicture(f"there are too many pictures called {clean}")


def _copy(source: Path, target: Path) -> None:
    """A new file of its own, flushed to disk; one that could not be written whole is taken away again."""
    handle = os.open(target, os.O_WRONLY | NEW, 0o600)
    try:
        with os.fdopen(handle, "wb") as into, source.open("rb") as out:
            shutil.copyfileobj(out, into)
            into.flush()
            os.fsync(into.fileno())
    except BaseException:
        with contextlib.suppress(OSError):
            target.unlink()
        raise


def drop(book: Path, name: str) -> None:
    """Take a copy away that no entry came to name."""
    with contextlib.suppress(OSError):
        (book / name).unlink()


def newest_in(folder: Path) -> Path | None:
    """The picture that was changed last in a folder; None where there is none."""
    found = [(path.stat().st_mtime, path) for path in folder.iterdir() if path.suffix.lower() in PICTURES and path.is_file()]
    return max(found)[1] if found else None


def path_of(book: Path, name: str) -> Path | None:
    """Where a picture of the book lies; None where the name leads out of the book or to nothing."""
    root = book.resolve() / FOLDER
    path = (book / name).resolve()
    return path if path.is_relative_to(root) and path.is_file() else None
