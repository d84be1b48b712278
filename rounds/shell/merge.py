"""``rounds merge``: take in another book, or a backup."""

from __future__ import annotations

import argparse
from pathlib import Path

import msgspec

from rounds.bench.plurals import count
from rounds.daybook import Daybook
from rounds.exchange.atomic_file import ExportRefused
from rounds.exchange.backup import unpacked
from rounds.exchange.merge import MergeReport
from rounds.exchange.merge import merge as take_in
from rounds.shell.open_book import PercentDone, book_of
from rounds.shell.terminal import refused, say
from rounds.views.json_out import as_json

MAX_LINES = 30  # of each sort


def merge(options: argparse.Namespace) -> int:
    """Take the other book in; 1 where it was refused, or something in it was odd."""
    try:
        path = Path(options.other).expanduser()
        with unpacked(path) as other:
            book = Daybook.open(book_of(options))
            behind = book.fewer()
            called = path.name if path.is_file() else options.other
            merged = take_in(book, other, PercentDone("reading"), called)
            if 0 < behind <= merged.lines:
                book.accept()  # what was gone has come back, in other files
    except ExportRefused as trouble:
        return refused(str(trouble))
    if options.json:
        print(as_json("merge", msgspec.to_builtins(merged)))
    else:
        say(told(merged, called))
    return 1 if merged.problems else 0


def told(merged: MergeReport, called: str) -> list[str]:
    """What a merge took in, in words."""
    here = "was here already" if merged.known == 1 else "were here already"
    with_lines = f" with {count(merged.within, 'new line')}" if merged.within else ""
    copied = f"{count(len(merged.files), 'file')} copied{with_lines}"
    lines = [
        f"{called}: {copied}, {count(merged.lines, 'line')} added to files here,"
        f" {count(merged.known, 'file')} {here}"
    ]
    for heading, texts in (
        ("kept beside", merged.beside),
        ("problem", merged.problems),
        ("does not agree now", merged.conflicts),
    ):
        lines += [f"{heading}: {one}" for one in texts[:MAX_LINES]]
        if len(texts) > MAX_LINES:
            lines.append(f"{heading}: {len(texts) - MAX_LINES:,} more; --json shows them all")
    return lines
