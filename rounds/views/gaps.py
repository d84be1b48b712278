"""How it is said that a book cannot be read wholly, or not all in it counts yet, before anything
that is worked out from it."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from rounds.bench.old_records import rival_words
from rounds.bench.said_apart import met_apart
from rounds.bench.state import Bench, Oddity
from rounds.views.words import literal

MOST = 3  # of the gaps are told; 'rounds check' has them all
LEAST_WIDTH = 24  # of a screen on which it is said
APART = "TWO laptops apart said "
NOT_WHOLE = "THE BOOK IS NOT WHOLE"


def gap_lines(gaps: Sequence[str]) -> list[str]:
    """What stands before all else; nothing where the book is whole."""
    if not gaps:
        return []
    more = [f"  and {len(gaps) - MOST:,} more"] if len(gaps) > MOST else []
    first = f"{NOT_WHOLE}, and what follows may lack something; 'rounds check' shows more:"
    return [first, *(f"  {literal(one)}" for one in gaps[:MOST]), *more]


def gap_words(gaps: Sequence[str], width: int = 80, lines: int = 2) -> str:
    """The same in so many short lines; empty where the book is whole.

    What has no room ends with a sign that says so.
    """
    if not gaps:
        return ""
    number = f"{len(gaps):,} things, as " if len(gaps) > 1 else ""
    text = f"{NOT_WHOLE}, rounds check: {number}{literal(gaps[0])}"
    return in_lines(text, width, lines)


def in_lines(told: str, width: int, lines: int) -> str:
    """A text in so many lines at most, each so wide.

    Without room for all its last clauses are left out; a sign at its end says so.
    """
    width = max(LEAST_WIDTH, width)
    clauses = told.split("; ")
    for number in range(len(clauses), 0, -1):
        cut = " …" if number < len(clauses) else ""
        wrapped = textwrap.wrap("; ".join(clauses[:number]) + cut, width)
        if len(wrapped) <= lines:
            return "\n".join(wrapped)
    return "\n".join(textwrap.wrap(told, width, max_lines=lines, placeholder=" …"))


def unsaved_words(is_kept: bool) -> str:
    """What becomes of lines that could not be saved."""
    if is_kept:
        return "kept on this machine and tried again"
    return "kept nowhere but on this screen, and tried again"


def misfit_words(bench: Bench) -> str:
    """What does not fit together, in one line; empty where all does: a table of which several
    versions came in, what two laptops apart said otherwise, lines that do not fit what came before.

    Of several the first is told, and how many more there are.
    """
    told = [
        *rival_words(bench.imports),
        *(one.replace("two", "TWO", 1) for _, one in met_apart(bench)),
    ]
    misfits = [one for one in bench.misfits if not one.lacks]  # these are told as a gap
    if not told:
        return _unfit_words(misfits) if misfits else ""
    more = len(told) - 1 + len(misfits)
    first, stop, rest = told[0].partition("; ")
    also = f" (and {more:,} more: rounds check)" if more else ""
    if more and first.startswith(APART):
        # what to do stands first, for only so much has room on a small screen
        said, (say, *until) = first.removeprefix(APART), rest.split("; ")
        first, rest = f"{APART}two things", "; ".join((say, said, *until))
    return literal(f"{first}{also}{stop}{rest}")


def _unfit_words(misfits: Sequence[Oddity]) -> str:
    counted = "1 LINE DOES" if len(misfits) == 1 else f"{len(misfits):,} LINES DO"
    more = f" (and {len(misfits) - 1:,} more)" if len(misfits) > 1 else ""
    it, rests, counts = (
        ("it", "it rests", "it counts as far as it fits")
        if len(misfits) == 1
        else ("them", "they rest", "they count as far as they fit")
    )
    return (
        f"{counted} NOT FIT: {literal(misfits[0].words)}{more}; {counts}; the daybook marks {it}:"
        f" cross {it} out and say what was so, or bring back what {rests} on"
    )
