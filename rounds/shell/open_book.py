"""Opening a book for a command: on the terminal it says how far it is read, and what of it cannot
be read."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from rounds.app import startup
from rounds.app.book_folder import book_folder
from rounds.app.desk import Desk
from rounds.views.gaps import gap_lines
from rounds.views.words import literal

if TYPE_CHECKING:
    import argparse

STANDARD_OUTPUT = "-"  # in the place of a file


def open_desk(
    folder: Path,
    *,
    keeper: str = "",
    may_begin: bool = True,
    looks_back: bool = True,
    tells_checks: bool = True,
) -> Desk:
    """A desk at the book in that folder, as ``startup.open_desk`` opens it."""
    return startup.open_desk(
        folder,
        keeper=keeper,
        may_begin=may_begin,
        progress=PercentDone("reading the book"),
        looks_back=looks_back,
        tells_checks=tells_checks,
    )


def book_of(options: argparse.Namespace) -> Path:
    """The folder of the book that a command names, or of the usual one."""
    return book_folder(options.book, os.environ)


def desk_of(
    options: argparse.Namespace,
    *,
    may_begin: bool = True,
    looks_back: bool = True,
    tells_checks: bool = True,
) -> Desk:
    """A desk at the book that a command names, for the keeper whom it names."""
    return open_desk(
        book_of(options),
        keeper=options.by,
        may_begin=may_begin,
        looks_back=looks_back,
        tells_checks=tells_checks,
    )


class PercentDone:
    """Says on the terminal how far some long work is, whole percents only; elsewhere it says
    nothing."""

    def __init__(self, what: str) -> None:
        self._what = what
        self._said = -1

    def __call__(self, done: int, whole: int) -> None:
        """So many bytes are done, of so many."""
        percent = 100 * done // max(1, whole)
        if percent != self._said and sys.stderr.isatty():
            end = "\n" if done >= whole else ""
            print(f"\r{self._what}: {percent} %", end=end, file=sys.stderr, flush=True)
        self._said = percent


def in_words(trouble: OSError) -> str:
    """Why something could not be opened, and what."""
    name = f": {trouble.filename}" if trouble.filename else ""
    return f"{trouble.strerror or trouble}{name}"


def tell_gaps(desk: Desk, out: TextIO | None = None) -> bool:
    """Say before all else that the book cannot be read to its end, True where it is so; and on
    standard error that lines do not fit, or what two laptops apart said otherwise.

    Args:
        out: where to say that the book cannot be read; standard error where it is not given.
    """
    book = desk.book
    for one in filter(None, (book.instead, desk.reading.brought_back, book.cannot_remember)):
        print(f"rounds: {literal(one)}", file=sys.stderr, flush=True)
    texts = gap_lines(desk.gaps)
    for one in filter(None, (*texts, desk.clock.zone_not_known)):
        print(one, file=out or sys.stderr, flush=True)
    if misfits := desk.reckoning.misfits:
        print(misfits, file=sys.stderr, flush=True)
    return bool(texts)
