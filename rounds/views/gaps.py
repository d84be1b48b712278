"""How it is said that a book cannot be read wholly, or not all in it counts yet, before anything that is worked out from it."""

from __future__ import annotations

from collections.abc import Sequence

from rounds.views.words import literal

MOST = 3  # of the gaps are told; 'rounds check' has them all
NOT_WHOLE = "THE BOOK IS NOT WHOLE"


def gap_lines(gaps: Sequence[str]) -> list[str]:
    """What stands before all else; nothing where the book is whole."""
    if not gaps:
        return []
    more = [f"  and {len(gaps) - MOST:,} more"] if len(gaps) > MOST else []
    first = f"{NOT_WHOLE}, and what follows may lack something; 'rounds check' tells more:"
    return [first, *(f"  {literal(one)}" for one in gaps[:MOST]), *more]


def gap_words(gaps: Sequence[str]) -> str:
    """The same in one line; empty where the book is whole."""
    more = f" (and {len(gaps) - 1:,} more, see 'rounds check')" if len(gaps) > 1 else ""
    return f"{NOT_WHOLE}: {literal(gaps[0])}{more}" if gaps else ""
