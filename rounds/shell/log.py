"""``rounds log``: record one line, or many lines from standard input."""

from __future__ import annotations

import gc
import sys
from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING

from rounds import late
from rounds.app.desk import Desk, Recorded
from rounds.app.prompt_line import read_typed, say_phrase
from rounds.entries.phrase.reader import Draft
from rounds.entries.phrase.times import read_time
from rounds.entries.validation import advice
from rounds.shell.open_book import book_of, desk_of, tell_gaps
from rounds.shell.terminal import piped, refused, warn
from rounds.views.cautions import cautions_before
from rounds.views.words import day_and_time, literal

if TYPE_CHECKING:
    import argparse

_OPTION = late.pattern(r"--(book|by)(=|$)")


def log(options: argparse.Namespace) -> int:
    """Say what was typed; status 1 where it was refused or not saved."""
    words = options.words[1:] if options.words[:1] == ["--"] else list(options.words)
    said = words[: words.index("--")] if "--" in words else words
    misplaced = next((word for word in said if _OPTION.match(word)), None)
    if misplaced:
        name = misplaced.partition("=")[0]
        return refused(
            f"{name} goes before what happened, as: rounds log {name} ... L2 drank -20m", 2
        )
    if not words:
        return refused("say what happened, as: rounds log L2 drank -20m", 2)
    folder = book_of(options)
    is_new = not folder.is_dir()
    desk = desk_of(options, looks_back=False, tells_checks=False)
    gc.enable()  # any number of lines may follow
    tell_gaps(desk)
    if desk.clock.other_zone:
        warn(desk.clock.other_zone)
    refusals, told = 0, set[str]()
    said_before = {desk.reading.brought_back, desk.book.cannot_remember}
    for line in _lines(desk, words):
        is_recorded = _tell(desk, line, told)
        if is_new and is_recorded:  # a book whose every line was refused has not begun
            warn(f"a new book begins in {folder}")
            is_new = False
        refusals += not is_recorded
        # others took lines out meanwhile, or this machine's disk is full
        for one in filter(None, (desk.reading.brought_back, desk.book.cannot_remember)):
            if one not in said_before:
                warn(one)
            said_before.add(one)
    return 1 if refusals else 0


def _lines(desk: Desk, words: list[str]) -> Iterator[str]:
    """The line that was typed, or each of those that are piped in."""
    if words != ["-"]:
        yield _line_of(desk, words)
        return
    for line in piped():
        if line.strip() and not line.lstrip().startswith("#"):
            yield line


def _line_of(desk: Desk, words: list[str]) -> str:
    """The line that a shell had cut into words: those that it had unquoted are quoted again where
    that reads as a line."""
    end = words.index("--") if "--" in words else len(words)
    quoted = [one if _is_time(desk, one) else _as_typed(one) for one in words[:end]]
    is_as_typed = quoted == words[:end]
    line = " ".join([*quoted, *words[end:]])
    if len(words) > 1 and not is_as_typed and isinstance(read_typed(desk, line), Draft):
        return line
    return " ".join(words)


def _is_time(desk: Desk, word: str) -> bool:
    """Whether words that the shell held together are a time, which is part of no name."""
    is_several = " " in word
    return is_several and isinstance(read_time(word, now=desk.now(), zone=desk.zone), datetime)


def _as_typed(word: str) -> str:
    """A word with spaces in single quotes: they hold it together, and do not say that a name is
    meant as it is written."""
    name, equals, value = word.partition("=")
    named = equals and name.isidentifier()
    text = value if named else word
    if " " not in text or "'" in text or text[:1] == text[-1:] == '"':
        return word
    return f"{name}='{value}'" if named else f"'{word}'"


def _tell(desk: Desk, text: str, told: set[str]) -> bool:
    """Say one line; it is acknowledged when it is on disk, and what is told as not saved is not
    saved later either.

    Args:
        told: cautions that this command has shown, each of which is shown once.
    """
    outcome = say_phrase(desk, text)
    if isinstance(outcome, Recorded):
        for entry in outcome.entries:
            _print_saved(
                f"{day_and_time(entry.at, desk.zone, year=True)}  {literal(desk.told([entry]))} "
                f" {entry.id}"
            )
        if advised := advice(outcome.entries, desk.bench):
            warn(advised)
        for caution in cautions_before(outcome.entries, desk.bench, None):
            if caution not in told:
                warn(caution)
            told.add(caution)
        return True
    desk.unsaved.give_up()
    warn(outcome.line)
    print(f"typed:  {literal(text)}", file=sys.stderr, flush=True)
    return False


def _print_saved(line: str) -> None:
    """Acknowledge what is on disk.

    Raises:
        OSError: the line cannot be written; that it is saved all the same is said in its words.
    """
    try:
        print(line, flush=True)
    except BrokenPipeError:
        raise
    except OSError as trouble:
        saved = f"{trouble.strerror or trouble}; the entry IS saved, do not say it again ({line})"
        raise OSError(trouble.errno, saved) from None
