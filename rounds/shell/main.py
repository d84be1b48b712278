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
from typing import Any, NamedTuple, NoReturn

from rounds.shell.terminal import ready_streams, showing

DONE, REFUSED, USAGE = 0, 1, 2


def run() -> None:
    """The command; its exit status is 0 done, 1 refused or something late, 2 usage."""
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
            "rounds: this machine's clock is past the year 2262; nothing can be told by it: set it"
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
KEEPER_HELP = "the keeper's initials (else ROUNDS_KEEPER)"


class _Command(NamedTuple):
    """What a command is for, what does it (as ``due.due`` in this folder), the arguments that it
    takes, and what adds those that only it knows. A short one ends before any garbage
    matters; one that is of a book takes the options that name it."""

    help: str
    does: str = ""
    arguments: Sequence[tuple[str, dict[str, Any]]] = ()
    adds: Callable[[argparse.ArgumentParser, argparse.ArgumentParser], None] | None = None
    is_short: bool = False
    of_book: bool = True

    def do(self, options: argparse.Namespace) -> int:
        """Do it; what it needs is only loaded now."""
        if self.is_short:
            gc.disable()
        module, _, name = self.does.partition(".")
        status: int = getattr(import_module(f"rounds.shell.{module}"), name)(options)
        return status


def _parser(arguments: Sequence[str]) -> argparse.ArgumentParser:
    """What reads the arguments; where they begin with a command and ask for no help, it knows only
    that one, for it takes longer to describe all of them than to do some."""
    parser = argparse.ArgumentParser(
        prog="rounds",
        description=(
            "Daily husbandry rounds for wild-caught butterflies and moths and their broods."
        ),
        epilog="Without a command it opens the bench. 'rounds calc' lists the calculations,"
        " 'rounds help' the topics to read.",
    )
    common = argparse.ArgumentParser(add_help=False)
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
    command = COMMANDS[name]
    parser = commands.add_parser(
        name, parents=[common] if command.of_book else [], help=command.help
    )
    for argument, how in command.arguments:
        parser.add_argument(argument, **how)
    if command.adds and is_named:  # known to what does it, which is only loaded for it
        command.adds(parser, common)
    parser.set_defaults(do=command.do if command.does else _open)


def _argument(name: str, about: str, **how: Any) -> tuple[str, dict[str, Any]]:
    return name, {"help": about, **how}


def _flag(name: str, about: str) -> tuple[str, dict[str, Any]]:
    return _argument(name, about, action="store_true")


def _option(name: str, about: str, **how: Any) -> tuple[str, dict[str, Any]]:
    return _argument(name, about, **{"default": ""} | how)


def _minutes(typed: str) -> int:
    """So many minutes for a round."""
    if not typed.isdecimal() or not 1 <= int(typed) <= 1440:
        raise argparse.ArgumentTypeError(
            f"'{typed}' is no number of minutes; a whole number from 1 to 1440, as 15"
        )
    return int(typed)


def _open(options: argparse.Namespace) -> int:
    gc.disable()  # loading leaves no garbage; the app looks for it again once the bench is drawn
    from rounds.app.book_folder import book_folder
    from rounds.shell.open_screens import look

    try:
        return look(book_folder(options.book, os.environ), options.by)
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


AS_DATA = _flag("--json", "as data")
REPLACE = _flag("--replace", "take the place of a file that is there")
COMMANDS = {
    "demo": _Command(
        "open a fresh demo bench; without a terminal, print it", "open_screens.demo", of_book=False
    ),
    "due": _Command(
        "print what is due",
        "due.due",
        (
            AS_DATA,
            _flag(
                "--exit-code",
                "exit with 1 where something is late, 2 where the book is not whole",
            ),
            _option("--within", "also what comes due within, as 2h, 90m or 1d", default="0h"),
        ),
        is_short=True,
    ),
    "shelves": _Command(
        "print the bench as it stands, shelf by shelf",
        "shelves.shelves",
        (_flag("--short", "only what is not in order"),),
    ),
    "log": _Command(
        "say one thing, as: rounds log L2 drank -20m",
        "log.log",
        (
            _argument(
                "words", "what happened, as at the prompt; - reads lines", nargs=argparse.REMAINDER
            ),
        ),
        is_short=True,
    ),
    "photo": _Command(
        "copy a picture into the book, as: rounds photo newest --for K7",
        "photo.photo",
        (
            _argument("file", "its path, its name in the setting 'photos', or newest"),
            _argument(
                "--for",
                "the container or brood that it shows",
                dest="code",
                required=True,
                metavar="CODE",
            ),
            _argument(
                "--stage", "the stage that it shows", choices=("egg", "larva", "pupa", "adult")
            ),
            _argument(
                "--instar",
                "the instar that it shows",
                type=int,
                choices=range(1, 13),
                metavar="N",
            ),
        ),
    ),
    "begin": _Command(
        "begin a book: three questions to the first container",
        "begin.begin",
        (
            _argument(
                "--from",
                "take over species, plants, plan and settings of another book",
                dest="source",
                metavar="FOLDER",
            ),
            _argument(
                "--list",
                "a bench that already runs, a line a container; - reads lines",
                dest="listed",
                metavar="FILE",
            ),
        ),
    ),
    "round": _Command(
        "walk the round at once",
        "round.walk",
        (
            _flag("--plain", "as questions and answers on lines, for a screen reader or a pipe"),
            _option(
                "--minutes",
                "what saves most in so many minutes, then the rest",
                type=_minutes,
                default=0,
                metavar="N",
            ),
            _flag("--short", "as --plain, saying only what is not as usual"),
        ),
    ),
    "sheet": _Command(
        "print a helper's page for an absence",
        "sheet.sheet",
        (
            _option(
                "--from",
                "when you leave, as now, 18:00, 'tomorrow 07:30'",
                dest="leave",
                default="now",
            ),
            _argument(
                "--to",
                "when you are back, as +2d, 'sun 19:00', 2026-06-01",
                dest="back",
                required=True,
            ),
            _argument(
                "--html", "write it as a page to print, or to read on a phone", metavar="FILE"
            ),
            REPLACE,
        ),
    ),
    "export": _Command(
        "write a file for others: csv, ics, dwca, note, labels",
        "export.export",
        adds=_export_parsers,
        of_book=False,
    ),
    "check": _Command(
        "go through the whole book and say what is damaged or odd",
        "check.check",
        (
            AS_DATA,
            _flag("--accept", "take what is gone from the book as gone; it is not told again"),
        ),
    ),
    "backup": _Command(
        "write the whole book into one zip file",
        "backup.backup",
        (_argument("file", "the file to write", metavar="FILE.zip"), REPLACE),
    ),
    "merge": _Command(
        "take in another book, or a backup",
        "merge.merge",
        (
            _argument("other", "another book's folder, or a backup's zip file", metavar="OTHER"),
            _flag("--json", "what was taken in, as data"),
        ),
    ),
    "import": _Command(
        "take in an old table: a spreadsheet or CSV of past broods, animals or events",
        "import_table.import_table",
        (
            _option("file", "the table", metavar="FILE", nargs="?"),
            _option(
                "--map",
                "what a column is, as 'Datum=date', or 'Nr=left out'; remembered for the next time",
                action="append",
                default=[],
                metavar="COLUMN=FIELD",
            ),
            _option(
                "--as",
                "what a word of the table means, as 'selen=Boloria selene' or 'weg=missing', or"
                " the answer to what it asked, as 'empty Datum=as above'",
                dest="names",
                action="append",
                default=[],
                metavar="WORD=MEANING",
            ),
            _option(
                "--dates",
                "the order of its dates, where they do not tell",
                type=_order_named,
                choices=("day-first", "month-first", "year-first"),
            ),
            _option("--species", "of all lines, where no column says it", metavar="NAME"),
            _option("--laid", "from when days count in lines without a date", metavar="DAY"),
            _option("--year", "of dates that have none, as 2019", metavar="YEAR"),
            _option("--tab", "which sheet of a spreadsheet; else the first", metavar="NAME"),
            _option(
                "--same-as",
                "the table is that one, which came in before; new where it is not",
                metavar="FILE",
            ),
            _flag("--leave-out", "leave out what cannot be read, take in the rest"),
            _flag(
                "--dry-run",
                "say what each line becomes, or what would be taken back, but record nothing",
            ),
            _flag("--yes", "record it, or take it back, unasked"),
            _flag("--undo", "take back all that came in with FILE, else the newest"),
        ),
        adds=_list_fields,
    ),
    "temperatures": _Command(
        "take in a logger's temperatures",
        "temperatures.temperatures",
        (
            _argument("file", "the logger's file, text or spreadsheet", metavar="FILE"),
            _option(
                "--place",
                "where it hung: a container, a shelf, or room (where not given)",
                default="room",
            ),
            _option(
                "--zone", "of its clock, as Europe/Paris, UTC, or +01:00 all year; else the bench's"
            ),
            _option(
                "--date-order",
                "of its dates, where they do not tell",
                choices=("dmy", "mdy", "ymd"),
            ),
            _option(
                "--unit",
                "Celsius, Fahrenheit or Kelvin, where the file does not tell",
                choices=("c", "f", "k"),
            ),
            *(
                _option(
                    f"--{name}",
                    f"heading of the {heading}, or the column's number",
                    metavar="COLUMN",
                )
                for name, heading in (
                    ("temperature", "temperatures"),
                    ("humidity", "humidities"),
                    ("time", "times"),
                )
            ),
            _option(
                "--device",
                "name or serial number of one of several loggers in the file",
                metavar="NAME",
            ),
            _flag("--dry-run", "read and tell, but take nothing in"),
            AS_DATA,
        ),
    ),
    "help": _Command(
        "read more on a topic; without one, list them",
        "guide.guide",
        (_option("topic", "as prompt or dates", nargs="?", metavar="TOPIC"),),
        of_book=False,
    ),
    "calc": _Command("work out one of the calculations", of_book=False),
}  # in the order of the help
