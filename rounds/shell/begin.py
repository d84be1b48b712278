"""``rounds begin``: the first start on lines, for a new book or one whose bench is still empty."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

from rounds.app.desk import Desk, Recorded
from rounds.app.first_start import WELCOME, FirstStart, asks_now, first_words
from rounds.app.running_bench import checked, record, told_beside
from rounds.bench.plurals import count
from rounds.daybook.safe_files import read_given
from rounds.exchange.import_setup import taken_over
from rounds.exchange.loggers.text import is_no_text
from rounds.exchange.tables_in.sheet import as_text
from rounds.exchange.tables_in.unclear import UnclearTable
from rounds.shell.lines import lines_typed, tell
from rounds.shell.open_book import book_of, desk_of, tell_gaps
from rounds.shell.terminal import refused, say, warn
from rounds.views.words import literal


def begin(options: argparse.Namespace) -> int:
    """Begin a book: take over from another, then ask; status 1 where the lines ended before a
    container stood."""
    desk = desk_of(options)
    if options.listed:
        return _list(desk, options.listed)
    tell_gaps(desk)
    if any(True for _ in desk.bench.standing()):
        return refused(f"the book in {book_of(options)} has begun; 'rounds round' walks it")
    start = FirstStart(desk, taken_over)
    if options.source:
        wrong = start.take(f"from {options.source}")
        if wrong:
            return refused(wrong)
    in_a_terminal = sys.stdin.isatty() and sys.stdout.isatty()
    return 0 if ask_on_lines(start, lines_typed(in_a_terminal), tell) else 1


def _list(desk: Desk, file: str) -> int:
    """Record a bench that already runs from a table: all of it, or nothing; status 1 where a line
    is not understood."""
    try:
        path = Path(file)
        text = (
            sys.stdin.read() if file == "-" else as_text(path, read_given(path)).decode("utf-8-sig")
        )
        is_text = not is_no_text(text)
    except UnclearTable as unclear:
        return refused(unclear.line)
    except UnicodeDecodeError:
        is_text = False
    if not is_text:
        return refused(f"{file} cannot be read; save it as UTF-8 text")
    table = checked(desk, text)
    for trouble in table.troubles:
        warn(f"line {trouble.row + 1}, {trouble.code}: {trouble.line}")
    outcome = record(desk, table)
    if not isinstance(outcome, Recorded):
        desk.unsaved.give_up()
        line = f"{len(table.troubles)} to correct" if table.troubles else outcome.line
        return refused(f"{line}; nothing is recorded")
    are = "is" if table.containers == 1 else "are"
    say(row.words(desk.now(), desk.zone) for row in table.rows)
    say([*told_beside(table), f"{count(table.containers, 'container')} {are} saved"])
    return 0


def is_new(desk: Desk) -> bool:
    """Whether nothing was ever set up in this book, as far as it can be read."""
    return not desk.gaps and not desk.bench.containers and not desk.bench.closed


def ask_on_lines(start: FirstStart, typed: Iterator[str], tell: Callable[[str], None]) -> bool:
    """Ask the questions one after another; True where the first container stands."""
    for words in WELCOME:
        tell(words)
    while (asking := start.asking) is not None:
        known = len(start.told)
        tell(asking.text.strip())
        tell(f"{asking.hint.rstrip('.')}.")
        line = next(typed, None)
        if line is None:
            tell("No container stands yet. What was answered is kept; 'rounds begin' asks on.")
            break
        wrong = start.take(line)
        if start.wants_list:
            tell(
                "List it with: rounds begin --list FILE, a line a container; or on the screen,"
                " rounds and list"
            )
            break
        if start.wants_import:
            tell(f"Take it in with: rounds import {literal(start.wants_import)}")
            break
        if start.wants_demo:
            tell("The demo opens with: rounds demo")
            break
        if wrong:
            tell(f"Not taken: {literal(wrong)}")
        for text in start.told[known:]:
            tell(f"Saved: {text}")
    if start.container and not asks_now(start.desk):
        tell(first_words(start.desk))
    return bool(start.container)
