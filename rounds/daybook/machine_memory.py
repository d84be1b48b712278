"""Where this machine remembers things of a book, outside of it, and whether it can."""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Mapping
from pathlib import Path

from rounds.daybook.digests import blake2b
from rounds.daybook.safe_files import read_plain
from rounds.daybook.systems import NEW

KEPT_IN = "books"
WHICH = ".book"  # the ending of what says which of the books at a path it is about
PROBED = 4096  # bytes that are written to see whether anything can be


def state_folder(environment: Mapping[str, str]) -> Path:
    """The platform's place for what a program remembers of this machine; never inside a
    synchronised book."""
    if environment.get("XDG_STATE_HOME"):
        return Path(environment["XDG_STATE_HOME"]) / "rounds"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "rounds-state"
    if sys.platform == "win32":
        return Path(environment.get("LOCALAPPDATA", str(Path.home()))) / "rounds-state"
    return Path.home() / ".local" / "state" / "rounds"


def remembered_at(book: Path, name: str = "", number: int = 0) -> Path | None:
    """Where this machine remembers things of a book, without an ending; None where that would lie
    in the book itself.

    Args:
        name: a name that the caller gave to the writer; its memory is apart.
        number: of the books that take turns at that path.
    """
    try:
        folder, inside = book.resolve(), (state_folder(os.environ) / KEPT_IN).resolve()
    except (OSError, RuntimeError):
        return None
    if inside.is_relative_to(folder):
        return None
    text = f"{folder}\0{name}" + f"\0{number}" * bool(number)
    key = blake2b(text.encode("utf-8", "surrogatepass"), digest_size=10)
    return inside / key.hexdigest()


def takes_turns(book: Path) -> bool:
    """Whether other books were seen at that path, on disks of their own."""
    second = remembered_at(book, number=1)
    return second is not None and os.path.exists(second.with_suffix(WHICH))


def cannot_remember(beside: Path | None) -> str:
    """Where nothing can be kept of a book on this machine, that it is so and what follows, in
    words; else empty."""
    why = "it would lie in the book itself" if beside is None else _not_written(beside)
    return nothing_remembered(why) if why else _cannot_be_read(beside)


def nothing_remembered(why: str) -> str:
    """What follows where nothing can be kept, in words."""
    return (
        f"nothing of this book can be remembered on this machine ({why}): lines that others take"
        " out of it are not noticed"
    )


def _not_written(beside: Path) -> str:
    """Why nothing can be written there, found out by writing something; else empty."""
    probe = beside.with_name(f".{beside.name}.{os.urandom(4).hex()}.probe")
    try:
        beside.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        descriptor = os.open(probe, os.O_WRONLY | NEW, 0o600)
        try:
            if os.write(descriptor, bytes(PROBED)) < PROBED:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        finally:
            os.close(descriptor)
            probe.unlink()
    except OSError as trouble:
        around = next(path for path in beside.parents if os.path.lexists(path))
        return f"{around} cannot be written: {trouble.strerror or trouble}"
    return ""


def _cannot_be_read(beside: Path | None) -> str:
    """That what was remembered of a book is there and is none of it, in words; else empty."""
    for ending, begins in ((".json", b'{"path"'), (".seen", b"{")) if beside else ():
        assert beside is not None
        path, why = beside.with_suffix(ending), ""
        try:
            data = read_plain(path)
            why = "" if not data or data.startswith(begins) else "it was written by others"
        except FileNotFoundError:
            continue
        except OSError as trouble:
            why = trouble.strerror or str(trouble)
        if why:
            return (
                f"what this machine remembered of this book cannot be read ({path}: {why}): lines"
                " that others took out of it until now are not noticed; move the file away where"
                " this is said again"
            )
    return ""
