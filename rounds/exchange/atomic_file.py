"""Writing a file beside the one it is to be, and putting it in place only when it is whole."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from rounds.daybook.safe_files import flush_folder
from rounds.daybook.systems import NEW


class ExportRefused(Exception):
    """An export that cannot be made; the text is one line that says why and what would be right."""


def chosen(typed: str, known: Sequence[str], what: str) -> str:
    """Which of the known names is meant, in any case of letters.

    Args:
        what: what has such a name, as ``brood is called``.

    Raises:
        Refused: none; all names are told.
    """
    if typed in known:
        return typed
    alike = [name for name in known if name.casefold() == typed.strip().casefold()]
    if len(alike) == 1:
        return alike[0]
    raise ExportRefused(f"no {what} {typed}; there are: {', '.join(known) or 'none yet'}")


def refuse_place(path: Path, book: Path, *, replace: bool) -> None:
    """Refuse a place where no export may go.

    Raises:
        Refused: there is a file and it is not to be replaced, there is no such folder, or it is the
            book's own.
    """
    folder = path.parent
    if not folder.is_dir():
        raise ExportRefused(f"there is no folder {folder}; make it first")
    if path.is_dir():
        raise ExportRefused(f"{path} is a folder; give a file name")
    here, home = folder.resolve(), book.resolve()
    if here == home or home in here.parents:
        raise ExportRefused(f"{path} lies in the book itself; give a place outside it")
    if os.path.lexists(path) and not replace:
        raise ExportRefused(
            f"{path} is there already; --replace takes its place, or give another name"
        )


@contextmanager
def beside(path: Path, *, replace: bool) -> Iterator[BinaryIO]:
    """An open file that takes its place only when it was written whole; until then an old one stays
    as it is.

    The file is its owner's alone (0600), for what leaves the bench may name places of scarce
    species.

    Raises:
        Refused: a file came to be there meanwhile and it is not to be replaced.
        OSError: it cannot be written; nothing is left of it.
    """
    part = path.with_name(f".{path.name[:100]}.{os.urandom(4).hex()}.part")
    try:
        descriptor = os.open(part, os.O_RDWR | NEW, 0o600)
    except OSError as trouble:
        trouble.filename = str(path)  # the keeper's name for it, not ours
        raise
    try:
        with os.fdopen(descriptor, "w+b") as file:
            yield file
            file.flush()
            os.fsync(file.fileno())
        _put_in_place(part, path, replace=replace)
    except BaseException as trouble:
        with contextlib.suppress(OSError):
            part.unlink()
        if isinstance(trouble, OSError):
            trouble.filename = str(path)
        raise


def _put_in_place(part: Path, path: Path, *, replace: bool) -> None:
    if not replace and os.path.lexists(path):
        raise ExportRefused(
            f"{path} came to be there meanwhile; --replace takes its place, or give another name"
        )
    part.replace(path)
    flush_folder(path.parent)
