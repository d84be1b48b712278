"""``rounds export``: the record leaves the bench, as one file that is put in place when it is
whole."""

from __future__ import annotations

import argparse
import sys
import tempfile
from pathlib import Path
from typing import BinaryIO, cast

from rounds.exchange.atomic_file import ExportRefused, refuse_place
from rounds.exchange.exports import EXPORTS, Export, ending_of, put, told
from rounds.exchange.source import Source, telling
from rounds.shell.open_book import STANDARD_OUTPUT, book_of, desk_of, tell_gaps
from rounds.shell.terminal import give, read_or_not, refused
from rounds.views.words import literal

BINARY = (".zip", ".png")


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
            "file",
            metavar="FILE",
            help=f"the file to write, ending in {' or '.join(one.endings)}; - to standard output",
        )
        command.add_argument(
            "--as",
            dest="ending",
            default="",
            metavar="KIND",
            help=f"for standard output: {', '.join(one.endings)}; the first if not given",
        )
        command.add_argument(
            "--replace", action="store_true", help="take the place of a file that is there"
        )
        if one.places:
            for name, about in (
                ("--exact-localities", "exact places of protected taxa too; asks first"),
                ("--yes", "the answer to that question, if nobody is there to ask"),
            ):
                command.add_argument(name, action="store_true", help=about)
        one.add_options(command)
        command.set_defaults(export_name=one.name)


def export(options: argparse.Namespace) -> int:
    """Write the file; 1 where it was refused, 2 where the book cannot be read wholly."""
    read_or_not()
    chosen = EXPORTS[options.export_name]
    try:
        texts, is_whole = write(chosen, options)
    except ExportRefused as trouble:
        return refused(str(trouble))
    for line in texts:
        print(literal(line), file=sys.stderr if options.file == STANDARD_OUTPUT else sys.stdout)
    return 0 if is_whole else 2


def write(chosen: Export, options: argparse.Namespace) -> tuple[list[str], bool]:
    """Write the export; what was written is told, and whether the book could be read wholly.

    Raises:
        Refused: in one line, why not.
        OSError: it cannot be written; what was there before is whole.
    """
    if options.file == STANDARD_OUTPUT:
        return _to_standard_output(chosen, options)
    path = Path(options.file).expanduser()
    ending_of(chosen, path)
    refuse_place(path, book_of(options), replace=options.replace)
    source, is_whole = _source(chosen, options)
    return [*put(chosen, source, options, path), f"written to {path}"], is_whole


def _source(chosen: Export, options: argparse.Namespace) -> tuple[Source, bool]:
    """What it is written from, and whether the book could be read wholly."""
    exact = bool(chosen.places and options.exact_localities and _is_meant(options))
    desk = desk_of(options, may_begin=False)
    is_whole = not tell_gaps(desk)
    return Source(desk, exact=exact, progress=telling(sys.stderr)), is_whole


def _to_standard_output(chosen: Export, options: argparse.Namespace) -> tuple[list[str], bool]:
    """Write it there once it is whole, as the kind of file that ``--as`` names, else the first."""
    ending = f".{(options.ending or chosen.endings[0]).casefold().lstrip('.')}"
    named = argparse.Namespace(**{**vars(options), "file": f"{chosen.name}{ending}"})
    ending_of(chosen, Path(named.file))
    if ending in BINARY and sys.stdout.isatty():
        raise ExportRefused(f"{ending} is nothing for a terminal; give a file, or pipe it on")
    source, is_whole = _source(chosen, options)
    with tempfile.SpooledTemporaryFile(max_size=8_000_000) as file:
        texts = chosen.write(source, named, cast("BinaryIO", file))
        file.seek(0)
        give(file)
    return told(chosen, source, named, texts), is_whole


def _is_meant(options: argparse.Namespace) -> bool:
    """Whether exact places of protected taxa are really to be told.

    Raises:
        Refused: the keeper did not say yes, or nobody is there to ask.
    """
    if options.yes:
        return True
    if not sys.stdin.isatty():
        raise ExportRefused(
            "--exact-localities shows exact places of protected taxa; add --yes if that is meant"
        )
    print("This shows exact places of protected taxa to whoever gets the file.", file=sys.stderr)
    print("Type yes to go on: ", end="", file=sys.stderr, flush=True)
    if sys.stdin.readline().strip().casefold() != "yes":
        raise ExportRefused("not written; without --exact-localities the places are generalised")
    return True
