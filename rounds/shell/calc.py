"""One of the calculations, told in the units of the book that is named, or of the usual one;
without any in metric units."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

from rounds.app.book_folder import book_folder
from rounds.bench.measures import measures_of
from rounds.views.calculations.report import asks_bench, calc

if TYPE_CHECKING:
    from rounds.app.desk import Desk

OPTIONS = ("--book", "--by")  # of every command


def asked(arguments: Sequence[str]) -> tuple[str | None, list[str]] | None:
    """The book that is named and the words behind ``calc``; None where another command is meant."""
    words, book = list(arguments), None
    for option in OPTIONS:
        for position, word in enumerate(words):
            name, equals, value = word.partition("=")
            if name != option or not (equals or words[position + 1 :]):
                continue
            book = (value if equals else words[position + 1]) if option == "--book" else book
            del words[position : position + (1 if equals else 2)]
            break
    return (book, words[1:]) if words and words[0] == "calc" else None


def run(book: str | None, words: Sequence[str]) -> int:
    """Work it out and print it.

    Raises:
        OSError: the book that is named cannot be read, or is none.
    """
    out, err = sys.stdout, sys.stderr
    desk = _desk(book, words)
    if desk is None:
        return calc(words, out=out, err=err)
    measures = measures_of(desk.bench.settings)
    foresight = desk.foresight if any(map(asks_bench, words[:2])) else None
    return calc(words, out=out, err=err, measures=measures, foresight=foresight)


def _desk(book: str | None, words: Sequence[str]) -> Desk | None:
    """The book that is named, or the usual one if there is one; None where it is not asked."""
    if not words:
        return None
    folder = book_folder(book, os.environ)
    if book is None and not folder.is_dir():
        return None
    from rounds.daybook.files import holds_book
    from rounds.shell.open_book import open_desk

    if book is None and not holds_book(folder):
        return None
    return open_desk(folder, may_begin=False)
