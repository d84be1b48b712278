"""What ``rounds ...`` does at a prompt."""

from __future__ import annotations

import argparse
import atexit
import gc
import os
import sys
import time
from collections.abc import Callable, Sequence
from typing import NamedTuple, NoReturn

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


class _Parsers(NamedTuple):
    """Where a command is added to, the options that all have in common, and what is named among the
    arguments, so that what only its options need is loaded for it alone."""

    commands: argparse._SubParsersAction[argparse.ArgumentParser]
    common: argparse.ArgumentParser
    named: Sequence[str]


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
    to = _Parsers(parser.add_subparsers(metavar="command"), common, arguments)
    is_alone = arguments and arguments[0] in COMMANDS and not {"-h", "--help"} & set(arguments)
    for name in arguments[:1] if is_alone else COMMANDS:
        COMMANDS[name](to)
    return parser


def _add_demo(to: _Parsers) -> None:
    demo = to.commands.add_parser(
        "demo", help="open a fresh demo bench; without a terminal, print it"
    )
    demo.set_defaults(do=_demo)


def _add_due(to: _Parsers) -> None:
    due = to.commands.add_parser("due", parents=[to.common], help="print what is due")
    due.add_argument("--json", action="store_true", help="as data")
    due.add_argument(
        "--exit-code",
        action="store_true",
        help="exit with 1 where something is late, 2 where the book is not whole",
    )
    due.add_argument("--within", default="0h", help="also what comes due within, as 2h, 90m or 1d")
    due.set_defaults(do=_due)


def _add_shelves(to: _Parsers) -> None:
    shelves = to.commands.add_parser(
        "shelves", parents=[to.common], help="print the bench as it stands, shelf by shelf"
    )
    shelves.add_argument("--short", action="store_true", help="only what is not in order")
    shelves.set_defaults(do=_shelves)


def _add_log(to: _Parsers) -> None:
    log = to.commands.add_parser(
        "log", parents=[to.common], help="say one thing, as: rounds log L2 drank -20m"
    )
    log.add_argument(
        "words", nargs=argparse.REMAINDER, help="what happened, as at the prompt; - reads lines"
    )
    log.set_defaults(do=_log)


def _add_photo(to: _Parsers) -> None:
    photo = to.commands.add_parser(
        "photo",
        parents=[to.common],
        help="copy a picture into the book, as: rounds photo newest --for K7",
    )
    photo.add_argument("file", help="its path, its name in the setting 'photos', or newest")
    photo.add_argument(
        "--for",
        dest="code",
        required=True,
        metavar="CODE",
        help="the container or brood that it shows",
    )
    photo.add_argument(
        "--stage", choices=("egg", "larva", "pupa", "adult"), help="the stage that it shows"
    )
    photo.add_argument(
        "--instar", type=int, choices=range(1, 13), metavar="N", help="the instar that it shows"
    )
    photo.set_defaults(do=_photo)


def _add_begin(to: _Parsers) -> None:
    begin = to.commands.add_parser(
        "begin", parents=[to.common], help="begin a book: three questions to the first container"
    )
    begin.add_argument(
        "--from",
        dest="source",
        metavar="FOLDER",
        help="take over species, plants, plan and settings of another book",
    )
    begin.add_argument(
        "--list",
        dest="listed",
        metavar="FILE",
        help="a bench that already runs, a line a container; - reads lines",
    )
    begin.set_defaults(do=_begin)


def _add_round(to: _Parsers) -> None:
    walk = to.commands.add_parser("round", parents=[to.common], help="walk the round at once")
    walk.add_argument(
        "--plain",
        action="store_true",
        help="as questions and answers on lines, for a screen reader or a pipe",
    )
    walk.add_argument(
        "--minutes",
        type=_minutes,
        default=0,
        metavar="N",
        help="what saves most in so many minutes, then the rest",
    )
    walk.add_argument(
        "--short", action="store_true", help="as --plain, saying only what is not as usual"
    )
    walk.set_defaults(do=_walk)


def _add_sheet(to: _Parsers) -> None:
    sheet = to.commands.add_parser(
        "sheet", parents=[to.common], help="print a helper's page for an absence"
    )
    sheet.add_argument(
        "--from",
        dest="leave",
        default="now",
        help="when you leave, as now, 18:00, 'tomorrow 07:30'",
    )
    sheet.add_argument(
        "--to",
        dest="back",
        required=True,
        help="when you are back, as +2d, 'sun 19:00', 2026-06-01",
    )
    sheet.add_argument(
        "--html", metavar="FILE", help="write it as a page to print, or to read on a phone"
    )
    sheet.add_argument(
        "--replace", action="store_true", help="take the place of a file that is there"
    )
    sheet.set_defaults(do=_sheet)


def _add_export(to: _Parsers) -> None:
    export = to.commands.add_parser(
        "export", help="write a file for others: csv, ics, dwca, note, labels"
    )
    if "export" in to.named:  # its options are known to the exports, which are only loaded for it
        from rounds.shell.export import export_parsers

        export.set_defaults(do=_export)
        export_parsers(export, to.common)


def _add_check(to: _Parsers) -> None:
    check = to.commands.add_parser(
        "check",
        parents=[to.common],
        help="go through the whole book and say what is damaged or odd",
    )
    check.add_argument("--json", action="store_true", help="as data")
    check.add_argument(
        "--accept",
        action="store_true",
        help="take what is gone from the book as gone; it is not told again",
    )
    check.set_defaults(do=_check)


def _add_backup(to: _Parsers) -> None:
    backup = to.commands.add_parser(
        "backup", parents=[to.common], help="write the whole book into one zip file"
    )
    backup.add_argument("file", metavar="FILE.zip", help="the file to write")
    backup.add_argument(
        "--replace", action="store_true", help="take the place of a file that is there"
    )
    backup.set_defaults(do=_backup)


def _add_merge(to: _Parsers) -> None:
    merge = to.commands.add_parser(
        "merge", parents=[to.common], help="take in another book, or a backup"
    )
    merge.add_argument(
        "other", metavar="OTHER", help="another book's folder, or a backup's zip file"
    )
    merge.add_argument("--json", action="store_true", help="what was taken in, as data")
    merge.set_defaults(do=_merge)


def _add_help(to: _Parsers) -> None:
    guide = to.commands.add_parser("help", help="read more on a topic; without one, list them")
    guide.add_argument("topic", nargs="?", default="", metavar="TOPIC", help="as prompt or dates")
    guide.set_defaults(do=_guide)


def _add_calc(to: _Parsers) -> None:
    calc = to.commands.add_parser("calc", help="work out one of the calculations")
    calc.set_defaults(do=_open)


def _add_temperatures(to: _Parsers) -> None:
    parser = to.commands.add_parser(
        "temperatures", parents=[to.common], help="take in a logger's temperatures"
    )
    parser.add_argument("file", metavar="FILE", help="the logger's file, text or spreadsheet")
    parser.add_argument(
        "--place",
        default="room",
        help="where it hung: a container, a shelf, or room (where not given)",
    )
    parser.add_argument(
        "--zone",
        default="",
        help="of its clock, as Europe/Paris, UTC, or +01:00 all year; else the bench's",
    )
    parser.add_argument(
        "--date-order",
        default="",
        choices=("dmy", "mdy", "ymd"),
        help="of its dates, where they do not tell",
    )
    parser.add_argument(
        "--unit",
        default="",
        choices=("c", "f", "k"),
        help="Celsius, Fahrenheit or Kelvin, where the file does not tell",
    )
    parser.add_argument(
        "--temperature",
        default="",
        metavar="COLUMN",
        help="heading of the temperatures, or the column's number",
    )
    parser.add_argument(
        "--humidity",
        default="",
        metavar="COLUMN",
        help="heading of the humidities, or the column's number",
    )
    parser.add_argument(
        "--time", default="", metavar="COLUMN", help="heading of the times, or the column's number"
    )
    parser.add_argument(
        "--device",
        default="",
        metavar="NAME",
        help="name or serial number of one of several loggers in the file",
    )
    parser.add_argument("--dry-run", action="store_true", help="read and tell, but take nothing in")
    parser.add_argument("--json", action="store_true", help="as data")
    parser.set_defaults(do=_temperatures)


def _order_named(text: str) -> str:
    from rounds.exchange.tables_in.dates import order_named

    return order_named(text)


def _add_import(to: _Parsers) -> None:
    parser = to.commands.add_parser(
        "import",
        parents=[to.common],
        help="take in an old table: a spreadsheet or CSV of past broods, animals or events",
    )
    if "import" in to.named:  # known to the import, which is only loaded for it
        from rounds.exchange.tables_in.columns import FIELDS

        parser.formatter_class = argparse.RawDescriptionHelpFormatter
        parser.epilog = "what a column can be:\n" + "\n".join(
            f"  {name:17} {about}" for name, about in FIELDS.items()
        )
    parser.description = (
        "Take in years of an old spreadsheet or notebook: CSV, .xlsx, .xls or .ods, a row an\n"
        "event, a brood, an animal or a container. It says what each column becomes and\n"
        "records nothing before you say yes; taken in again, nothing is doubled."
    )
    parser.add_argument("file", metavar="FILE", nargs="?", default="", help="the table")
    parser.add_argument(
        "--map",
        action="append",
        default=[],
        metavar="COLUMN=FIELD",
        help="what a column is, as 'Datum=date', or 'Nr=left out'; remembered for the next time",
    )
    parser.add_argument(
        "--as",
        dest="names",
        action="append",
        default=[],
        metavar="WORD=MEANING",
        help="what a word of the table means, as 'selen=Boloria selene' or 'weg=missing', or the"
        " answer to what it asked, as 'empty Datum=as above'",
    )
    parser.add_argument(
        "--dates",
        default="",
        type=_order_named,
        choices=("day-first", "month-first", "year-first"),
        help="the order of its dates, where they do not tell",
    )
    parser.add_argument(
        "--species", default="", metavar="NAME", help="of all lines, where no column says it"
    )
    parser.add_argument(
        "--laid", default="", metavar="DAY", help="from when days count in lines without a date"
    )
    parser.add_argument(
        "--year", default="", metavar="YEAR", help="of dates that have none, as 2019"
    )
    parser.add_argument(
        "--tab", default="", metavar="NAME", help="which sheet of a spreadsheet; else the first"
    )
    parser.add_argument(
        "--same-as",
        default="",
        metavar="FILE",
        help="the table is that one, which came in before; new where it is not",
    )
    parser.add_argument(
        "--leave-out", action="store_true", help="leave out what cannot be read, take in the rest"
    )
    parser.add_argument(
        "--dry-run",
        action="store_true",
        help="say what each line becomes, or what would be taken back, but record nothing",
    )
    parser.add_argument("--yes", action="store_true", help="record it, or take it back, unasked")
    parser.add_argument(
        "--undo", action="store_true", help="take back all that came in with FILE, else the newest"
    )
    parser.set_defaults(do=_import)


COMMANDS: dict[str, Callable[[_Parsers], None]] = {
    "demo": _add_demo,
    "due": _add_due,
    "shelves": _add_shelves,
    "log": _add_log,
    "photo": _add_photo,
    "begin": _add_begin,
    "round": _add_round,
    "sheet": _add_sheet,
    "export": _add_export,
    "check": _add_check,
    "backup": _add_backup,
    "merge": _add_merge,
    "import": _add_import,
    "temperatures": _add_temperatures,
    "help": _add_help,
    "calc": _add_calc,
}  # in the order of the help


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


def _demo(options: argparse.Namespace) -> int:
    del options
    from rounds.shell.open_screens import look_at_demo

    return look_at_demo()


def _import(options: argparse.Namespace) -> int:
    from rounds.shell.import_table import import_table

    return import_table(options)


def _guide(options: argparse.Namespace) -> int:
    from rounds.shell.guide import guide

    return guide(options)


def _due(options: argparse.Namespace) -> int:
    gc.disable()  # it ends before any garbage matters
    from rounds.shell.due import due

    return due(options)


def _shelves(options: argparse.Namespace) -> int:
    from rounds.shell.shelves import shelves

    return shelves(options)


def _log(options: argparse.Namespace) -> int:
    gc.disable()  # loading and opening a book leave no garbage
    from rounds.shell.log import log

    return log(options)


def _photo(options: argparse.Namespace) -> int:
    from rounds.shell.photo import photo

    return photo(options)


def _begin(options: argparse.Namespace) -> int:
    from rounds.shell.begin import begin

    return begin(options)


def _walk(options: argparse.Namespace) -> int:
    from rounds.shell.round import walk

    return walk(options)


def _sheet(options: argparse.Namespace) -> int:
    from rounds.shell.sheet import sheet

    return sheet(options)


def _export(options: argparse.Namespace) -> int:
    from rounds.shell.export import export

    return export(options)


def _check(options: argparse.Namespace) -> int:
    from rounds.shell.check import check

    return check(options)


def _backup(options: argparse.Namespace) -> int:
    from rounds.shell.backup import backup

    return backup(options)


def _merge(options: argparse.Namespace) -> int:
    from rounds.shell.merge import merge

    return merge(options)


def _temperatures(options: argparse.Namespace) -> int:
    from rounds.shell.temperatures import temperatures

    return temperatures(options)
