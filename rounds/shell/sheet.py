"""``rounds sheet``: the helper's page, as plain text or HTML."""

from __future__ import annotations

import argparse
import os
import sys
from datetime import datetime
from pathlib import Path

from rounds.app.book_folder import book_folder
from rounds.app.desk import Desk
from rounds.checks.away import away
from rounds.entries.phrase.times import read_time
from rounds.shell.open_book import STANDARD_OUTPUT, open_desk, tell_gaps
from rounds.views.sheet import Sheet, before_leaving, sheet_text, sheet_warnings
from rounds.views.sheet import sheet as worded
from rounds.views.words import literal


def sheet(options: argparse.Namespace) -> int:
    """Print the sheet from one time to another; 2 where a time is none or the book cannot be read
    wholly, 1 where they cannot be."""
    folder = book_folder(options.book, os.environ)
    desk = open_desk(folder, keeper=options.by, may_begin=False)
    if not desk.gaps and not desk.bench.containers:
        print(
            f"rounds: nothing stands on a bench in {literal(str(folder))}; name the book's folder"
            " with --book",
            file=sys.stderr,
        )
        return 1
    has_gaps = tell_gaps(desk, sys.stderr if options.html else sys.stdout)
    times = [
        _read(desk, name, text)
        for name, text in (("--from", options.leave), ("--to", options.back))
    ]
    if times[0] is None or times[1] is None:
        return 2
    try:
        plan = away(
            desk.bench,
            desk.moment(),
            max(times[0], desk.now()),
            times[1],
            desk.dues(),
            desk.foresight,
        )
    except ValueError as refused:
        print(f"rounds: {refused}", file=sys.stderr)
        return 1
    told = worded(desk.bench, plan, desk.zone, is_whole=not desk.gaps)
    for warning in (*before_leaving(desk.dues(), plan, desk.zone), *sheet_warnings(told)):
        print(f"rounds: {warning}", file=sys.stderr)
    if options.html:
        return _as_page(desk, told, options) or (2 if has_gaps else 0)
    sys.stdout.writelines(f"{text}\n" for text in sheet_text(told))
    return 2 if has_gaps else 0


def _as_page(desk: Desk, told: Sheet, options: argparse.Namespace) -> int:
    from rounds.exchange.atomic_file import ExportRefused, beside, refuse_place
    from rounds.exchange.sheet_page import sheet_page

    if options.html == STANDARD_OUTPUT:
        sys.stdout.flush()
        sys.stdout.buffer.write(sheet_page(told))
        sys.stdout.buffer.flush()
        return 0
    path = Path(options.html).expanduser()
    try:
        refuse_place(path, desk.book.folder, replace=options.replace)
        with beside(path, replace=options.replace) as file:
            file.write(sheet_page(told))
    except ExportRefused as refused:
        print(f"rounds: {literal(str(refused))}", file=sys.stderr)
        return 1
    print(f"written to {literal(str(path))}")
    return 0


def _read(desk: Desk, name: str, text: str) -> datetime | None:
    if text == "now":
        return desk.now()
    result = read_time(text, now=desk.now(), zone=desk.zone, ahead=True)
    if isinstance(result, datetime):
        return result
    print(f"rounds: {name}: {literal(result.message)}", file=sys.stderr)
    return None
