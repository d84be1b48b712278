"""``rounds export``: the record leaves the bench, as one file that is put in place when it is whole."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from rounds.exchange.exports import EXPORTS, Export, ending_of
from rounds.exchange.source import Source, telling
from rounds.exchange.writing import Refused, beside, refuse_place
from rounds.shell.opening import book_folder, open_desk, tell_gaps
from rounds.views.words import count, literal

MOST_NAMES = 6


def export_parsers(parser: argparse.ArgumentParser, common: argparse.ArgumentParser) -> None:
    """Add a command for each export."""
    commands = parser.add_subparsers(metavar="what", required=True)
    for one in EXPORTS.values():
        command = commands.add_parser(one.name, parents=[common], help=one.help, description=one.help)
        if one.about[0]:
            command.add_argument("about", metavar=one.about[0], help=one.about[1])
        command.add_argument("file", metavar="FILE", help=f"the file to write, ending in {' or '.join(one.endings)}")
        command.add_argument("--replace", action="store_true", help="take the place of a file that is there")
        if one.places:
            command.add_argument("--exact-localities", action="store_true", help="exact places of protected taxa too; asks first")
            command.add_argument("--yes", action="store_true", help="the answer to that question, where nobody is there to ask")
        one.options(command)
        command.set_defaults(export_name=one.name)


def export(options: argparse.Namespace) -> int:
    """Write the file; 1 where it was refused."""
    chosen = EXPORTS[options.export_name]
    try:
        told = write(chosen, options)
    except Refused as refused:
        print(f"rounds: {literal(str(refused))}", file=sys.stderr)
        return 1
    for line in told:
        print(literal(line))
    return 0


def write(chosen: Export, options: argparse.Namespace) -> list[str]:
    """Write the export; what was written is told.

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
    tell_gaps(desk)
    source = Source(desk, exact=exact, progress=telling(sys.stderr))
    with beside(path, replace=options.replace) as file:
        told = chosen.write(source, options, file)
    return [*told, *_warnings(chosen, options, source), f"written to {path}"]


def _warnings(chosen: Export, options: argparse.Namespace, source: Source) -> list[str]:
    """What the keeper should know of places and of free text before the file is passed on."""
    from rounds.exchange.free_text import warnings

    told = []
    unnamed = source.guard.unnamed() if chosen.places else []
    if unnamed:
        names = ", ".join(f"'{name}'" if name else "no species said" for name in unnamed[:MOST_NAMES])
        more = f" and {len(unnamed) - MOST_NAMES} more" if len(unnamed) > MOST_NAMES else ""
        told.append(f"treated as protected, for it is none of your taxa: {names}{more}; as: taxon '{unnamed[0] or 'NAME'}'")
    told += [f"look: {literal(name)} was said to be protected once, and is not now" for name in _once_protected(chosen, source)]
    elsewhere = source.guard.told_elsewhere() if chosen.places else 0
    if elsewhere:
        told.append(f"look: {count(elsewhere, 'withheld place')} can be known from other taxa caught there, told exactly")
    return [*told, *warnings(source, chosen.typed(options))]


def _once_protected(chosen: Export, source: Source) -> list[str]:
    """Taxa that a line of the book says are protected, and a later one does not."""
    from rounds.bench.kinds import Taxon

    said = (entry.name for entry in source.counting if isinstance(entry, Taxon) and entry.protected) if chosen.places else ()
    return [name for name in dict.fromkeys(said) if not source.bench.taxa[name].protected]


def _is_meant(options: argparse.Namespace) -> bool:
    """Whether exact places of protected taxa are really to be told.

    Raises:
        Refused: the keeper did not say yes, or nobody is there to ask.
    """
    if options.yes:
        return True
    if not sys.stdin.isatty():
        raise Refused("--exact-localities tells exact places of protected taxa; add --yes where that is meant")
    print("This tells exact places of protected taxa to whoever gets the file.", file=sys.stderr)
    print("Type yes to go on: ", end="", file=sys.stderr, flush=True)
    if sys.stdin.readline().strip().casefold() != "yes":
        raise Refused("not written; without --exact-localities the places are generalised")
    return True
