"""``rounds backup``: the whole book in one zip file."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from rounds.app.book_folder import book_folder
from rounds.bench.plurals import count
from rounds.exchange.atomic_file import ExportRefused
from rounds.exchange.backup import write_backup
from rounds.shell.open_book import PercentDone
from rounds.views.words import literal


def backup(options: argparse.Namespace) -> int:
    """Write the backup; 1 where it was refused."""
    target = Path(options.file).expanduser()
    try:
        done = write_backup(
            book_folder(options.book, os.environ),
            target,
            replace=options.replace,
            progress=PercentDone("writing the backup"),
        )
    except ExportRefused as refused:
        print(f"rounds: {literal(str(refused))}", file=sys.stderr)
        return 1
    for foreign_file in done.left:
        print(literal(f"left out: {foreign_file}"))
    print(
        literal(
            f"{count(done.files, 'file')}, {count(done.bytes, 'byte')}, written to {target} and"
            " read back"
        )
    )
    return 0
