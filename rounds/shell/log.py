"""``rounds log``: say one thing, or many lines from standard input."""

from __future__ import annotations

import argparse
import os
import sys

from rounds.bench.described import saying
from rounds.desk import Desk, Said
from rounds.shell.opening import book_folder, open_desk
from rounds.views.typed import say_phrase
from rounds.views.words import literal


def log(options: argparse.Namespace) -> int:
    """Say what was typed; status 1 where it was refused or not saved."""
    words = list(options.words)
    desk = open_desk(book_folder(options.book, os.environ), keeper=options.by)
    if words == ["-"]:
        told = [_tell(desk, line.rstrip("\n")) for line in sys.stdin if line.strip() and not line.startswith("#")]
        return 0 if all(told) else 1
    if not words:
        print("rounds: say what happened, as: rounds log L2 drank -20m", file=sys.stderr)
        return 2
    return 0 if _tell(desk, " ".join(_as_typed(word) for word in words)) else 1


def _as_typed(word: str) -> str:
    """A word that the shell had unquoted is quoted again where it has spaces, unless it is all that was said."""
    name, equals, value = word.partition("=")
    if " " in value and equals and name.isidentifier():
        return f'{name}="{value}"'
    return word


def _tell(desk: Desk, text: str) -> bool:
    outcome = say_phrase(desk, text)
    if isinstance(outcome, Said):
        for entry in outcome.entries:
            print(f"{entry.at.astimezone(desk.zone):%a %d %b %H:%M}  {literal(saying(entry, desk.measures))}  {entry.id}")
        return True
    print(f"rounds: {literal(outcome.line)}", file=sys.stderr)
    print(f"typed:  {literal(text)}", file=sys.stderr)
    return False
