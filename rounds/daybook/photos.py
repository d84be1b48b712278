"""Pictures that belong to a book: copied into its folder, named by code, date and content, readable
by their owner only.

The beginning of the content's digest is in the name, so that two machines that share a book never
give one name to two pictures.
"""

from __future__ import annotations

import contextlib
import os
import re
import stat
from pathlib import Path
from typing import NamedTuple

from rounds import late
from rounds.daybook.safe_files import flush_folder, make_below
from rounds.daybook.systems import NEW

FOLDER = "photos"
PICTURES = frozenset(
    {".jpg", ".jpeg", ".png", ".heic", ".heif", ".webp", ".tif", ".tiff", ".gif", ".bmp", ".dng"}
)

LONGEST_SIGNATURE = 12
# How files of these kinds begin. Signatures as published: JPEG ITU-T T.81 annex B; PNG W3C (2003)
# 5.2; GIF89a; TIFF 6.0 (DNG is
# TIFF) and BigTIFF; RIFF WebP container; BMP; ISO/IEC 14496-12 'ftyp', which HEIF begins with. From
# memory.
_SIGNATURES = late.pattern(
    rb"\xff\xd8\xff|\x89PNG\r\n\x1a\n|GIF8[79]a|II[*+]\0|MM\0[*+]|RIFF....WEBP|BM|....ftyp",
    re.DOTALL,
)


class NoPicture(ValueError):
    """A file that cannot be taken in as a picture; the text is one line."""


class Picture(NamedTuple):
    """A picture of the book: its name below the book's folder, and the SHA-256 of its content."""

    name: str
    digest: str


def keep(book: Path, source: Path, stem: str) -> Picture:
    """Copy a picture into the book; its name there is as ``photos/K7-20260520-0704-3576c2f9.jpg``.

    Raises:
        NoPicture: it is no picture file by its name or its first bytes, it is empty, or there is
            none.
        OSError: it cannot be read, or the copy cannot be written; nothing is left of it then.
    """
    if source.suffix.lower() not in PICTURES:
        raise NoPicture(
            f"{source.name} is no picture; it can be"
            f" {', '.join(sorted(one[1:] for one in PICTURES))}"
        )
    try:
        about = source.stat()
    except FileNotFoundError:
        raise NoPicture(f"there is no picture at {source}") from None
    if not stat.S_ISREG(about.st_mode):
        raise NoPicture(f"{source} is no file")
    folder = make_below(book, FOLDER)
    clean = re.sub(r"[^A-Za-z0-9+-]+", "-", stem).strip("-") or "photo"
    part = folder / f".{clean}.{os.urandom(4).hex()}.part"
    try:
        digest = _copy(source, part)
        name = _free_name(folder, f"{clean}-{digest[:8]}", source.suffix.lower())
        os.replace(part, folder / name)
    except BaseException:
        drop(folder, part.name)
        raise
    flush_folder(folder)
    return Picture(f"{FOLDER}/{name}", digest)


def _free_name(folder: Path, stem: str, ending: str) -> str:
    for position in range(1, 10_000):
        name = f"{stem}{f'-{position}' if position > 1 else ''}{ending}"
        if not os.path.lexists(folder / name):
            return name
    raise NoPicture(f"there are too many pictures called {stem}")


def _copy(source: Path, part: Path) -> str:
    """Write a hidden file of its own, flushed to disk; whoever is killed in it leaves no picture.

    The content's digest.
    """
    import hashlib  # no start asks, and it loads OpenSSL

    result, size = hashlib.sha256(), 0
    with os.fdopen(os.open(part, os.O_WRONLY | NEW, 0o600), "wb") as into, source.open("rb") as out:
        begins = out.read(LONGEST_SIGNATURE)
        if begins and not _SIGNATURES.match(begins):
            raise NoPicture(
                f"{source.name} is called a picture and does not begin like one; copy it from the"
                " camera again"
            )
        out.seek(0)
        while block := out.read(1 << 20):
            size += into.write(block)
            result.update(block)
        into.flush()
        os.fsync(into.fileno())
    if not size:
        raise NoPicture(f"{source.name} is empty; copy it from the camera again")
    return result.hexdigest()


def drop(book: Path, name: str) -> None:
    """Take a copy away that no entry came to name."""
    with contextlib.suppress(OSError):
        (book / name).unlink()


def newest_in(folder: Path) -> Path | None:
    """The picture that was changed last in a folder; None where there is none."""
    found = [
        (path.stat().st_mtime, path)
        for path in folder.iterdir()
        if path.suffix.lower() in PICTURES and path.is_file()
    ]
    return max(found)[1] if found else None


def path_of(book: Path, name: str) -> Path | None:
    """Where a picture of the book lies; None where the name leads out of the book or to nothing."""
    root = book.resolve() / FOLDER
    path = (book / name).resolve()
    return path if path.is_relative_to(root) and path.is_file() else None
