"""The table of exports: what each writes, to which kind of file, with which options of its own.

Each is imported only when it is asked for.
"""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO

from rounds.app.desk import Desk
from rounds.bench.plurals import count
from rounds.entries.slots import each, listed
from rounds.exchange.atomic_file import ExportRefused, beside, refuse_place
from rounds.exchange.source import Source

if TYPE_CHECKING:
    from rounds.exchange.document import Document

TypedFields = Callable[[argparse.Namespace], frozenset[str]]
Writer = Callable[[Source, argparse.Namespace, BinaryIO], list[str]]
Option = tuple[str, dict[str, Any]]


def _holds(names: str) -> TypedFields:
    """That a file holds these fields as they were typed, whatever its options."""
    return lambda options: each(names)


@dataclass(frozen=True, slots=True)
class Export:
    """One way out.

    Args:
        endings: the file names that it writes to.
        options: its own, each by its flag.
        write: writes to an open file and tells what it wrote, a line each; raises Refused where it
            cannot.
        about: what is named before the file: its heading in the help, and a word on it; empty where
            nothing is.
        places: whether it tells where animals were caught, so that exact places may be asked for.
        typed: the fields that it holds as they were typed, by its options.
        whose: of which broods or founders alone it tells, by its options; of all where none.
    """

    name: str
    help: str
    endings: tuple[str, ...]
    write: Writer
    options: tuple[Option, ...] = ()
    places: bool = False
    about: tuple[str, str] = ("", "")
    typed: TypedFields = lambda options: frozenset()
    whose: Callable[[argparse.Namespace], Sequence[str]] = lambda options: ()

    def add_options(self, parser: argparse.ArgumentParser) -> None:
        """Let a parser take its own options."""
        for flag, how in self.options:
            parser.add_argument(flag, **how)


def ending_of(export: Export, path: Path) -> str:
    """The ending of the file name.

    Raises:
        Refused: the export does not write such a file.
    """
    ending = path.suffix.casefold()
    if ending not in export.endings:
        raise ExportRefused(
            f"{path.name} does not end in {' or '.join(export.endings)}; give such a name"
        )
    return ending


MAX_AHEAD = timedelta(days=366)  # of a calendar: each of its rounds is written out
TABLE_NAMES = listed(
    "founders broods events stock life-table durations thresholds specimens masses laying "
    "laying-days searches kept-stems entries fields warmth permits dictionary"
)


def _ending(options: argparse.Namespace) -> str:
    return Path(options.file).suffix.casefold()


def _tables_of(options: argparse.Namespace) -> tuple[str, ...]:
    usual = TABLE_NAMES if _ending(options) == ".zip" else ("entries",)
    return (options.table,) if options.table else usual


def _csv_typed(options: argparse.Namespace) -> frozenset[str]:
    from rounds.exchange.tables.tables import TABLES

    return frozenset().union(*(TABLES[name].typed for name in _tables_of(options)))


def _span(text: str) -> timedelta:
    match = re.fullmatch(r"(\d{1,4})([dh])", text.strip().casefold())
    if not match:
        raise ExportRefused(f"--within is '{text}'; it must be as 7d or 36h")
    span = timedelta(days=int(match[1])) if match[2] == "d" else timedelta(hours=int(match[1]))
    if span > MAX_AHEAD:
        raise ExportRefused(f"--within is '{text}'; it can be {MAX_AHEAD.days}d at most")
    return span


def _size(text: str) -> tuple[int, int]:
    match = re.fullmatch(r"(\d{2,3})x(\d{2,3})", text.strip().casefold())
    if not match or int(match[2]) < 15 or int(match[1]) < 1.5 * int(match[2]):
        raise ExportRefused(
            f"--size is '{text}'; it must be width by height in mm, as 50x25, at least 15 high and"
            " half as wide again"
        )
    return int(match[1]), int(match[2])


def _writer(place: str, *options_of: str, **given: Callable[[argparse.Namespace], Any]) -> Writer:
    """What writes an export: a function by its module, loaded when it is asked for, and what it is
    given of the options, some as they are; a document that comes of it is written as its file's
    ending says."""
    module, _, name = place.partition(":")

    def write(source: Source, options: argparse.Namespace, out: BinaryIO) -> list[str]:
        call = getattr(import_module(f"rounds.exchange.{module}"), name)
        said = {name: getattr(options, name) for name in options_of}
        said |= {argument: of(options) for argument, of in given.items()}
        if name.startswith("write_"):
            texts: list[str] = call(source=source, out=out, **said)
            return texts
        form = "document_markdown" if _ending(options) == ".md" else "document_html"
        made = getattr(import_module(f"rounds.exchange.{form}"), form)
        document: Document = call(source=source, **said)
        out.write(made(document))
        return [f"{document.title}: {count(len(document.sections), 'section')}"]

    return write


def _option(flag: str, **how: Any) -> Option:
    return flag, how


_FOR = {"dest": "codes", "nargs": "+", "default": [], "metavar": "CODE"}
_WILD_ONLY = _option(
    "--wild-only", action="store_true", help="only animals as they were found in the wild"
)
_OF_ARCHIVE = _holds(
    "origin depository where place collector voucher body value found_on plant determiner source"
)
EXPORTS: dict[str, Export] = {
    export.name: export
    for export in (
        Export(
            "dwca",
            "a Darwin Core Archive for recording schemes and museums",
            (".zip",),
            _writer("archive.archive:write_archive", "wild_only"),
            (_WILD_ONLY,),
            places=True,
            typed=_OF_ARCHIVE,
        ),
        Export(
            "occurrences",
            "the occurrences of the archive as one flat table, for schemes that take no archives",
            (".csv",),
            _writer("archive.archive:write_occurrences", "wild_only"),
            (_WILD_ONLY,),
            places=True,
            typed=_OF_ARCHIVE,
        ),
        Export(
            "ics",
            "a calendar of rounds, checks and deadlines",
            (".ics",),
            _writer("calendar:write_calendar", within=lambda options: _span(options.within)),
            (_option("--within", default="7d", help="how far ahead, as 7d or 36h"),),
            typed=_holds("why body value shelf plant"),
        ),
        Export(
            "csv",
            "tables for a spreadsheet",
            (".csv", ".zip"),
            _writer(
                "tables.tables:write_tables",
                names=_tables_of,
                together=lambda options: _ending(options) == ".zip",
            ),
            (
                _option(
                    "--table",
                    choices=TABLE_NAMES,
                    type=str.casefold,
                    metavar="NAME",
                    help=f"which table: {', '.join(TABLE_NAMES)}; all of them where FILE ends in"
                    " .zip",
                ),
            ),
            places=True,
            typed=_csv_typed,
        ),
        Export(
            "labels",
            "labels for containers, with a square that a phone reads",
            (".html",),
            _writer("labels:write_labels", "codes", size=lambda options: _size(options.size)),
            (
                _option("--for", **_FOR, help="only these containers"),
                _option("--size", default="50x25", help="of one label in mm, as 50x25"),
            ),
            typed=_holds("shelf plant"),
        ),
        Export(
            "note",
            "the life history of a brood, as a page with plots or as Markdown",
            (".html", ".md"),
            _writer("note:note", code=lambda options: options.about),
            places=True,
            about=("BROOD", "code of the brood"),
            typed=_holds(
                "origin depository file place lid collector voucher holder body found_on plant"
                " source shelf determiner lining value"
            ),
            whose=lambda options: [options.about],
        ),
        Export(
            "plot",
            "a plot of a brood or species as a picture; all of them in a .zip",
            (".svg", ".png", ".zip"),
            _writer(
                "plots:write_plots",
                "about",
                name=lambda options: options.plot,
                ending=_ending,
            ),
            (
                _option(
                    "--plot",
                    default="survival",
                    metavar="NAME",
                    help="survival, development-egg ..., of a species females and laying; .zip"
                    " takes all",
                ),
            ),
            about=("BROOD", "code of the brood, or name of the species"),
            typed=_holds("plant"),
        ),
        Export(
            "season",
            "a summary of the season, as a page with plots or as Markdown",
            (".html", ".md"),
            _writer("season:season"),
            typed=_holds("depository plant value found_on place collector permit"),
        ),
        Export(
            "permit",
            "a return for a permit: what was taken, released, kept",
            (".html", ".md"),
            _writer("permit_return:permit_return", typed=lambda options: options.about),
            places=True,
            about=("NUMBER", "number of the permit"),
            typed=_holds("place collector voucher depository holder body found_on value"),
        ),
        Export(
            "pins",
            "labels for the pins of specimens kept",
            (".html",),
            _writer("pins:write_pins", "codes"),
            (_option("--for", **_FOR, help="only these broods or founders"),),
            places=True,
            typed=_holds("origin place collector voucher depository determiner found_on plant"),
            whose=lambda options: options.codes,
        ),
    )
}


def write_export(desk: Desk, name: str, path: Path, options: Mapping[str, Any]) -> list[str]:
    """Write an export of a book to a file; what was written comes back, a line each.

    Args:
        options: those of the export by name, besides ``about``, ``replace`` and ``exact``; what is
            not given is as usual.

    Raises:
        Refused: in one line, why not.
        OSError: it cannot be written; what was there before is whole.
    """
    chosen = EXPORTS.get(name)
    if chosen is None:
        raise ExportRefused(f"'{name}' is no export; there are {', '.join(EXPORTS)}")
    parser = argparse.ArgumentParser(add_help=False)
    chosen.add_options(parser)
    usual = {"about": "", "replace": False, "exact": False, **vars(parser.parse_args([]))}
    unknown = [option for option in options if option not in usual]
    if unknown:
        raise ExportRefused(f"'{name}' takes no {unknown[0]}; it takes {', '.join(usual)}")
    chosen_options = argparse.Namespace(file=str(path), **{**usual, **options})
    ending_of(chosen, path)
    refuse_place(path, desk.book.folder, replace=chosen_options.replace)
    source = Source(desk, exact=bool(chosen.places and chosen_options.exact))
    return put(chosen, source, chosen_options, path)


def put(chosen: Export, source: Source, options: argparse.Namespace, path: Path) -> list[str]:
    """Write an export to its place; what was written comes back, and what to know before it is
    passed on, a line each.

    Raises:
        Refused: in one line, why not.
        OSError: it cannot be written; what was there before is whole.
    """
    with beside(path, replace=options.replace) as file:
        texts = chosen.write(source, options, file)
    return told(chosen, source, options, texts)


def told(
    chosen: Export, source: Source, options: argparse.Namespace, texts: list[str]
) -> list[str]:
    """What was written, and what to know before it is passed on, a line each."""
    from rounds.exchange.free_text import CODES, OF_PERMITS, initials_warnings, warnings
    from rounds.exchange.pictures import left_warnings
    from rounds.exchange.place_warnings import place_warnings

    typed = chosen.typed(options)
    places = place_warnings(source) if chosen.places else []
    names = initials_warnings(source) if "collector" in typed else []
    texts = [*texts, *left_warnings(source)]
    # who asks for the return of a permit has named it
    codes = CODES if chosen.name == "permit" else CODES | OF_PERMITS
    return [*texts, *places, *names, *warnings(source, typed, chosen.whose(options), codes)]
