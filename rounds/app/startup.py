"""Opening a book: where it lies, who keeps it, what time it is."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from datetime import datetime, tzinfo
from pathlib import Path

from rounds.app.clock import system_clock
from rounds.app.desk import Desk
from rounds.bench.zones import zone_named
from rounds.daybook import Daybook, Progress
from rounds.daybook.files import books_in, holds_book


def local_zone(environment: Mapping[str, str]) -> tzinfo:
    """This machine's time zone."""
    named = zone_named(environment.get("TZ", "").lstrip(":"))
    if named:
        return named
    linked = os.path.realpath("/etc/localtime").partition("zoneinfo/")[2]
    found = zone_named(linked)
    if found:
        return found
    # only where the system does not name its zone: it costs more to load than a command takes
    import pendulum

    return pendulum.tz.get_local_timezone()


def open_desk(
    folder: Path,
    *,
    keeper: str = "",
    environment: Mapping[str, str] | None = None,
    clock: Callable[[], datetime] = system_clock,
    zone: tzinfo | None = None,
    may_begin: bool = True,
    progress: Progress | None = None,
    looks_back: bool = True,
    tells_checks: bool = True,
) -> Desk:
    """A desk at the book in that folder; a new book is begun only where that may be.

    Raises:
        OSError: the folder cannot be made or read, or there is no book in it and none may be begun.
    """
    environment = os.environ if environment is None else environment
    _refuse_no_folder(folder)
    if not may_begin:
        refuse_no_book(folder)
    return Desk(
        Daybook.open(folder),
        clock=clock,
        entropy=os.urandom,
        zone=zone or local_zone(environment),
        keeper=keeper or environment.get("ROUNDS_KEEPER", ""),
        progress=progress,
        looks_back=looks_back,
        tells_checks=tells_checks,
    )


def _refuse_no_folder(folder: Path) -> None:
    if os.path.lexists(folder) and not folder.is_dir():
        raise NotADirectoryError(f"{folder} is no folder; a book is a folder, name it with --book")


def refuse_no_book(folder: Path) -> None:
    """Refuse a folder that holds no book.

    Raises:
        OSError: in words, that there is none in it, and where there is one.
    """
    _refuse_no_folder(folder)
    if not (folder.is_dir() and (holds_book(folder) or Daybook.open(folder).fewer() > 0)):
        raise FileNotFoundError(f"there is no book in {folder}; {_where_else(folder)}")


def _where_else(folder: Path) -> str:
    """What to name instead of a folder that holds no book: one below it, if there is one."""
    below = books_in(folder) if folder.is_dir() else []
    if not below:
        return "name its folder with --book, or begin one with 'rounds begin'"
    more = f" and {len(below) - 1} more below" if len(below) > 1 else ""
    return f"there is one in {below[0]}{more}: name it with --book"
