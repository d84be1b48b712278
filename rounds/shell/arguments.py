"""The arguments of ``rounds ...`` as ``argparse`` reads them: help, and what is wrong with them."""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from typing import Any

from rounds.shell.commands import COMMANDS, OF_NO_BOOK, doing, open_bench

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


def parser_of(arguments: Sequence[str]) -> argparse.ArgumentParser:
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
    parser.set_defaults(do=open_bench)
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
    parents = [] if name in OF_NO_BOOK else [common]
    parser = commands.add_parser(name, parents=parents, help=about, formatter_class=_HelpFormatter)
    for row in arguments:
        _add_argument(parser, name, *row)
    if name in _ADDS and is_named:  # known to what does it, which is only loaded for it
        _ADDS[name](parser, common)
    parser.set_defaults(do=doing(name, *does) if does else open_bench)


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


def _order_named(text: str) -> str:
    from rounds.exchange.tables_in.dates import order_named

    return order_named(text)


def _export_parsers(parser: argparse.ArgumentParser, common: argparse.ArgumentParser) -> None:
    from rounds.shell.export import export_parsers

    export_parsers(parser, common)


def _list_fields(parser: argparse.ArgumentParser, common: argparse.ArgumentParser) -> None:
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
