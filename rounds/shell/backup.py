"""``rounds backup``: the whole book in one zip file."""

from __future__ import annotations

import argparse
from pathlib import Path

from rounds.bench.plurals import count
from rounds.exchange.atomic_file import ExportRefused
from rounds.exchange.backup import write_backup
from rounds.shell.open_book import PercentDone, book_of
from rounds.shell.terminal import refused, say


def backup(options: argparse.Namespace) -> int:
    """Write the backup; 1 where it was refused."""
    target = Path(options.file).expanduser()
    try:
        progress = PercentDone("writing the backup")
        done = write_backup(book_of(options), target, replace=options.replace, progress=progress)
    except ExportRefused as trouble:
        return refused(str(trouble))
    say(f"left out: {foreign_file}" for foreign_file in done.left)
    written = f"{count(done.files, 'file')}, {count(done.bytes, 'byte')}, written to {target}"
    say([f"{written} and read back"])
    return 0
