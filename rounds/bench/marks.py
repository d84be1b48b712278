"""Marks by which animals are known, where two laptops apart gave one to two of them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from rounds import late
from rounds.bench.state import Bench

_WORD = late.pattern(r"[^\s,;:]+")


def marks_given_twice(bench: Bench) -> Iterator[str]:
    """Each mark that several of those who stand here bear, in words."""
    for mark, bearers in _shared(bench):
        last = bearers[-1]
        where = next(
            one.code for one in bench.standing() if any(last in lot.codes for lot in one.lots)
        )
        yield (
            f"{'two' if len(bearers) == 2 else len(bearers)} animals have the mark {mark}:"
            f" {' and '.join(bearers)}; give one of them another, as: {where} marked {last} blue"
        )


def which_of_that_mark(bench: Bench, text: str) -> str:
    """What is asked where a line names by its mark one of several that bear it; else empty."""
    said = [word.casefold() for word in _WORD.findall(text.partition(" -- ")[0])]
    if "marked" in said:
        return ""
    for mark, bearers in _shared(bench):
        if mark in said and not {code.casefold() for code in bearers} & set(said):
            lines = (re.sub(rf"(?i)\b{re.escape(mark)}\b", code, text, count=1) for code in bearers)
            return f"{mark} is the mark of {' and '.join(bearers)}; which? As: {' or '.join(lines)}"
    return ""


def _shared(bench: Bench) -> Iterator[tuple[str, list[str]]]:
    """Each mark that several bear, in small letters, and who they are."""
    given = Counter(own.casefold() for own in bench.marks.values())
    for mark, times in given.items():
        bearers = bench.bearers(mark) if times > 1 else []
        if len(bearers) > 1:
            yield mark, bearers
