"""What ``rounds ...`` does at a prompt."""

from __future__ import annotations

import argparse
import atexit
import gc
import os
import sys
import time
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import Any, NoReturn

from rounds.shell.terminal import ready_streams, showing
from rounds.word_tables import table_rows

DONE, REFUSED, USAGE = 0, 1, 2


def run() -> None:
    """The command; its exit status is 0 done, 1 refused or something late, 2 usage."""
    gc.disable()
    ready_streams()
    try:
        status = main(sys.argv[1:])
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read our output stopped reading; nothing is wrong here.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        status = DONE
    except OSError as trouble:
        # What was said is on disk; only the telling of it could not be written.
        print(
            f"rounds: the output could not be written: {trouble.strerror or trouble}",
            file=sys.stderr,
        )
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        status = REFUSED
    except KeyboardInterrupt:
        status = 130
    except Exception as trouble:
        from rounds.shell import crash

        crash.tell(trouble)
        status = REFUSED
    _leave(status)


def _leave(status: int) -> NoReturn:
    """End at once: all is on disk, and taking what is in memory apart takes as long as some
    commands. Where a thread is still at work it is waited for."""
    threads = sys.modules.get("threading")
    if threads is not None and threads.active_count() > 1:
        sys.exit(status)
    sys.stdout.flush()
    sys.stderr.flush()
    atexit._run_exitfuncs()
    os._exit(status)


def main(arguments: Sequence[str]) -> int:
    """Do what the arguments say; the exit status comes back."""
    with showing():
        return _done(arguments)


def _done(arguments: Sequence[str]) -> int:
    asked = _calculation(arguments)
    if asked is None:
        options = _parser(arguments).parse_args(arguments)
    if not _has_clock():
        print(
            "rounds: this machine's clock is past the year 2262; no time is known by it: set it"
            " right",
            file=sys.stderr,
        )
        return USAGE
    try:
        status: int = asked() if asked is not None else options.do(options)
    except BrokenPipeError:
        raise
    except OSError as trouble:
        from rounds.shell.open_book import in_words
        from rounds.views.words import literal

        print(f"rounds: {literal(in_words(trouble))}", file=sys.stderr)
        return REFUSED
    return status


def _calculation(arguments: Sequence[str]) -> Callable[[], int] | None:
    """What works out the calculation that is asked for; None where another command is meant."""
    if "calc" not in arguments:
        return None
    from rounds.shell import calc

    asked = calc.asked(arguments)
    return None if asked is None else lambda: calc.run(*asked)


def _has_clock() -> bool:
    """Whether the system's clock can be read: 64 bits of nanoseconds end in 2262."""
    try:
        return time.time_ns() > 0
    except OverflowError:
        return False


FOLDER_HELP = "folder of the book (else ROUNDS_BOOK, else the usual place for data)"
USUAL_COLUMNS = 80  # where nothing tells how wide it is shown
KEEPER_HELP = "the keeper's initials (else ROUNDS_KEEPER)"


class _HelpFormatter(argparse.HelpFormatter):
    """One that asks the terminal itself how wide it is: one is made for each argument, and
    ``shutil`` would load what packs archives for that."""

    def __init__(self, prog: str) -> None:
        told = os.environ.get("COLUMNS", "")
        columns = (int(told) if told.isdecimal() else 0) or _columns()
        super().__init__(prog, width=columns - 2)


def _columns() -> int:
    try:
        return os.get_terminal_size().columns or USUAL_COLUMNS
    except OSError:
        return USUAL_COLUMNS


def _doing(name: str, does: str) -> Callable[[argparse.Namespace], int]:
    """What does a command; what it needs is only loaded then."""

    def do(options: argparse.Namespace) -> int:
        if name in _SHORT:
            gc.disable()
        else:
            gc.enable()
        module, _, function = does.partition(".")
        status: int = getattr(import_module(f"rounds.shell.{module}"), function)(options)
        return status

    return do


def _parser(arguments: Sequence[str]) -> argparse.ArgumentParser:
    """What reads the arguments; where they begin with a command and ask for no help, it knows only
    that one, for it takes longer to describe all of them than to do some."""
    parser = argparse.ArgumentParser(
        prog="rounds",
        formatter_class=_HelpFormatter,
        description=(
            "Daily husbandry rounds for wild-caught butterflies and moths and their broods."
        ),
        epilog="Without a command it opens the bench. 'rounds calc' lists the calculations,"
        " 'rounds help' the topics to read.",
    )
    common = argparse.ArgumentParser(add_help=False, formatter_class=_HelpFormatter)
    # Where they are not given after the command, those given before it hold.
    unsaid = argparse.SUPPRESS
    common.add_argument("--book", metavar="FOLDER", default=unsaid, help=FOLDER_HELP)
    common.add_argument("--by", metavar="INITIALS", default=unsaid, help=KEEPER_HELP)
    parser.add_argument("--book", metavar="FOLDER", help=FOLDER_HELP)
    parser.add_argument("--by", metavar="INITIALS", default="", help=KEEPER_HELP)
    parser.set_defaults(do=_open)
    commands = parser.add_subparsers(metavar="command")
    is_alone = arguments and arguments[0] in COMMANDS and not {"-h", "--help"} & set(arguments)
    for name in arguments[:1] if is_alone else COMMANDS:
        _add(commands, name, common, is_named=name in arguments)
    return parser


def _add(
    commands: argparse._SubParsersAction[argparse.ArgumentParser],
    name: str,
    common: argparse.ArgumentParser,
    *,
    is_named: bool,
) -> None:
    (_, about, *does), *arguments = COMMANDS[name]
    parents = [] if name in _OF_NO_BOOK else [common]
    parser = commands.add_parser(name, parents=parents, help=about, formatter_class=_HelpFormatter)
    for row in arguments:
        _add_argument(parser, name, *row)
    if name in _ADDS and is_named:  # known to what does it, which is only loaded for it
        _ADDS[name](parser, common)
    parser.set_defaults(do=_doing(name, *does) if does else _open)


def _add_argument(
    parser: argparse.ArgumentParser,
    command: str,
    named: str,
    about: str,
    default: str = "",
    choices: str = "",
) -> None:
    name, takes_value, metavar = named.partition("=")
    if name.startswith("-") and not takes_value:
        parser.add_argument(name, action="store_true", help=about)
        return
    how: dict[str, Any] = {"metavar": metavar} if metavar else {}
    how |= {"choices": choices.split("/")} if choices else {}
    how |= {"default": None if default == "none" else default}
    parser.add_argument(name, help=about, **how | _HOW.get(f"{command} {name}", {}))


def _minutes(typed: str) -> int:
    """So many minutes for a round."""
    if not typed.isdecimal() or not 1 <= int(typed) <= 1440:
        raise argparse.ArgumentTypeError(
            f"'{typed}' is no number of minutes; a whole number from 1 to 1440, as 15"
        )
    return int(typed)


def _open(options: argparse.Namespace) -> int:
    gc.disable()  # loading leaves no garbage; the app looks for it again once the bench is drawn
    from rounds.shell.open_screens import look

    try:
        return look(options)
    finally:
        gc.enable()


def _order_named(text: str) -> str:
    from rounds.exchange.tables_in.dates import order_named

    return order_named(text)


def _export_parsers(parser: argparse.ArgumentParser, common: argparse.ArgumentParser) -> None:
    from rounds.shell.export import export_parsers

    export_parsers(parser, common)


def _list_fields(parser: argparse.ArgumentParser, common: argparse.ArgumentParser) -> None:
    del common
    from rounds.exchange.tables_in.columns import FIELDS

    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.description = (
        "Take in years of an old spreadsheet or notebook: CSV, .xlsx, .xls or .ods, a row an\n"
        "event, a brood, an animal or a container. It says what each column becomes and\n"
        "records nothing before you say yes; taken in again, nothing is doubled."
    )
    parser.epilog = "what a column can be:\n" + "\n".join(
        f"  {name:17} {about}" for name, about in FIELDS.items()
    )


# A line a command that begins with ``>``: its name, what it is for, what does it, in this folder.
# Below it a line an argument: its name, behind ``=`` what stands for its value (a flag has no
# ``=``), what it is for, what holds where it is not given, and what it can be. They are in the
# order of the help.
_TABLE = """
> demo | open a fresh demo bench; without a terminal, print it | open_screens.demo
> due | print what is due | due.due
--json | as data
--exit-code | exit with 1 where something is late, 2 where the book is not whole
--within= | also what comes due within, as 2h, 90m or 1d | 0h
> shelves | print the bench as it stands, shelf by shelf | shelves.shelves
--short | only what is not in order
> log | say one thing, as: rounds log L2 drank -20m | log.log
words | what happened, as at the prompt; - reads lines
> photo | copy a picture into the book, as: rounds photo newest --for K7 | photo.photo
file | its path, its name in the setting 'photos', or newest
--for=CODE | the container or brood that it shows
--stage= | the stage that it shows | none | egg/larva/pupa/adult
--instar=N | the instar that it shows | none
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
--accept | take what is gone from the book as gone; it is not said again
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
--dates= | the order of its dates, where they do not tell | | day-first/month-first/year-first
--species=NAME | of all lines, where no column says it
--laid=DAY | from when days count in lines without a date
--year=YEAR | of dates that have none, as 2019
--tab=NAME | which sheet of a spreadsheet; else the first
--encoding=NAME | of a text whose letters come out wrong, as cp1250; else found out
--same-as=FILE | the table is that one, which came in before; new where it is not
--leave-out | leave out what cannot be read, take in the rest
--dry-run | say what each line becomes, or what would be taken back, but record nothing
--yes | record it, or take it back, unasked
--undo | take back all that came in with FILE, else the newest
> temperatures | take in a logger's temperatures | temperatures.temperatures
file=FILE | the logger's file, text or spreadsheet
--place= | where it hung: a container, a shelf, or room (where not given) | room
--zone= | of its clock, as Europe/Paris, UTC, or +01:00 all year; else the bench's
--date-order= | of its dates, where they do not tell | | dmy/mdy/ymd
--unit= | Celsius, Fahrenheit or Kelvin, where the file does not tell | | c/f/k
--temperature=COLUMN | heading of the temperatures, or the column's number
--humidity=COLUMN | heading of the humidities, or the column's number
--time=COLUMN | heading of the times, or the column's number
--device=NAME | name or serial number of one of several loggers in the file
--dry-run | read and tell, but take nothing in
--json | as data
> help | read more on a topic; without one, list them | guide.guide
topic=TOPIC | as prompt or dates
> calc | work out one of the calculations
"""
# What else the parser is told of an argument.
_HOW: dict[str, dict[str, Any]] = {
    "log words": {"nargs": argparse.REMAINDER},
    "photo --for": {"dest": "code", "required": True},
    "photo --instar": {"choices": range(1, 13), "type": int},
    "begin --from": {"dest": "source"},
    "begin --list": {"dest": "listed"},
    "round --minutes": {"default": 0, "type": _minutes},
    "sheet --from": {"dest": "leave"},
    "sheet --to": {"dest": "back", "required": True},
    "import file": {"nargs": "?"},
    "import --map": {"default": [], "action": "append"},
    "import --as": {"default": [], "dest": "names", "action": "append"},
    "import --dates": {"type": _order_named},
    "help topic": {"nargs": "?"},
}
_ADDS = {"export": _export_parsers, "import": _list_fields}
_SHORT = frozenset({"due", "log"})  # end before any garbage matters
_OF_NO_BOOK = frozenset({"demo", "export", "help", "calc"})


def _commands() -> dict[str, list[list[str]]]:
    commands: dict[str, list[list[str]]] = {}
    for row in table_rows(_TABLE):
        if row[0].startswith("> "):
            rows = commands[row[0].removeprefix("> ")] = []
        rows.append(row)
    return commands


COMMANDS = _commands()
gc.enable()  # whoever runs a command in a process of its own has none looked for
