"""``rounds sheet``: the helper's page, as plain text or HTML."""

from __future__ import annotations

import argparse
import io
import sys
from datetime import datetime
from pathlib import Path

from rounds.app.desk import Desk
from rounds.checks.away import away
from rounds.entries.phrase.times import read_time
from rounds.shell.open_book import STANDARD_OUTPUT, book_of, desk_of, in_words, tell_gaps
from rounds.shell.terminal import give, read_or_not, refused, warn
from rounds.views.sheet import Sheet, before_leaving, sheet_text, sheet_warnings
from rounds.views.sheet import sheet as worded
from rounds.views.words import literal


def sheet(options: argparse.Namespace) -> int:
    """Print the sheet from one time to another; 2 where a time is none or the book cannot be read,
    or not wholly; 1 where they cannot be."""
    read_or_not()
    try:
        desk = desk_of(options, may_begin=False)
    except OSError as trouble:
        return refused(in_words(trouble), 2)
    if not desk.gaps and not desk.bench.containers:
        return refused(
            f"nothing stands on a bench in {book_of(options)}; name the book's folder with --book"
        )
    has_gaps = tell_gaps(desk, sys.stderr if options.html else sys.stdout)
    leave, back = _read(desk, "--from", options.leave), _read(desk, "--to", options.back)
    if leave is None or back is None:
        return 2
    if wrong := _page_refused(desk, options):
        return refused(wrong)
    try:
        moment, leave = desk.moment(), max(leave, desk.now())
        plan = away(desk.bench, moment, leave, back, desk.dues(), desk.foresight)
    except ValueError as trouble:
        return refused(str(trouble))
    told = worded(desk.bench, plan, desk.zone, is_whole=not desk.gaps)
    for warning in (*before_leaving(desk.dues(), plan, desk.zone), *sheet_warnings(told)):
        warn(warning)
    if options.html:
        return _as_page(told, options) or (2 if has_gaps else 0)
    sys.stdout.writelines(f"{text}\n" for text in sheet_text(told))
    return 2 if has_gaps else 0


def _page_refused(desk: Desk, options: argparse.Namespace) -> str:
    """Why no page may be written where it is to be, in words; empty where it may."""
    from rounds.exchange.atomic_file import ExportRefused, refuse_place

    if not options.html or options.html == STANDARD_OUTPUT:
        return ""
    try:
        place = Path(options.html).expanduser()
        refuse_place(place, desk.book.folder, replace=options.replace)
    except ExportRefused as trouble:
        return str(trouble)
    return ""


def _as_page(told: Sheet, options: argparse.Namespace) -> int:
    from rounds.exchange.atomic_file import ExportRefused, beside
    from rounds.exchange.sheet_page import sheet_page

    if options.html == STANDARD_OUTPUT:
        give(io.BytesIO(sheet_page(told)))
        return 0
    path = Path(options.html).expanduser()
    try:
        with beside(path, replace=options.replace) as file:
            file.write(sheet_page(told))
    except ExportRefused as trouble:
        return refused(str(trouble))
    print(f"written to {literal(str(path))}")
    return 0


def _read(desk: Desk, name: str, text: str) -> datetime | None:
    if text == "now":
        return desk.now()
    result = read_time(text, now=desk.now(), zone=desk.zone, ahead=True)
    if isinstance(result, datetime):
        return result
    warn(f"{name}: {result.message}")
    return None
