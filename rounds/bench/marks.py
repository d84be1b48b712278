"""Marks by which animals are known, where two laptops apart gave one to two of them."""

from __future__ import annotations

from collections.abc import Iterator

from rounds.bench.state import Bench


def marks_given_twice(bench: Bench) -> Iterator[str]:
    """Each mark that several of those who stand here bear, in words."""
    for mark in dict.fromkeys(mark.casefold() for mark in bench.marks.values()):
        bearers = bench.bearers(mark)
        if len(bearers) > 1:
            last = bearers[-1]
            where = next(
                one.code for one in bench.standing() if any(last in lot.codes for lot in one.lots)
            )
            yield (
                f"{'two' if len(bearers) == 2 else len(bearers)} animals have the mark {mark}:"
                f" {' and '.join(bearers)}; give one of them another, as: {where} marked {last}"
                " blue"
            )
