"""``rounds check``: go through the whole book and say what was found."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

import msgspec

from rounds.app.clock import system_clock
from rounds.app.startup import local_zone, refuse_no_book
from rounds.bench.plurals import count
from rounds.daybook import Daybook
from rounds.daybook.verify import Finding, VerifyReport, examine
from rounds.shell.open_book import PercentDone, book_of, in_words
from rounds.shell.terminal import read_or_not, refused
from rounds.views.json_out import as_json
from rounds.views.words import literal

ACCEPTED = ("damage", "torn", "two lines under one id")  # where they are of one line
ACCEPTED_OF_ALL = ("newer", "series", "lacking", "empty")
MAX_LINES = 60  # of findings; --json has them all


def check(options: argparse.Namespace) -> int:
    """Print what a book holds and what is wrong with it; status 1 where something is that was not
    taken as it is."""
    read_or_not()
    folder = book_of(options)
    try:
        refuse_no_book(folder)
    except OSError as trouble:
        return refused(in_words(trouble))
    report = _examined(folder)
    if options.json:
        print(as_json("check", {"book": str(folder), **msgspec.to_builtins(report)}))
    else:
        entries = count(report.entries, "entry", "entries")
        print(f"{count(report.files, 'file')}, {count(report.lines, 'line')}, {entries}")
        for one in report.told:
            print(f"  {_line(one)}")
        print("nothing wrong was found" if not report.found else f"{len(report.found):,} found:")
        for one in report.found[:MAX_LINES]:
            print(f"  {_line(one)}")
        if len(report.found) > MAX_LINES:
            print(f"  and {len(report.found) - MAX_LINES:,} more; --json shows them all")
    if options.accept:
        Daybook.open(folder).accept(
            finding.problem
            for finding in (*report.found, *report.told)
            if (finding.sort in ACCEPTED and finding.line) or finding.sort in ACCEPTED_OF_ALL
        )
        print("what is gone or damaged is taken as it is; it is not shown again")
        report = _examined(folder)
    return 1 if report.found else 0


def _examined(folder: Path) -> VerifyReport:
    return examine(
        folder, "", system_clock(), PercentDone("reading the book"), local_zone(os.environ)
    )


def _line(finding: Finding) -> str:
    line = f" line {finding.line}" if finding.line else ""
    place = f"{finding.file}{line}: " if finding.file or line else ""
    return literal(f"{finding.sort}: {place}{finding.text}")
