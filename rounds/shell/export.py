"""``rounds export``: the record leaves the bench, as one file that is put in place when it is
whole."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from rounds.app.startup import book_folder
from rounds.exchange.atomic_file import ExportRefused, refuse_place
from rounds.exchange.exports import EXPORTS, Export, ending_of, put
from rounds.exchange.source import Source, telling
from rounds.shell.open_book import open_desk, tell_gaps
from rounds.views.words import literal


def export_parsers(parser: argparse.ArgumentParser, common: argparse.ArgumentParser) -> None:
    """Add a command for each export."""
    commands = parser.add_subparsers(metavar="what", required=True)
    for one in EXPORTS.values():
        command = commands.add_parser(
            one.name, parents=[common], help=one.help, description=one.help
        )
        if one.about[0]:
            command.add_argument("about", metavar=one.about[0], help=one.about[1])
        command.add_argument(
            "file", metavar="FILE", help=f"the file to write, ending in {' or '.join(one.endings)}"
        )
        command.add_argument(
            "--replace", action="store_true", help="take the place of a file that is there"
        )
        if one.places:
            command.add_argument(
                "--exact-localities",
                action="store_true",
                help="exact places of protected taxa too; asks first",
            )
            command.add_argument(
                "--yes",
                action="store_true",
                help="the answer to that question, where nobody is there to ask",
            )
        one.options(command)
        command.set_defaults(export_name=one.name)


def export(options: argparse.Namespace) -> int:
    """Write the file; 1 where it was refused, 2 where the book cannot be read wholly."""
    chosen = EXPORTS[options.export_name]
    try:
        texts, is_whole = write(chosen, options)
    except ExportRefused as refused:
        print(f"rounds: {literal(str(refused))}", file=sys.stderr)
        return 1
    for line in texts:
        print(literal(line))
    return 0 if is_whole else 2


def write(chosen: Export, options: argparse.Namespace) -> tuple[list[str], bool]:
    """Write the export; what was written is told, and whether the book could be read wholly.

    Raises:
        Refused: in one line, why not.
        OSError: it cannot be written; what was there before is whole.
    """
    path = Path(options.file).expanduser()
    book = book_folder(options.book, os.environ)
    ending_of(chosen, path)
    refuse_place(path, book, replace=options.replace)
    exact = bool(chosen.places and options.exact_localities and _is_meant(options))
    desk = open_desk(book, keeper=options.by, may_begin=False)
    is_whole = not tell_gaps(desk)
    source = Source(desk, exact=exact, progress=telling(sys.stderr))
    return [*put(chosen, source, options, path), f"written to {path}"], is_whole


def _is_meant(options: argparse.Namespace) -> bool:
    """Whether exact places of protected taxa are really to be told.

    Raises:
        Refused: the keeper did not say yes, or nobody is there to ask.
    """
    if options.yes:
        return True
    if not sys.stdin.isatty():
        raise ExportRefused(
            "--exact-localities tells exact places of protected taxa; add --yes where that is meant"
        )
    print("This tells exact places of protected taxa to whoever gets the file.", file=sys.stderr)
    print("Type yes to go on: ", end="", file=sys.stderr, flush=True)
    if sys.stdin.readline().strip().casefold() != "yes":
        raise ExportRefused("not written; without --exact-localities the places are generalised")
    return True
