"""Containers that some come into and that do not stand yet: ``to new R9``, ``into new C2-C31``,
``kept in new K4``."""

from __future__ import annotations

import re

from msgspec.structs import replace

from rounds.bench.codes import MAX_AT_ONCE, like_codes
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.times import UnclearTime
from rounds.entries.phrase.vocabulary import INTO

_KEPT = frozenset({"kept", "held", "old", "stems", "put"})
_EXAMPLE = 5  # animals in a line that shows how it is said


def read_new_cups(reader: Reader) -> None:
    """Read ``R3 moved 5 to new R8`` as ``R3 moved 5 to R8``, where R8 is to be set up before; any
    other line stays as it is.

    Raises:
        PhraseProblem: no code stands behind ``new``.
    """
    words = reader.words
    for place in range(len(words) - 2, -1, -1):
        into, new = words[place], words[place + 1]
        if into.quoted or new.quoted or new.lower != "new":
            continue
        is_kept = into.lower == "in" and place and words[place - 1].lower in _KEPT
        if into.lower not in INTO and not is_kept:
            continue
        cup = words[place + 2] if place + 2 < len(words) else None
        if cup is None:
            here = words[0].text if like_codes(words[0].text) else "R3"
            container = reader.bench.at(reader.codes.get(here.casefold(), ""))
            there = sum(lot.number for lot in container.lots) if container else _EXAMPLE
            free = reader.bench.free_code("R")
            line = f"{here} moved {min(there, _EXAMPLE)} to new {free}"
            if 1 < there < MAX_AT_ONCE:
                line += f", or {here} split 1 each into new C2-C{there + 1}"
            raise PhraseProblem(f"into which new containers? As: {line}", into)
        is_code = like_codes(cup.text.rstrip(",")) or any(map(str.isdigit, cup.text))
        if cup.quoted or not is_code:
            continue
        reader.new = (*reader.names_in(cup), *reader.new)
        reader.codes |= {code.casefold(): code for code in reader.new}
        del words[place + 1]


def with_new(reader: Reader, unclear: UnclearTime) -> UnclearTime:
    """What is not clear of a line, its suggestions with the ``new`` that was typed before a code:
    without it they would name a container that does not stand."""
    said = unclear.message
    for code in (one for one in reader.new if f"{one} set up" not in said):
        said = re.sub(rf"\b(to|into|in) (?={re.escape(code)}\b)", r"\1 new ", said)
    return replace(unclear, message=said)
