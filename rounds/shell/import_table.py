"""``rounds import FILE``: years of an old spreadsheet or notebook come into the book."""

from __future__ import annotations

import argparse
import shutil
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from rounds.app.desk import Desk, Recorded
from rounds.bench.plurals import count
from rounds.daybook.safe_files import read_given
from rounds.exchange.tables_in.dialogue import TableDialogue
from rounds.exchange.tables_in.report import (
    left_out_words,
    mapping_lines,
    problem_lines,
    recorded_words,
    row_lines,
    standing_words,
    sum_lines,
)
from rounds.exchange.tables_in.sheet import read_sheet
from rounds.exchange.tables_in.table_import import ImportOptions, TableImport, to_take_back
from rounds.exchange.tables_in.unclear import UnclearTable
from rounds.shell.open_book import book_of, desk_of, open_desk, tell_gaps
from rounds.shell.terminal import refused, say
from rounds.views.words import literal

STOP, BACK = "stop", "back"  # what ends the questions, and takes the last answer back
LINES, LEAVE_OUT = "lines", "leave out"  # what can be typed of a table that is understood
YES, AGAIN = "yes", "again"  # what came of that
WAYS = (
    f"{BACK} for the question before, {LINES} for each line, COLUMN=MEANING, WORD=MEANING,"
    " year 2019; Enter ends"
)
ADD_YES = "add --yes if it is right, or --dry-run for what would be done"
MAX_BYTES = 100_000_000
MAX_PROBLEMS = 20  # told without a dry run
NOTHING = "nothing is recorded"
NOT_BACK = "nothing is taken back"


def import_table(options: argparse.Namespace) -> int:
    """Take a table in, or one that came in back; 1 where it was refused."""
    if options.undo:
        return _undo(options)
    if not options.file:
        return refused("which table? As: rounds import OLD.csv", 2)
    try:
        said = _options_of(options)
        path = Path(options.file).expanduser()
        if path.stat().st_size > MAX_BYTES:
            return refused(f"{path.name} is longer than {MAX_BYTES // 1_000_000} MB; give parts")
        sheet = read_sheet(path, read_given(path), options.tab, options.encoding)
        with _book(options) as folder:
            desk = open_desk(folder, keeper=options.by)
            tell_gaps(desk)
            name, asks = sheet.name(path.name), sys.stdin.isatty()
            asked = TableDialogue(desk, book_of(options), name, sheet, said, asks=asks)
            if asked.unclear is not None and not asked.unclear.option:
                raise asked.unclear
            status = 1
            try:
                status = _taken_in(desk, asked, options)
            finally:
                asked.keep(recorded=status == 0 and not options.dry_run)
            return status
    except UnclearTable as unclear:
        return refused(f"{unclear.shell_line}; {NOTHING}")


@contextmanager
def _book(options: argparse.Namespace) -> Iterator[Path]:
    """The book's folder; where there is none yet, a dry run begins none."""
    folder = book_of(options)
    if folder.exists() or not options.dry_run:
        yield folder
        return
    with TemporaryDirectory(prefix="rounds-") as name:
        yield Path(name)


def _taken_in(desk: Desk, asked: TableDialogue, options: argparse.Namespace) -> int:
    """Ask what is not clear, tell what it becomes, and record it where the keeper says yes.

    Raises:
        UnclearTable: something is not clear, and nobody is there to ask.
    """
    asks = sys.stdin.isatty() and not (options.yes or options.dry_run)
    if asked.kept:
        back = f"; {BACK} takes the last one back" if sys.stdin.isatty() else ""
        say([f"{count(asked.kept, 'answer')} kept from the last time{back}"])
    while (table := _understood(asked)) is not None:
        _tell(table, desk, options)
        stands = bool(table.problems) and not table.leaves_out
        if asks and (stands or not table.is_known):
            says = _says_next(asked, table, desk)
            if says == AGAIN:
                continue
            if says != YES:
                print(f"{NOTHING}{_kept_words(asked)}")
                return 1
        return _recorded(desk, table, options, says_yes=asks or options.yes)
    return refused(f"stopped; {NOTHING}{_kept_words(asked)}")


def _kept_words(asked: TableDialogue) -> str:
    """That what was answered is kept, where it is."""
    return "; what was answered is kept for the next time" if asked.keep() else ""


def _tell(table: TableImport, desk: Desk, options: argparse.Namespace) -> None:
    """What each column becomes, what cannot be read, and what the table is in all."""
    say(mapping_lines(table))
    if options.dry_run:
        say(row_lines(table, desk.measures))
    elif table.problems:
        problems = list(problem_lines(table))
        say(problems[:MAX_PROBLEMS])
        if len(problems) > MAX_PROBLEMS:
            say([f"and {len(problems) - MAX_PROBLEMS} more; --dry-run shows all"])
    say(sum_lines(table))
    say([standing_words(table), *filter(None, [left_out_words(table)])])


def _recorded(
    desk: Desk, table: TableImport, options: argparse.Namespace, *, says_yes: bool
) -> int:
    """Record it, where it can be and the keeper says so; 1 where not."""
    if table.problems and not table.leaves_out:
        wrong = f"{count(len(table.problems), 'line')} to correct in {table.file}"
        return refused(f"{wrong}; {NOTHING}; --leave-out takes the others")
    if options.dry_run:
        say([f"{NOTHING}, for --dry-run was given"])
        return 0
    if table.is_known:
        return 0
    if not says_yes:
        return refused(f"{NOTHING}; {ADD_YES}")
    outcome = table.record(desk)
    if not isinstance(outcome, Recorded):
        desk.unsaved.give_up()
        return refused(f"{outcome.line}; {NOTHING}")
    say(recorded_words(table, outcome))
    return 0


def _says_next(asked: TableDialogue, table: TableImport, desk: Desk) -> str:
    """What the keeper says to what the table becomes: yes, or that it is to be read again; empty
    where nothing is to be recorded."""
    stands = bool(table.problems) and not table.leaves_out
    if stands:
        wrong = f"{count(len(table.problems), 'line')} to correct in {literal(table.file)}"
        others = f"Else {LEAVE_OUT} takes the others; {WAYS}"
        print(f"{wrong}; call it again then. {others}: ", end="", flush=True)
    else:
        print(f"Or {WAYS}.\nRecord it? Type yes: ", end="", flush=True)
    while (typed := sys.stdin.readline().strip()) and typed.casefold() not in ("no", "n", STOP):
        if typed.casefold() in ("yes", "y") and not stands:
            return YES
        if typed == LEAVE_OUT and stands:
            asked.leave_out(leaves=True)
            return AGAIN
        if typed == BACK and asked.back():
            return AGAIN
        if typed == LINES:
            _print_by_pages(row_lines(table, desk.measures))
            print("yes, or as before: ", end="", flush=True)
            continue
        why = asked.say_typed(typed)
        if why == "":
            return AGAIN
        usual = LEAVE_OUT if stands else "yes"
        why = why or f"'{typed}' says nothing here; it can be {usual}, {WAYS}"
        print(f"{literal(why)}: ", end="", flush=True)
    return ""


def _says_yes(nothing: str) -> bool:
    """Whether the keeper says yes to taking a table back; else it is told that nothing was done."""
    if not sys.stdin.isatty():
        refused(f"{nothing}; {ADD_YES}")
        return False
    print("Take them back? Type yes: ", end="", flush=True)
    if sys.stdin.readline().strip().casefold() in ("yes", "y"):
        return True
    print(nothing)
    return False


def _understood(asked: TableDialogue) -> TableImport | None:
    """What the table becomes; in a terminal what is not clear is asked, one thing after another,
    until the keeper stops.

    Raises:
        UnclearTable: something is not clear, and nobody is there to ask.
    """
    while asked.unclear is not None:
        if not asked.unclear.option or not sys.stdin.isatty():
            raise asked.unclear
        typed = _answer_to(asked.unclear, asked.place())
        if typed == STOP:
            return None
        if typed == BACK:
            if not asked.back():
                print("this is the first question")
        elif why := asked.answer(typed):
            print(literal(why))
    return asked.table


def _answer_to(unclear: UnclearTable, place: str) -> str:
    """What the keeper types; Enter alone asks again, the end of the input stops."""
    choices = f" ({', '.join(unclear.choices)})" if unclear.choices else ""
    print(f"{place}: {literal(unclear.line)}")
    while True:
        print(f"{literal(unclear.about) or unclear.option}{literal(choices)}: ", end="", flush=True)
        typed = sys.stdin.readline()
        if typed.strip() or not typed:
            return typed.strip() or STOP
        print(f"Enter alone is no answer; type one, {BACK} for the question before, or {STOP}")


def _options_of(options: argparse.Namespace) -> ImportOptions:
    return ImportOptions(
        _pairs("--map", options.map, "Datum=date"),
        _pairs("--as", options.names, "selen=Boloria selene"),
        options.dates,
        options.species,
        options.laid,
        options.year,
        options.same_as,
        options.leave_out,
    )


def _pairs(option: str, typed: Iterable[str], example: str) -> dict[str, str]:
    """``name=meaning`` by name.

    Raises:
        UnclearTable: one has no equals sign.
    """
    pairs: dict[str, str] = {}
    for one in typed:
        name, sign, meaning = one.rpartition("=")
        if not sign or not name.strip() or not meaning.strip():
            raise UnclearTable(f"{option} is '{one}'; it must be as {option} '{example}'")
        pairs[name.strip()] = meaning.strip()
    return pairs


def _undo(options: argparse.Namespace) -> int:
    desk = desk_of(options, may_begin=False)
    tell_gaps(desk)
    name = Path(options.file).name if options.file else ""
    back = to_take_back(desk, name)
    if back is None:
        names = list(dict.fromkeys(one.file for one in desk.bench.imports))
        there = f"; there came in {', '.join(names)}" if names else ""
        return refused(f"no table{f' called {name}' if name else ''} came in{there}")
    entries = f"{count(len(back.lines), 'entry', 'entries')} from {literal(back.file)}"
    print(f"to take back: {entries}")
    if options.dry_run:
        say([f"{NOT_BACK}, for --dry-run was given"])
        return 0
    if not options.yes and not _says_yes(NOT_BACK):
        return 1
    outcome = back.record(desk)
    if not isinstance(outcome, Recorded):
        desk.unsaved.give_up()
        return refused(f"{outcome.line}; {NOT_BACK}")
    stay = "they stay in the daybook, crossed out, and come again with the file"
    print(f"taken back: {entries}; {stay}")
    return 0


def _print_by_pages(lines: Iterable[str]) -> None:
    """Print, and wait for Enter where the terminal is full; anything else that is typed stops."""
    wide, high = shutil.get_terminal_size()
    room = high - 1
    for line in lines:
        taken = 1 + (len(line) - 1) // max(1, wide)
        if room < taken + 1 and room < high - 1:
            print(f"Enter goes on, {STOP} ends the lines: ", end="", flush=True)
            if sys.stdin.readline() != "\n":
                return
            room = high - 1
        say([line])
        room -= taken
