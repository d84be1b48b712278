"""The commands of ``rounds``: what each is for, its arguments, and what does it."""

from __future__ import annotations

import gc
from collections.abc import Callable, Sequence
from importlib import import_module
from types import SimpleNamespace
from typing import TYPE_CHECKING, cast

from rounds.word_tables import table_rows

if TYPE_CHECKING:
    import argparse


def doing(name: str, does: str) -> Callable[[argparse.Namespace], int]:
    """What does a command; what it needs is only loaded then."""

    def do(options: argparse.Namespace) -> int:
        if name in SHORT:
            gc.disable()
        else:
            gc.enable()
        module, _, function = does.partition(".")
        status: int = getattr(import_module(f"rounds.shell.{module}"), function)(options)
        return status

    return do


def open_bench(options: argparse.Namespace) -> int:
    """Open the screens, as ``rounds`` alone does."""
    gc.disable()  # loading leaves no garbage; the app looks for it again once the bench is drawn
    from rounds.shell.open_screens import look

    try:
        return look(options)
    finally:
        gc.enable()


# A line a command that begins with ``>``: its name, what it is for, what does it, in this folder.
# Below it a line an argument: its name, behind ``=`` what stands for its value (a flag has no
# ``=``), what it is for, what holds where it is not given, and what it can be. They are in the
# order of the help.
_TABLE = """
> demo | open a fresh demo bench; without a terminal, print it | open_screens.demo
> due | print what is due | due.due
--json | as data
--exit-code | exit with 1 if something is late, 2 if the book is not whole
--within= | also what comes due within, as 2h, 90m or 1d | 0h
> shelves | print the bench as it stands, shelf by shelf | shelves.shelves
--short | only what is not in order
> log | record one line, as: rounds log L2 drank -20m | log.log
words | what happened, as at the prompt; - reads lines
> photo | copy a picture into the book, as: rounds photo newest --for K7 | photo.photo
file | its path, its name in the setting 'photos', or newest
--for=CODE | the container or brood that it shows
--stage= | the stage that it shows | none | egg/larva/pupa/adult
--instar=N | the instar that it shows | none
--at= | when it was taken, as '5 Jun 10:00'; else as its camera says, or now | none
> begin | begin a book: five questions to the first container | begin.begin
--from=FOLDER | take over species, plants, plan and settings of another book | none
--list=FILE | a bench that already runs, a line a container; - reads lines | none
> round | walk the round at once | round.walk
--plain | as questions and answers on lines, for a screen reader or a pipe
--minutes=N | what saves most in so many minutes, then the rest
--short | as --plain, saying only what is not as usual
> sheet | print a helper's page for an absence | sheet.sheet
--from= | when you leave, as now, 18:00, 'tomorrow 07:30' | now
--to= | when you are back, as +2d, 'sun 19:00', 2026-06-01
--html=FILE | write it as a page to print, or to read on a phone | none
--replace | take the place of a file that is there
> export | write a file for others: csv, ics, dwca, note, labels | export.export
> check | go through the whole book and say what is damaged or odd | check.check
--json | as data
--accept | take what is gone from the book as gone; it is not shown again
> backup | write the whole book into one zip file | backup.backup
file=FILE.zip | the file to write
--replace | take the place of a file that is there
> merge | take in another book, or a backup | merge.merge
other=OTHER | another book's folder, or a backup's zip file
--json | what was taken in, as data
> import | take in an old table: a spreadsheet or CSV of past broods, animals or events |
    import_table.import_table
file=FILE | the table
--map=COLUMN=FIELD | what a column is, as 'Datum=date', or 'Nr=left out'; remembered for the next
    time
--as=WORD=MEANING | what a word of the table means, as 'selen=Boloria selene' or 'weg=missing', or
    the answer to what it asked, as 'empty Datum=as above'
--dates= | the order of its dates, if they do not show it | | day-first/month-first/year-first
--species=NAME | of all lines, if no column says it
--laid=DAY | from when days count in lines without a date
--year=YEAR | of dates that have none, as 2019
--tab=NAME | which sheet of a spreadsheet; else the first
--encoding=NAME | of a text whose letters come out wrong, as cp1250; else found out
--same-as=FILE | the table is that one, which came in before; new if it is not
--leave-out | leave out what cannot be read, take in the rest
--dry-run | say what each line becomes, or what would be taken back, but record nothing
--yes | record it, or take it back, unasked
--undo | take back all that came in with FILE, else the newest
> temperatures | take in a logger's temperatures | temperatures.temperatures
file=FILE | the logger's file, text or spreadsheet
--place= | where it hung: a container, a shelf, or room (if not given) | room
--zone= | of its clock, as Europe/Paris, UTC, or +01:00 all year; else the bench's
--date-order= | of its dates, if they do not show it | | dmy/mdy/ymd
--unit= | Celsius, Fahrenheit or Kelvin, if the file does not show it | | c/f/k
--temperature=COLUMN | heading of the temperatures, or the column's number
--humidity=COLUMN | heading of the humidities, or the column's number
--time=COLUMN | heading of the times, or the column's number
--device=NAME | name or serial number of one of several loggers in the file
--dry-run | read and show, but take nothing in
--json | as data
> help | read more on a topic; without one, list them | guide.guide
topic=TOPIC | as prompt or dates
> calc | work out one of the calculations
"""
SHORT = frozenset({"due", "log"})  # end before any garbage matters
OF_NO_BOOK = frozenset({"demo", "export", "help", "calc"})


def _commands() -> dict[str, list[list[str]]]:
    commands: dict[str, list[list[str]]] = {}
    for row in table_rows(_TABLE):
        if row[0].startswith("> "):
            rows = commands[row[0].removeprefix("> ")] = []
        rows.append(row)
    return commands


COMMANDS = _commands()


def plainly_said(arguments: Sequence[str]) -> argparse.Namespace | None:
    """The arguments of a short command where each is whole and in its place, as ``argparse`` reads
    them; None of others, and where it has something to say: loading it takes as long as opening a
    book."""
    options: dict[str, object] = {"book": None, "by": ""}
    takes = {"--book", "--by"}
    flags: set[str] = set()
    command = ""
    left = list(arguments)
    while left:
        said = left.pop(0)
        if not command and said in SHORT:
            (_, _, does), *rows = COMMANDS[said]
            command, options["do"] = said, doing(said, does)
            for named, _, *default in rows:
                name, takes_value, _ = named.partition("=")
                (takes if takes_value else flags).add(name)
                if name.startswith("-"):
                    options[_field(name)] = default[0] if takes_value else False
        elif command and "words" in flags and (said == "-" or not said.startswith("-")):
            options["words"], left = [said, *left], []
        elif said in flags and said.startswith("-"):
            options[_field(said)] = True
        else:
            name, has_value, value = said.partition("=")
            if name not in takes or not (has_value or left):
                return None
            value = value if has_value else left.pop(0)
            if value.startswith("-") and not has_value:
                return None
            options[_field(name)] = value
    is_whole = command and ("words" not in flags or "words" in options)
    return cast("argparse.Namespace", SimpleNamespace(**options)) if is_whole else None


def _field(option: str) -> str:
    return option.lstrip("-").replace("-", "_")
