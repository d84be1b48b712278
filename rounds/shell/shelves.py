"""``rounds shelves``: the bench as it stands, read out shelf by shelf and cup by cup."""

from __future__ import annotations

import argparse
import os
import sys

from rounds.app.book_folder import book_folder
from rounds.shell.open_book import in_words, open_desk, tell_gaps
from rounds.views.gaps import of_what_is_read
from rounds.views.shelf_map import aloud_lines, shelves_of
from rounds.views.words import literal


def shelves(options: argparse.Namespace) -> int:
    """Print the shelves, a line each and a line a container; status 2 where the book cannot be read
    wholly."""
    try:
        desk = open_desk(book_folder(options.book, os.environ), keeper=options.by, may_begin=False)
    except OSError as trouble:
        print(f"rounds: {literal(in_words(trouble))}", file=sys.stderr)
        return 2
    has_gaps = tell_gaps(desk)
    lines = list(
        aloud_lines(shelves_of(desk.bench, desk.dues(), desk.moment()), short=options.short)
    )
    empty = (
        "All is in order."
        if any(True for _ in desk.bench.standing())
        else "Nothing stands on this bench."
    )
    sys.stdout.writelines(
        f"{text}\n" for text in lines or [of_what_is_read(empty, is_whole=not has_gaps)]
    )
    return 2 if has_gaps else 0
